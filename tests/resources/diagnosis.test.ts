import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, featureBody, gaugeBody, machineBody, partBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

let jobs = 0;

/** A mill with two end mills and a work offset of each axis, two gauges, and a part with the features given. */
async function job(
  features: Answer[],
  more: { machine?: object; part?: object; batch?: object; offsets?: object[] } = {},
) {
  const name = `job-${++jobs}`;
  const machine = await create(
    api,
    "/v1/machines",
    machineBody({ name, largest_change_towards_work: null, ...more.machine }),
  );
  const tools = [];
  for (const number of [1, 2]) {
    tools.push(
      await create(api, "/v1/tools", {
        machine_id: machine.machine_id,
        number,
        name: `end mill ${number}`,
        kind: "end_mill",
        registers: [
          { number, label: `D${number}`, controls: "radial", holds: "radius", value: 0 },
          { number: 50 + number, label: `H${number}`, controls: "axial", value: 0 },
        ],
      }),
    );
  }
  const offsets: Answer[] = [];
  for (const offset of more.offsets ?? [
    { number: 54, label: "G54 X", controls: "work_x" },
    { number: 55, label: "G54 Y", controls: "work_y" },
    { number: 56, label: "G54 Z", controls: "work_z" },
  ])
    offsets.push(await create(api, `/v1/machines/${machine.machine_id}/registers`, offset));
  const gauges = [
    await create(api, "/v1/gauges", gaugeBody({ name: `${name} micrometer` })),
    await create(api, "/v1/gauges", gaugeBody({ name: `${name} second gauge` })),
  ];
  const registers: Record<string, string> = {
    D1: tools[0].registers[0].register_id,
    H1: tools[0].registers[1].register_id,
    D2: tools[1].registers[0].register_id,
    H2: tools[1].registers[1].register_id,
    ...Object.fromEntries(offsets.map((offset) => [offset.label, offset.register_id])),
  };
  const bodies = features.map((feature, i) => ({
    ...featureBody({ operation: undefined, gauge_id: gauges[0].gauge_id }),
    characteristic: String(i + 1),
    name: null,
    ...feature,
    cut_by: (feature.cut_by ?? []).map(({ register, ...cut }: Answer) => ({
      register_id: registers[register],
      ...cut,
    })),
  }));
  const part = await create(api, "/v1/parts", partBody(bodies, { number: name, ...more.part }));
  const batch = await create(api, "/v1/batches", {
    name,
    part_id: part.part_id,
    machine_id: machine.machine_id,
    ...more.batch,
  });
  return {
    name,
    part,
    registers,
    tools,
    gauges,
    batchId: batch.batch_id as string,
    featureId: (i: number): string => part.features[i - 1].feature_id,
    /** Deviations from nominal by balloon number, in mm. */
    read: (piece: number, offs: Record<number, number>, change: object = {}) =>
      create(
        api,
        "/v1/readings",
        Object.entries(offs).map(([i, off]) => ({
          feature_id: part.features[Number(i) - 1].feature_id,
          batch_id: batch.batch_id,
          piece,
          value: Number((Number(part.features[Number(i) - 1].nominal) + off).toFixed(4)),
          unit: "mm",
          ...change,
        })),
      ),
    diagnosis: async (query = ""): Promise<Answer> => {
      const response = await api.get(`/v1/batches/${batch.batch_id}/diagnosis${query}`);
      expect(response.status, response.text).toBe(200);
      return response.body;
    },
    enter: (register: string, body: object) =>
      create(api, `/v1/registers/${registers[register]}/entries`, { batch_id: batch.batch_id, ...body }),
  };
}

const width = (nominal: string, register: string, more: object = {}) => ({
  kind: "external",
  nominal,
  cut_by: [{ register, walls: 2 }],
  ...more,
});
const slot = (nominal: string, register: string, more: object = {}) => ({
  ...width(nominal, register, more),
  kind: "internal",
});
const depth = (nominal: string, register: string, more: object = {}) => ({
  kind: "depth",
  nominal,
  cut_by: [{ register }],
  ...more,
});
const bracket = () => [
  width("30", "D1", { depth: 25, at: { x: 20, z: -12 } }),
  slot("8", "D1", { depth: 4, at: { x: -20 } }),
  width("12", "D2", { depth: 6, at: { y: 15 } }),
  slot("20", "D2", { depth: 18, at: { y: -20 } }),
  depth("25", "H1", { at: { x: 20, z: -25 } }),
  depth("10", "H2", { at: { x: -50, y: 30, z: -10 } }),
];
const kinds = (answer: Answer) => answer.causes.slice(0, answer.alike).map(({ cause }: Answer) => cause);

describe("GET /v1/batches/{batch_id}/diagnosis", () => {
  it("returns 404 for a batch that there is not", async () => {
    const { status, body } = await api.get("/v1/batches/999999/diagnosis");
    expect(status).toBe(404);
    expect(body.detail).toContain("GET /v1/batches");
  });

  it.each([
    ["piece=0", "piece"],
    ["piece=x", "piece"],
    ["from_piece=5&piece=4", "from_piece"],
    ["since_piece=5&piece=4", "since_piece"],
    ["since_piece=3&from_piece=3", "since_piece"],
    ["pieces=3", "pieces"],
  ])("refuses ?%s", async (query, pointer) => {
    const { batchId } = await job(bracket());
    const { status, body } = await api.get(`/v1/batches/${batchId}/diagnosis?${query}`);
    expect(status).toBe(400);
    expect(body.errors[0].pointer).toBe(pointer);
  });

  it("has nothing to say before anything is measured, and finds nothing in good pieces", async () => {
    const shop = await job(bracket());
    expect(await shop.diagnosis()).toMatchObject({
      from_piece: null,
      readings: 0,
      causes: [],
      alike: 0,
      cautions: [],
    });
    for (const piece of [1, 2, 3])
      await shop.read(piece, { 1: 0.002, 2: -0.003, 3: 0.001, 4: 0, 5: -0.004, 6: 0.003 });
    const answer = await shop.diagnosis();
    expect(answer).toMatchObject({
      from_piece: 1,
      to_piece: 3,
      readings: 18,
      causes: [],
      alike: 0,
      tell_apart: null,
    });
    expect(answer.why).toMatch(/no cause stands out from scatter/);
  });

  it("inside small and outside big by one tool: the tool, with how far it is off in its register", async () => {
    const shop = await job(bracket());
    await shop.read(1, { 1: 0.06, 2: -0.06, 3: 0.002, 4: -0.001, 5: 0.003, 6: 0 });
    const answer = await shop.diagnosis();
    expect(kinds(answer)).toEqual(["tool_size"]);
    expect(answer.causes[0]).toMatchObject({
      register_id: shop.registers.D1,
      tool_id: shop.tools[0].tool_id,
      explains: true,
      amounts: [{ of: "register", value: 0.03, unit: "mm" }],
    });
    expect(answer.causes[0].why).toMatch(/D1 of tool 1 acts as if it held 0.0300 mm more than it does/);
    expect(answer.causes[0].why).toMatch(/χ² [\d.]+ of [\d.]+ with 5 degrees of freedom/);
    expect(answer.deviations[0]).toMatchObject({
      feature_id: shop.featureId(1),
      deviation: 0.06,
      explained: 0.06,
    });
  });

  it("inside and outside off the same way, whatever the tool: the gauge, not the tool", async () => {
    const shop = await job(bracket());
    await shop.read(1, { 1: 0.04, 2: 0.041, 3: 0.039, 4: 0.04, 5: 0.041, 6: 0.039 });
    const answer = await shop.diagnosis();
    expect(kinds(answer)).toEqual(["gauge"]);
    expect(answer.causes[0]).toMatchObject({
      gauge_id: shop.gauges[0].gauge_id,
      amounts: [{ of: "gauge", value: 0.04 }],
    });
    expect(answer.causes[0].next_step).toMatch(/on its master/);
  });

  it("two gauges disagree on the same features: the one that is off", async () => {
    const shop = await job(bracket());
    const offs = { 1: 0.002, 2: -0.002, 3: 0.001, 5: 0 };
    await shop.read(1, offs);
    const wrong = Object.fromEntries(Object.entries(offs).map(([i, off]) => [i, off + 0.045]));
    await shop.read(1, wrong, { gauge_id: shop.gauges[1].gauge_id });
    const answer = await shop.diagnosis("?piece=1");
    expect(kinds(answer)).toEqual(["gauge"]);
    expect(answer.causes[0].gauge_id).toBe(shop.gauges[1].gauge_id);
  });

  it("more the deeper it is cut: the cutter bends", async () => {
    const shop = await job([
      width("30", "D1", { depth: 30 }),
      width("40", "D1", { depth: 3 }),
      slot("8", "D1", { depth: 4 }),
      slot("16", "D1", { depth: 24 }),
      width("12", "D2", { depth: 6 }),
    ]);
    await shop.read(1, { 1: 0.075, 2: 0.008, 3: -0.01, 4: -0.06, 5: 0.001 });
    const answer = await shop.diagnosis();
    expect(kinds(answer)).toEqual(["deflection"]);
    expect(answer.causes[0].next_step).toMatch(/SAME value/);
    expect(answer.causes[0].amounts[0]).toMatchObject({ of: "bend_at_depth", unit: "mm" });
    expect(answer.causes[0].amounts[0].value).toBeCloseTo(0.0375, 3);
  });

  it("a single feature off: that feature", async () => {
    const shop = await job(bracket());
    await shop.read(1, { 1: 0.001, 2: -0.06, 3: 0.002, 4: -0.001, 5: 0.003, 6: 0 });
    const answer = await shop.diagnosis();
    expect(kinds(answer)).toEqual(["single_feature"]);
    expect(answer.causes[0].feature_id).toBe(shop.featureId(2));
  });

  it("names all causes that one feature cannot tell apart, and what to measure", async () => {
    const shop = await job(bracket());
    await shop.read(1, { 3: 0.06 });
    const answer = await shop.diagnosis();
    expect(new Set(kinds(answer))).toEqual(
      new Set(["tool_size", "deflection", "warmth", "gauge", "single_feature"]),
    );
    expect(answer.why).toMatch(/cannot be told apart by what was measured/);
    expect(answer.tell_apart).toMatch(/^Measure characteristic \d/);
  });

  it("wear from piece to piece, in registers corrected meanwhile", async () => {
    const shop = await job(bracket());
    const offs = (wear: number) => ({ 1: 2 * wear, 2: -2 * wear, 3: 0.001, 4: 0, 5: 0.002, 6: -0.001 });
    for (const piece of [1, 2, 3, 4, 5, 6]) await shop.read(piece, offs(0.002 * piece));
    await shop.enter("D1", { from_piece: 7, value: -0.012 });
    for (const piece of [7, 8, 9, 10, 11, 12]) await shop.read(piece, offs(0.002 * piece - 0.012));
    const answer = await shop.diagnosis();
    expect(kinds(answer)).toEqual(["tool_wear"]);
    expect(answer.causes[0].amounts[0]).toMatchObject({ of: "wear_per_100_pieces", unit: "mm" });
    expect(answer.causes[0].amounts[0].value).toBeCloseTo(0.2, 2);
  });

  it("compares with the pieces before where it is said since when: a change with the other sign", async () => {
    const shop = await job(bracket());
    for (const piece of [1, 2, 3, 4])
      await shop.read(piece, { 1: 0.04, 2: -0.04, 3: 0.001, 4: 0, 5: 0.001, 6: 0 });
    await shop.enter("D1", { from_piece: 5, value: -0.02 });
    await shop.read(5, { 1: 0.08, 2: -0.08, 3: 0, 4: 0.001, 5: -0.001, 6: 0.001 });
    const answer = await shop.diagnosis("?since_piece=5");
    expect(answer).toMatchObject({ since_piece: 5, from_piece: 1, to_piece: 5 });
    expect(kinds(answer)).toEqual(["register_mistaken"]);
    expect(answer.causes[0].why).toMatch(/other sign/);
    expect(answer.causes[0].register_id).toBe(shop.registers.D1);
  });

  it("all depths of all tools the same way: the work zero, with the work offset to correct and its caution", async () => {
    const shop = await job(bracket());
    await shop.read(1, { 1: 0, 2: 0.001, 3: 0, 4: -0.001, 5: 0.05, 6: 0.05 });
    const answer = await shop.diagnosis();
    expect(kinds(answer)[0]).toBe("work_zero");
    const [cause] = answer.causes;
    expect(cause.amounts).toMatchObject([{ of: "shift_z", value: -0.05 }]);
    if (answer.alike === 1) {
      expect(cause.work_offset_changes).toEqual([
        {
          register_id: shop.registers["G54 Z"],
          register_number: 56,
          register_label: "G54 Z",
          unit: "mm",
          value_now: 0,
          change: 0.05,
          value_after: 0.05,
        },
      ]);
    }
    expect(answer.cautions[0]).toMatch(/Check sign/);
  });

  it("does not ask twice for what has been entered in the work offset meanwhile", async () => {
    const shop = await job([...bracket(), depth("5", "H1"), depth("7", "H2")]);
    await shop.read(1, { 1: 0, 2: 0.001, 3: 0, 4: -0.001, 5: 0.05, 6: 0.05, 7: 0.05, 8: 0.05 });
    const before = await shop.diagnosis();
    expect(before.causes[0].work_offset_changes).toMatchObject([{ register_label: "G54 Z", change: 0.05 }]);
    await shop.enter("G54 Z", { from_piece: 2, value: 0.05 });
    expect((await shop.diagnosis("?piece=1")).causes[0].work_offset_changes).toEqual([]);
  });

  it("only what sat in one seat: that seat", async () => {
    const shop = await job([...bracket(), depth("5", "H1"), depth("7", "H2")], {
      batch: { seats: ["A", "B", "C"] },
    });
    const good = { 1: 0, 2: 0.001, 3: 0, 4: -0.001, 5: 0, 6: 0.001, 7: -0.001, 8: 0 };
    for (const piece of [1, 2, 3, 4, 5, 6])
      await shop.read(
        piece,
        (piece - 1) % 3 === 1 ? { ...good, 5: 0.04, 6: 0.041, 7: 0.039, 8: 0.04 } : good,
      );
    const answer = await shop.diagnosis("?from_piece=1");
    expect(kinds(answer)).toEqual(["work_zero"]);
    expect(answer.causes[0]).toMatchObject({ seat: "B" });
  });

  it("two causes at once where one does not explain the readings", async () => {
    const shop = await job([...bracket(), depth("5", "H1"), depth("7", "H2")]);
    await shop.read(1, { 1: 0.1, 2: -0.1, 3: 0.001, 4: 0, 5: 0.08, 6: 0.081, 7: 0.079, 8: 0.08 });
    const answer = await shop.diagnosis();
    expect(answer.together.map(({ cause }: Answer) => cause).sort()).toEqual(["tool_size", "work_zero"]);
    expect(answer.why).toMatch(/no single cause explains them/);
  });

  it("says what is not known of features and would let more be seen; a PATCH adds it", async () => {
    const shop = await job([width("30", "D1"), { kind: "length", nominal: "80" }]);
    await shop.read(1, { 1: 0.06, 2: 0.06 });
    expect((await shop.diagnosis()).missing).toEqual([
      { feature_id: shop.featureId(1), members: ["at", "depth"] },
      { feature_id: shop.featureId(2), members: ["at", "axis"] },
    ]);
    const change = { at: { x: 1, y: "2.5" }, axis: "-x", depth: 12 };
    const patched = await api.patch(`/v1/features/${shop.featureId(2)}`).send(change);
    expect(patched.status).toBe(200);
    expect(patched.body).toMatchObject({ at: { x: 1, y: 2.5, z: 0 }, axis: "-x", depth: 12 });
    expect((await shop.diagnosis()).missing).toEqual([
      { feature_id: shop.featureId(1), members: ["at", "depth"] },
    ]);
    const cleared = await api
      .patch(`/v1/features/${shop.featureId(2)}`)
      .send({ at: null, axis: null, depth: null });
    expect(cleared.body).toMatchObject({ at: null, axis: null, depth: null });
  });

  it.each([
    [{ axis: "u" }, "/axis"],
    [{ depth: 0 }, "/depth"],
    [{ at: { x: "a" } }, "/at/x"],
    [{ at: { r: 1 } }, "/at/r"],
  ])("refuses %o", async (change, pointer) => {
    const shop = await job([width("30", "D1")]);
    const { status, body } = await api.patch(`/v1/features/${shop.featureId(1)}`).send(change);
    expect(status).toBe(400);
    expect(body.errors[0].pointer).toBe(pointer);
  });

  it("shows amounts of an inch part in inches", async () => {
    const shop = await job([width("1.5", "D1"), slot("0.5", "D1"), width("0.75", "D2")], {
      machine: { unit: "inch", least_increment: 0.0001, largest_change: 0.01 },
      part: { unit: "inch" },
    });
    const offs = [0.004, -0.004, 0];
    await create(
      api,
      "/v1/readings",
      offs.map((off, i) => ({
        feature_id: shop.featureId(i + 1),
        batch_id: shop.batchId,
        piece: 1,
        value: Number((Number(shop.part.features[i].nominal) + off).toFixed(5)),
        unit: "inch",
      })),
    );
    const answer = await shop.diagnosis();
    expect(answer.deviations[0]).toMatchObject({ unit: "inch", deviation: 0.004 });
  });
});

describe("advice to find a cause", () => {
  it("carries what it most likely is, with evidence and the next thing to try", async () => {
    const shop = await job(bracket());
    const good = { 1: 0.001, 2: -0.001, 3: 0.001, 4: 0, 5: 0.001, 6: 0 };
    for (let piece = 1; piece <= 6; piece++) await shop.read(piece, good);
    const off = Object.fromEntries(Object.entries(good).map(([i, value]) => [i, value + 0.045]));
    await shop.read(7, off);
    await shop.read(7, off);
    await shop.read(8, off);
    const answer = await shop.read(8, off);
    const causes = answer.corrections.filter(({ kind }: Answer) => kind === "find_cause");
    expect(causes.length).toBeGreaterThan(0);
    const { body } = await api.get(`/v1/corrections?status=proposed&batch_id=${shop.batchId}`);
    const open = body.items.filter(({ kind }: Answer) => kind === "find_cause");
    expect(open.length).toBeGreaterThan(0);
    for (const correction of open) {
      expect(correction.causes[0]).toMatchObject({ cause: "gauge", gauge_id: shop.gauges[0].gauge_id });
      expect(correction.why).toMatch(/Most likely the gauge: Check/);
    }
    expect(kinds(await shop.diagnosis())).toEqual(["gauge"]);
  });

  it("carries causes where features of one register disagree; other advice carries none", async () => {
    const shop = await job([
      width("30", "D1", { depth: 30 }),
      width("40", "D1", { depth: 2 }),
      slot("16", "D1", { depth: 24 }),
      width("12", "D2", { depth: 6 }),
    ]);
    let finding: Answer;
    for (let piece = 1; piece <= 60 && !finding; piece++) {
      const bend = Math.min(0.18, 0.01 * piece) / 30;
      const offs = { 1: 30 * bend, 2: 2 * bend, 3: -24 * bend, 4: 0 };
      let answer = await shop.read(piece, offs);
      if (answer.corrections.some(({ kind }: Answer) => kind === "measure_again"))
        answer = await shop.read(piece, offs);
      for (const other of answer.corrections.filter(({ kind }: Answer) => kind !== "find_cause"))
        expect(other.causes).toBeNull();
      finding = answer.corrections.find(({ kind }: Answer) => kind === "find_cause");
    }
    expect(finding.why).toMatch(/No value of D1 of tool 1 brings all its features inside their limits/);
    expect(finding.why).toMatch(/Most likely bending under load: Repeat the pass at the SAME value/);
    expect(finding.causes[0]).toMatchObject({ cause: "deflection", register_id: shop.registers.D1 });
  });
});
