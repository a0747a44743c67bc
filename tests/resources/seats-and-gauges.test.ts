import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, featureBody, gaugeBody, partBody } from "../support/shop.js";

const { api } = await createTestApp();

let parts = 0;

/** Three seats with a work offset each, of which the third stands apart: example J of the project's method note. */
async function seated() {
  const shop = await runningBatch(api);
  const offsets: { register_id: string }[] = [];
  for (const seat of ["A", "B", "C"]) {
    const path = `/v1/machines/${shop.machine.machine_id}/registers`;
    const body = {
      number: 54 + offsets.length,
      label: `G${54 + offsets.length} X`,
      controls: "work_x",
      seat,
    };
    offsets.push(await create(api, path, body));
  }
  const feature = featureBody({
    gauge_id: shop.gauge.gauge_id,
    operation: undefined,
    kind: "external",
    nominal: "25",
    lower_deviation: -0.03,
    upper_deviation: 0.03,
    cut_by: [
      { register_id: shop.registers.radial, walls: 1 },
      ...offsets.map(({ register_id }) => ({ register_id, plus_makes: "bigger" })),
    ],
  });
  const part = await create(api, "/v1/parts", partBody([feature], { number: `seated-${++parts}` }));
  const batch = await create(api, "/v1/batches", {
    name: `${part.number}-1`,
    part_id: part.part_id,
    machine_id: shop.machine.machine_id,
    seats: ["A", "B", "C"],
  });
  const { feature_id } = part.features[0];
  const ids = { batch_id: batch.batch_id, feature_id };
  const read = (piece: number, value: number) => shop.read(piece, value, ids);
  const plan = async (piece: number) =>
    (await api.get(`/v1/batches/${batch.batch_id}/checks?piece=${piece}`)).body;
  return { ...shop, offsets, batch, part, read, plan };
}

describe("POST /v1/readings of a batch whose seats stand apart", () => {
  it("measures every seat once, then corrects the seat's work offset and the tool (the project's method note, 9.9 J)", async () => {
    const { read, plan, offsets, registers } = await seated();
    await read(1, 25.01);
    await read(2, 25.012);
    expect(await plan(3)).toMatchObject({ seat: "C", features: [{ characteristic: expect.anything() }] });

    const { corrections, next } = await read(3, 25.031);

    const changes = corrections.filter(({ status }: { status: string }) => status === "proposed");
    expect(changes).toMatchObject([
      { register_id: registers.radial, change: -0.012 },
      {
        register_id: offsets[2]!.register_id,
        tool_id: null,
        value_now: 0,
        change: -0.017,
        value_after: -0.017,
      },
    ]);
    expect(changes[1].why).toMatch(
      /of seat C stands 56 % .* This seat: correct its work offset: change G56 X by -0.017 mm/,
    );
    expect(changes[1].arithmetic.at(-1)).toMatch(
      /^0\.000 mm \+ \(-0\.017 mm\) = -0\.017 mm: G56 X should then read this\.$/,
    );
    expect(changes[0].arithmetic).toContain(
      "The change whose worst seat is nearest the target, with the work offsets as they are to be set: -0.01242 mm.",
    );
    expect(changes[1].features[0].expected_before).toBeCloseTo(25.0298, 4);
    expect(next.action).toBe("set_offset");
  });

  it("measures the next piece of the seat after its work offset was moved, and takes the move as known", async () => {
    const { read, plan, offsets, batch } = await seated();
    for (const [i, size] of [25.001, 25.0, 25.02].entries()) await read(i + 1, size);
    const path = `/v1/registers/${offsets[2]!.register_id}/entries`;
    const entry = { batch_id: batch.batch_id, from_piece: 4, value: -0.02 };
    expect((await api.post(path).send(entry)).status).toBe(201);

    expect((await plan(6)).features).toMatchObject([{ rule: "after_change" }]);
    await read(4, 25.001);
    await read(5, 25.0);
    const { readings, corrections } = await read(6, 25.0);

    expect(readings[0].flags).toEqual([]);
    expect(corrections.every(({ kind }: { kind: string }) => kind === "leave_alone")).toBe(true);
  });

  it("knows a work offset that was keyed with the wrong sign from the first piece of its seat", async () => {
    const { read, offsets, batch } = await seated();
    for (const [i, size] of [25, 25, 25.02, 25, 25, 25.02, 25, 25, 25.02].entries()) await read(i + 1, size);
    const path = `/v1/registers/${offsets[2]!.register_id}/entries`;
    const enter = (value: number, from_piece: number) =>
      api.post(path).send({ batch_id: batch.batch_id, from_piece, value });
    await enter(-0.02, 10);
    await read(10, 25);
    await read(11, 25);

    await read(12, 25.04);
    const { corrections, next } = await read(12, 25.04);

    expect(next).toMatchObject({ action: "stop" });
    expect(corrections[0]).toMatchObject({
      kind: "find_cause",
      register_id: offsets[2]!.register_id,
      tool_id: null,
    });
    expect(corrections[0].why).toMatch(
      /After the change of G56 X by -0\.0200 mm the size found on piece 12 is not the one predicted: it came out with the other sign/,
    );
    expect(corrections[0].why).toMatch(/Read G56 X at the control: it should show -0\.020 mm/);

    await enter(0.02, 12);
    await api
      .post(`/v1/corrections/${corrections[0].correction_id}/finding`)
      .send({ found: "register_put_right", from_piece: 13 });
    const open = await api.get(`/v1/corrections?status=proposed&batch_id=${batch.batch_id}`);
    expect(open.body.items.map(({ kind }: { kind: string }) => kind)).not.toContain("find_cause");
    await enter(-0.02, 13);
    await read(13, 25);
    await read(14, 25);
    expect((await read(15, 25)).readings[0].flags).toEqual([]);
  });

  it("looks at one seat where its pieces jump and those of the others do not", async () => {
    const { read, batch } = await seated();
    for (let piece = 1; piece <= 9; piece++) await read(piece, 25);
    await read(10, 25.028);
    await read(10, 25.028);
    await read(11, 25);
    await read(12, 25);
    await read(13, 25.028);
    const { corrections, next } = await read(13, 25.028);

    expect(next).toMatchObject({ action: "stop" });
    expect(corrections[0]).toMatchObject({ kind: "find_cause", register_id: null });
    expect(corrections[0].why).toMatch(/the pieces of seat A have jumped from piece 10 on/);
    const { body } = await api
      .post(`/v1/corrections/${corrections[0].correction_id}/finding`)
      .send({ found: "nothing" });
    expect(body.correction.status).toBe("settled");
    const open = await api.get(`/v1/corrections?status=proposed&batch_id=${batch.batch_id}`);
    expect(open.body.items.map(({ kind }: { kind: string }) => kind)).not.toContain("find_cause");
  });
});

/** A probe that reads 0.012 too large, and a reference gauge beside it: example K of the project's method note. */
async function probed() {
  const shop = await runningBatch(api);
  const probe = await create(
    api,
    "/v1/gauges",
    gaugeBody({
      name: `probe ${++parts}`,
      kind: "machine_probe",
      reference: false,
      resolution: 0.001,
      repeatability: 0.002,
      expanded_uncertainty: 0.006,
    }),
  );
  const reference = await create(
    api,
    "/v1/gauges",
    gaugeBody({
      name: `reference ${parts}`,
      resolution: 0.0001,
      repeatability: 0.0008,
      expanded_uncertainty: 0.002,
    }),
  );
  const feature = featureBody({
    gauge_id: probe.gauge_id,
    reference_gauge_id: reference.gauge_id,
    operation: undefined,
    kind: "external",
    nominal: "30",
    lower_deviation: -0.02,
    upper_deviation: 0.02,
    cut_by: [{ register_id: shop.registers.radial, walls: 1 }],
  });
  const part = await create(api, "/v1/parts", partBody([feature], { number: `probed-${parts}` }));
  const batch = await create(api, "/v1/batches", {
    name: `${part.number}-1`,
    part_id: part.part_id,
    machine_id: shop.machine.machine_id,
  });
  const ids = { batch_id: batch.batch_id, feature_id: part.features[0].feature_id };
  const read = (gauge: { gauge_id: string }) => (piece: number, value: number) =>
    shop.read(piece, value, { ...ids, gauge_id: gauge.gauge_id });
  const plan = async (piece: number) =>
    (await api.get(`/v1/batches/${batch.batch_id}/checks?piece=${piece}`)).body.features;
  const holds = async () => (await api.get(`/v1/batches/${batch.batch_id}/holds`)).body;
  const proposals = async () =>
    (await api.get(`/v1/corrections?status=proposed&batch_id=${batch.batch_id}`)).body.items;
  const stored = async (piece: number) =>
    (await api.get(`/v1/readings?batch_id=${batch.batch_id}&piece=${piece}`)).body.items;
  return {
    ...shop,
    ids,
    probe,
    reference,
    byProbe: read(probe),
    byReference: read(reference),
    plan,
    holds,
    proposals,
    stored,
  };
}

describe("POST /v1/readings of a feature with a reference gauge", () => {
  it("asks for the reference at the first check, not on the next, and again 20 pieces later", async () => {
    const { probe, reference, plan, byProbe, byReference } = await probed();
    const asked = async (piece: number) =>
      (await plan(piece)).map((check: { gauge_id: string; rule: string }) => [check.gauge_id, check.rule]);

    expect(await asked(1)).toEqual([
      [probe.gauge_id, "first_piece"],
      [reference.gauge_id, "reference"],
    ]);
    await byProbe(1, 30.012);
    await byReference(1, 30.0);
    expect(await asked(2)).toEqual([[probe.gauge_id, "start"]]);
    await byProbe(2, 30.012);
    for (const piece of [4, 8, 14, 20]) await byProbe(piece, 30.012);
    expect(await asked(27)).toContainEqual([reference.gauge_id, "reference"]);
  });

  it("does not correct what only the probe reads too large", async () => {
    const { byProbe, byReference } = await probed();
    await byProbe(1, 30.014);
    await byReference(1, 30.0011);

    const { corrections } = await byProbe(2, 30.015);

    expect(corrections).toMatchObject([{ kind: "leave_alone", change: 0 }]);
    expect(corrections[0].features[0].expected_before).toBeCloseTo(30.0019, 4);
  });

  it("asks the reference again where the two differ by more than before, then knows the probe is off", async () => {
    const { byProbe, byReference, reference, proposals } = await probed();
    await byProbe(1, 30.014);
    await byReference(1, 30.0011);
    await byProbe(2, 30.015);
    await byReference(3, 30.0012);
    await byProbe(4, 30.032);

    const { next, corrections } = await byReference(4, 30.008);

    expect(next).toMatchObject({ action: "measure", piece: 4 });
    expect(corrections[0]).toMatchObject({ kind: "measure_again", gauge_id: reference.gauge_id });
    expect(corrections[0].why).toMatch(
      /with its reference gauge again: the other gauge reads further from its 30.008/,
    );
    const after = await byReference(4, 30.008);
    expect(after.readings[0].flags).not.toContain("readings_disagree");
    expect(after.next.action).not.toBe("stop");
    expect(await proposals()).toMatchObject([{ kind: "check_gauge" }]);
  });

  it("has the other gauge checked then, until a check of it is entered or somebody declines", async () => {
    const off = async () => {
      const shop = await probed();
      await shop.byProbe(1, 30.014);
      await shop.byReference(1, 30.0011);
      await shop.byProbe(2, 30.015);
      await shop.byReference(3, 30.0012);
      await shop.byProbe(4, 30.032);
      await shop.byReference(4, 30.008);
      await shop.byReference(4, 30.008);
      return shop;
    };
    const [checked, declined] = [await off(), await off()];
    const asking = async ({ proposals }: typeof checked) =>
      (await proposals()).filter(({ kind }: { kind: string }) => kind === "check_gauge");
    const [advice] = await asking(checked);

    expect(advice).toMatchObject({
      gauge_id: checked.probe.gauge_id,
      register_id: null,
      change: 0,
      piece: 4,
    });
    expect(advice.why).toMatch(
      /^Have the gauge checked .* on piece 4 it read 0\.01\d\d mm bigger than before/,
    );
    const { next } = await checked.byProbe(5, 30.02);
    expect(next.action).not.toBe("stop");
    expect(await asking(checked)).toHaveLength(1);
    const check = { standard: 30, reading: 30.013, unit: "mm" };
    const path = `/v1/gauges/${checked.probe.gauge_id}/checks`;
    expect((await api.post(path).send(check)).status).toBe(201);
    expect(await asking(checked)).toEqual([]);
    await checked.byProbe(6, 30.02);
    expect(await asking(checked)).toEqual([]);

    const [other] = await asking(declined);
    await api.post(`/v1/corrections/${other.correction_id}/decline`).send({ reason: "bent last week" });
    await declined.byProbe(5, 30.02);
    expect(await asking(declined)).toEqual([]);
  });

  it("asks the reference before a jump is concluded from the probe", async () => {
    const { byProbe, byReference, reference, plan } = await probed();
    await byReference(1, 30);
    for (let piece = 1; piece <= 8; piece++) await byProbe(piece, 30.01);
    await byProbe(9, 30.03);

    const { corrections } = await byProbe(9, 30.03);

    expect(corrections[0]).toMatchObject({ kind: "measure_again", gauge_id: reference.gauge_id });
    expect(corrections[0].why).toMatch(/The gauge may have moved as well as the part/);
    expect(await plan(10)).not.toEqual([]);
    await byReference(9, 30.0005);
    const { next } = await byReference(9, 30.0005);
    expect(next.action).not.toBe("stop");
  });
});

describe("POST /v1/readings by a gauge beside the reference gauge", () => {
  it("judges its size less what it is known to read beside the reference, and shows the arithmetic", async () => {
    const { byProbe, byReference, holds } = await probed();
    await byProbe(1, 30.014);
    await byReference(1, 30.0011);

    const { readings } = await byProbe(2, 30.0315);

    expect(readings[0]).toMatchObject({
      value: 30.0315,
      size_as_read: 30.0315,
      verdict: "conforming",
      disposition: "accept",
      decision_rule: "simple",
      hold: null,
      prior: "flat",
    });
    // 30.014 − 30.0011 = 0.0129 by one comparison of two gauges, each unsure by itself
    expect(readings[0].gauge_deviation).toBeGreaterThan(0.0115);
    expect(readings[0].gauge_deviation).toBeLessThan(0.0129);
    // the note's 0.0021240 after piece 1, with the wander of one piece
    expect(readings[0].gauge_deviation_uncertainty).toBeCloseTo(
      Math.hypot(0.002124, 0.006 / Math.sqrt(120)),
      6,
    );
    expect(readings[0].size).toBeCloseTo(30.0315 - readings[0].gauge_deviation, 9);
    expect(readings[0].tolerance_used).toBeLessThan(1);
    expect(readings[0].arithmetic).toEqual([
      expect.stringMatching(
        /^Beside the reference gauge this one reads 0\.01\d\d mm too large \(± 0\.004\d mm\)\.$/,
      ),
      expect.stringMatching(/^Size that is judged: 30\.0315 mm − 0\.01\d+ mm = 30\.01\d+ mm\.$/),
    ]);
    expect((await holds()).on_hold).toEqual([]);
  });

  it("decides only what is beyond doubt before the two have been compared", async () => {
    const { byProbe, holds } = await probed();

    const close = (await byProbe(1, 30.025)).readings[0];

    expect(close).toMatchObject({
      verdict: "uncertain",
      disposition: "remeasure",
      decision_rule: "iso_14253",
      flags: ["gauge_not_compared"],
    });
    expect(close.why).toMatch(/have the reference gauge read the piece too/);
    expect((await holds()).on_hold).toEqual([]);
    expect((await byProbe(1, 30.025)).readings[0].verdict).toBe("uncertain");
    expect((await byProbe(2, 30.06)).readings[0].verdict).not.toBe("conforming");
  });

  it("holds back to the last check that such a gauge found good, and to the last proof once the reference agrees", async () => {
    const { byProbe, byReference, holds } = await probed();
    await byReference(1, 30);
    for (const [piece, size] of [
      [1, 30.012],
      [2, 30.018],
      [4, 30.005],
      [8, 30.02],
      [14, 30.029],
    ] as const)
      await byProbe(piece, size);

    const doubt = (await byProbe(18, 30.037)).readings[0];

    expect(doubt).toMatchObject({ verdict: "nonconforming", hold: { from_piece: 15, to_piece: 18 } });
    expect((await holds()).on_hold).toEqual([{ from_piece: 15, to_piece: 18 }]);
    const proved = (await byReference(18, 30.025)).readings[0];
    expect(proved).toMatchObject({ verdict: "nonconforming", hold: { from_piece: 2, to_piece: 18 } });
    expect((await holds()).on_hold).toEqual([{ from_piece: 2, to_piece: 18 }]);
  });

  it("goes on steering by it though a standard shows it off, and judges it again less what is known", async () => {
    const { byProbe, byReference, probe, proposals } = await probed();
    await byReference(1, 30);
    await byProbe(1, 30.012);
    const check = { standard: 30, reading: 30.012, unit: "mm" };
    const path = `/v1/gauges/${probe.gauge_id}/checks`;
    const { body } = await api.post(path).send(check);
    expect(body.state).toBe("off");

    await byProbe(2, 30.027);
    await byProbe(3, 30.028);

    const [change] = (await proposals()).filter(({ kind }: { kind: string }) => kind === "change");
    // 0.0155 too big by both, of which some may be the gauge's
    expect(change.change).toBeLessThan(-0.008);
    expect(change.change).toBeGreaterThan(-0.016);
    const { items } = (await api.get(`${path}/${body.gauge_check_id}/readings`)).body;
    for (const { size, size_from, size_to } of items.filter(({ piece }: { piece: number }) => piece > 1)) {
      expect(size).toBeCloseTo(30.0155, 2);
      expect([size_from, size_to].every((end) => Math.abs(end - size) < 0.002)).toBe(true);
    }
    const applied = await api.post(`/v1/corrections/${change.correction_id}/apply`).send({ from_piece: 4 });
    expect(applied.status).toBe(200);
    await byProbe(4, 30.017);
    const { outcome } = (await api.get(`/v1/corrections/${change.correction_id}`)).body;
    expect(outcome.features[0].first_size).toBeLessThan(30.006);
    expect(outcome.features[0].first_size).toBeGreaterThan(30);
  });

  it("is reported and charted by the size that was judged, with the uncertainty that counted", async () => {
    const shop = await probed();
    await shop.byProbe(1, 30.014);
    await shop.byReference(1, 30.0011);
    const judged = (await shop.byProbe(2, 30.0315)).readings[0];
    const { batch_id, feature_id } = judged;

    const report = (await api.get(`/v1/batches/${batch_id}/report`)).body;
    const chart = (await api.get(`/v1/features/${feature_id}/chart?kind=individuals&batch_id=${batch_id}`))
      .body;

    const [result] = report.pieces[1].results;
    expect(result.value).toBe("30.0315"); // as the probe gave it
    expect(Number(result.result)).toBeCloseTo(judged.size, 9);
    expect(Number(result.result)).toBeLessThan(30.02); // the limit, which 30.0315 itself is beyond
    expect(result.expanded_uncertainty === null ? null : Number(result.expanded_uncertainty)).toEqual(
      judged.expanded_uncertainty,
    );
    expect(chart.panels[0].points.at(-1).value).toBeCloseTo(judged.size, 6);
  });

  it("keeps what each reading was judged by, whatever comes late or is voided, and learns the same in any order", async () => {
    const [first, second] = [await probed(), await probed()];
    await first.byProbe(1, 30.014);
    const compared = await first.byReference(1, 30.0011);
    const judged = (await first.byProbe(2, 30.0315)).readings[0];
    await second.byReference(1, 30.0011);
    await second.byProbe(1, 30.014);
    const other = (await second.byProbe(2, 30.0315)).readings[0];

    expect(other.gauge_deviation).toBe(judged.gauge_deviation);

    const path = `/v1/readings/${compared.readings[0].reading_id}/void`;
    await api.post(path).send({ reason: "another part" });

    expect((await first.stored(2))[0]).toEqual(judged);
    const late = (await first.byProbe(1, 30.014)).readings[0];
    expect(late).toMatchObject({ gauge_deviation: 0, verdict: "uncertain" });
  });

  it("takes a reading of both gauges in one request together", async () => {
    const shop = await probed();
    const body = [
      { ...shop.reading(1, 30.025, shop.ids), gauge_id: shop.probe.gauge_id },
      { ...shop.reading(1, 30.012, shop.ids), gauge_id: shop.reference.gauge_id },
    ];

    const { readings } = (await api.post("/v1/readings").send(body)).body;

    expect(readings[0].verdict).toBe("conforming");
    expect(readings[0].size).toBeCloseTo(30.0126, 3);
    expect(readings[1]).toMatchObject({ verdict: "conforming", gauge_deviation: null, size: 30.012 });
  });
});
