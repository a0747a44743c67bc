import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api } = await createTestApp();

const bore = { nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 };
const withRule = (decision_rule: string, more: object = {}) =>
  runningBatch(api, { part: { decision_rule }, features: [{ ...bore, ...more }] });
/** A gauge with a U of 0.006 in the tolerance of 0.06, and steps fine enough for every edge. */
const gauge = { resolution: 0.0001, repeatability: 0.001, expanded_uncertainty: 0.006 };

describe("decision_rule of a part in POST /v1/readings", () => {
  it.each([
    ["simple", 12.03, "conforming", "accept"],
    ["simple", 12.0301, "nonconforming", "rework"],
    ["guarded_acceptance", 12.024, "conforming", "accept"],
    ["guarded_acceptance", 12.0241, "uncertain", "remeasure"],
    ["guarded_acceptance", 12.0301, "nonconforming", "rework"],
    ["guarded_rejection", 12.03, "conforming", "accept"],
    ["guarded_rejection", 12.036, "uncertain", "remeasure"],
    ["guarded_rejection", 12.0361, "nonconforming", "rework"],
    ["iso_14253", 12.024, "conforming", "accept"],
    ["iso_14253", 12.0241, "uncertain", "remeasure"],
    ["iso_14253", 12.036, "uncertain", "remeasure"],
    ["iso_14253", 12.0361, "nonconforming", "rework"],
    ["iso_14253", 11.964, "uncertain", "remeasure"],
    ["iso_14253", 11.9639, "nonconforming", "scrap"],
  ])("%s: %d is %s, %s", async (decision_rule, value, verdict, disposition) => {
    const shop = await runningBatch(api, { part: { decision_rule }, features: [bore], gauge });

    const { readings } = await shop.read(1, value);

    expect(readings[0]).toMatchObject({ decision_rule, verdict, disposition });
    expect(readings[0].why === null).toBe(verdict !== "uncertain");
    expect((await api.get(`/v1/readings/${readings[0].reading_id}`)).body).toEqual(readings[0]);
  });

  it("shows the uncertainty, guard band, and the limits of acceptance and rejection it used", async () => {
    const shop = await withRule("iso_14253");

    const { readings } = await shop.read(1, 12.001);

    expect(readings[0]).toMatchObject({
      expanded_uncertainty: 0.003,
      guard_band: 0.003,
      lower_acceptance_limit: 11.973,
      upper_acceptance_limit: 12.027,
      lower_rejection_limit: 11.967,
      upper_rejection_limit: 12.033,
    });
  });

  it("shows them in the part's unit", async () => {
    const shop = await runningBatch(api, {
      part: { unit: "inch", decision_rule: "guarded_acceptance" },
      features: [{ nominal: "0.500", lower_deviation: -0.002, upper_deviation: 0.002 }],
      gauge: { unit: "inch", resolution: 0.0001, repeatability: null, expanded_uncertainty: 0.0002 },
    });

    const { readings } = await shop.read(1, "0.5019");

    expect(readings[0]).toMatchObject({
      verdict: "uncertain",
      guard_band: 0.0002,
      lower_acceptance_limit: 0.4982,
      upper_acceptance_limit: 0.5018,
    });
    expect(readings[0].why).toContain("closer to the upper one than the guard band of 0.0002 inch");
  });

  it.each([
    ["guarded_acceptance", 12, "uncertain"],
    ["guarded_acceptance", 12.031, "nonconforming"],
    ["guarded_rejection", 12, "conforming"],
    ["guarded_rejection", 12.031, "uncertain"],
    ["iso_14253", 12, "uncertain"],
  ])("%s without a known uncertainty: %d is %s, and says why", async (decision_rule, value, verdict) => {
    const shop = await runningBatch(api, {
      part: { decision_rule },
      features: [bore],
      gauge: { expanded_uncertainty: null },
    });

    const { readings } = await shop.read(1, value);

    expect(readings[0]).toMatchObject({ verdict, expanded_uncertainty: null, guard_band: null });
    if (verdict === "uncertain")
      expect(readings[0].why).toMatch(/needs the expanded uncertainty of the gauge/);
  });

  it("says where the guard band leaves nothing of the tolerance", async () => {
    const shop = await runningBatch(api, {
      part: { decision_rule: "guarded_acceptance", guard_band_factor: 6 },
      features: [bore],
      gauge,
    });

    const { readings } = await shop.read(1, 12);

    expect(readings[0]).toMatchObject({ verdict: "uncertain", guard_band: 0.036 });
    expect(readings[0].why).toMatch(/leaves nothing of the tolerance/);
  });

  it("guards the one limit there is", async () => {
    const shop = await withRule("iso_14253", {
      lower_deviation: undefined,
      upper_deviation: undefined,
      upper_limit: 12.03,
      target: 12,
    });

    const { readings } = await shop.read(1, 12.028);

    expect(readings[0]).toMatchObject({
      verdict: "uncertain",
      lower_acceptance_limit: null,
      upper_acceptance_limit: 12.027,
      lower_rejection_limit: null,
      upper_rejection_limit: 12.033,
    });
  });
});

describe("decision_rule of a feature in POST /v1/readings", () => {
  it("goes before its part's; what it does not say is the part's", async () => {
    const shop = await runningBatch(api, {
      part: { decision_rule: "guarded_acceptance", guard_band_factor: 2 },
      features: [
        { ...bore, characteristic: "1", decision_rule: "simple" },
        { ...bore, characteristic: "2", decision_rule: "guarded_rejection", guard_band_factor: 0.5 },
        { ...bore, characteristic: "3", guard_band_factor: 1.5 },
        { ...bore, characteristic: "4" },
      ],
      gauge,
    });
    const list = shop.part.features.map(({ feature_id }: { feature_id: string }) =>
      shop.reading(1, 12.02, { feature_id }),
    );

    const { readings } = await create(api, "/v1/readings", list);

    expect(readings).toMatchObject([
      { decision_rule: "simple", guard_band: 0, verdict: "conforming" },
      { decision_rule: "guarded_rejection", guard_band: 0.003, verdict: "conforming" },
      { decision_rule: "guarded_acceptance", guard_band: 0.009, verdict: "conforming" },
      { decision_rule: "guarded_acceptance", guard_band: 0.012, verdict: "uncertain" },
    ]);
    const { items } = (await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`)).body;
    expect(items).toEqual(readings);
  });
});

describe("what a guarded rule asks of a piece", () => {
  it("keeps the piece apart in the one thing to do next, and earns trust inside the limits all the same", async () => {
    const shop = await runningBatch(api, {
      part: { decision_rule: "guarded_acceptance" },
      features: [{ ...bore, target: 12.02 }],
      gauge: { ...gauge, expanded_uncertainty: 0.002, repeatability: 0.0005 },
    });

    const first = await shop.read(1, 12.029);
    const second = await shop.read(2, 12.0291);

    for (const [i, answer] of [first, second].entries()) {
      expect(answer.readings[0]).toMatchObject({
        verdict: "uncertain",
        disposition: "remeasure",
        hold: null,
      });
      expect(answer.next.why).toContain(`Keep piece ${i + 1} apart, 12 Tongue width is not decided.`);
    }
    // So near the limit drift and scatter ask for every piece, though trust would not.
    expect((await shop.checks()).features[0]).toMatchObject({
      rule: "drift",
      why: expect.stringMatching(/^2 good checks in a row would allow every 2 pieces, but/),
    });
  });

  it("does not stop for an undecided feature that no register moves", async () => {
    const reamed = (decision_rule: string) =>
      runningBatch(api, {
        part: { decision_rule },
        features: [{ ...bore, kind: "internal", cut_by: [] }],
        gauge,
      });
    const readTwice = async (shop: Awaited<ReturnType<typeof reamed>>) => {
      await shop.read(1, 12.034); // surprises, and is asked again
      return (await shop.read(1, 12.034)).next;
    };

    const guarded = await readTwice(await reamed("guarded_rejection"));
    const simple = await readTwice(await reamed("simple"));

    expect(guarded.action).not.toBe("stop");
    expect(guarded.why).toContain("not proved bad");
    expect(simple.action).toBe("stop");
  });

  it("lets a finer gauge clear what a coarser one left undecided, but not what it proved bad", async () => {
    const shop = await runningBatch(api, { part: { decision_rule: "iso_14253" }, features: [bore], gauge });
    const fine = await create(
      api,
      "/v1/gauges",
      gaugeBody({
        name: "comparator 12",
        resolution: 0.0001,
        repeatability: 0.0001,
        expanded_uncertainty: 0.0005,
      }),
    );

    await shop.read(1, 12.031);
    const cleared = await shop.read(1, 12.0285, { gauge_id: fine.gauge_id });
    await shop.read(2, 12.0385);
    const blocked = await shop.read(2, 12.029, { gauge_id: fine.gauge_id });

    expect(cleared.readings[0]).toMatchObject({ verdict: "conforming", disposition: "accept" });
    expect(blocked.readings[0]).toMatchObject({ verdict: "conforming", disposition: "remeasure" });
    expect(blocked.readings[0].flags).toContain("earlier_reading_failed");
  });
});

describe("probability and risk of a reading", () => {
  it("names the consumer's risk of an accepted and the producer's of a rejected piece, none of an open one", async () => {
    const shop = await runningBatch(api, { features: [bore], gauge });

    const [inside, outside] = [await shop.read(1, 12.027), await shop.read(2, 12.033)];
    const open = await (
      await runningBatch(api, { part: { decision_rule: "iso_14253" }, features: [bore], gauge })
    ).read(1, 12.03);

    // One standard uncertainty of 0.003 inside and outside: Φ(1) = 0.841345 (common tables).
    expect(inside.readings[0]).toMatchObject({
      probability_conforming: 0.841345,
      prior: "flat",
      risk: { borne_by: "consumer", probability: 0.158655254 },
    });
    expect(outside.readings[0]).toMatchObject({
      probability_conforming: 0.158655,
      risk: { borne_by: "producer", probability: 0.158655254 },
    });
    expect(open.readings[0]).toMatchObject({ probability_conforming: 0.5, risk: null });
  });

  /** A bore whose gauge has a doubt of a fifth of the way to a limit. */
  const tight = { ...bore, lower_deviation: -0.015, upper_deviation: 0.015 };

  it("takes what the pieces before let expect once five have been read, and never the piece itself", async () => {
    const shop = await runningBatch(api, { features: [tight], gauge });
    const steady = [12.001, 11.999, 12, 12.001, 12];
    for (const [i, size] of steady.entries()) {
      expect((await shop.read(i + 1, size)).readings[0].prior).toBe("flat");
    }

    const known = await shop.read(6, 12.009);
    const again = await shop.read(6, 12.009);

    // By the gauge alone Φ((0.015 − 0.009) / 0.003) = Φ(2) = 0.977, but no piece before went there.
    expect(known.readings[0].prior).toBe("process");
    expect(known.readings[0].probability_conforming).toBeGreaterThan(0.9999);
    expect(again.readings[0]).toMatchObject({
      prior: "process",
      probability_conforming: known.readings[0].probability_conforming,
    });
  });

  it("does not let the process explain away a reading that it does not expect", async () => {
    const shop = await runningBatch(api, { features: [bore], gauge });
    for (const [i, size] of [12.001, 11.999, 12, 12.001, 12, 11.999].entries()) await shop.read(i + 1, size);

    const { readings } = await shop.read(7, 12.06);

    expect(readings[0]).toMatchObject({ prior: "flat", probability_conforming: 0 });
  });

  it("says of a late reading what was known before its piece, whatever came after", async () => {
    const inOrder = await runningBatch(api, { features: [tight], gauge });
    const late = await runningBatch(api, { features: [tight], gauge });
    const sizes = [12.001, 11.999, 12, 12.001, 12, 11.999, 12.009, 12.001];
    for (const [i, size] of sizes.entries()) if (i !== 6) await late.read(i + 1, size);
    let expected: { prior: string; probability_conforming: number } | undefined;
    for (const [i, size] of sizes.entries()) {
      const [reading] = (await inOrder.read(i + 1, size)).readings;
      if (i === 6) expected = reading;
    }

    const [reading] = (await late.read(7, 12.009)).readings;

    expect(reading.prior).toBe("process");
    expect(reading.probability_conforming).toBe(expected!.probability_conforming);
  });
});
