import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
async function ask(path: string, status = 200): Promise<any> {
  const response = await api.get(`/v1/sampling-plans/${path}`);
  expect(response.status, response.text).toBe(status);
  return response.body;
}

describe("GET /v1/sampling-plans/single", () => {
  it("gives sample and numbers, and says how [MIL-STD-105E, tables I and II-A]", async () => {
    const plan = await ask("single?lot_size=500&aql=1.0");

    expect(plan).toMatchObject({
      code_letter: "H",
      plan_letter: "H",
      n: 50,
      inspect_all: false,
      ac: 1,
      re: 2,
    });
    expect(plan.why).toBe(
      "A lot of 500 at level II has code letter H; at AQL 1.0 and normal inspection: 50 pieces, accepted with 1 nonconforming or fewer, rejected with 2 or more.",
    );
    expect(plan.key_points.map(({ accepted }: { accepted: number }) => accepted)).toContain(0.95);
  });

  it("follows arrows, says so, and inspects all of a small lot", async () => {
    const followed = await ask("single?lot_size=80&aql=0.25");
    const small = await ask("single?lot_size=20&aql=0.25");

    expect(followed).toMatchObject({ code_letter: "E", plan_letter: "H", n: 50 });
    expect(followed.why).toContain("an arrow leads to the plan of letter H");
    expect(small).toMatchObject({ n: 20, inspect_all: true, key_points: [] });
  });

  it("says what a gap between the numbers means under reduced inspection", async () => {
    const plan = await ask("single?lot_size=1200&aql=2.5&inspection=reduced");

    expect(plan).toMatchObject({ n: 32, ac: 2, re: 5 });
    expect(plan.why).toContain("In between it is accepted, and normal inspection comes back");
  });

  it.each([
    ["lot_size=1&aql=1.0", 400, "lot_size"],
    ["lot_size=1e3&aql=1.0", 400, "lot_size"],
    ["aql=1.0", 400, "lot_size"],
    ["lot_size=500&aql=1.2", 400, "aql"],
    ["lot_size=500&aql=1.0&level=IV", 400, "level"],
    ["lot_size=500&aql=15", 422, "aql"],
  ])("refuses %s", async (query, status, pointer) => {
    expect((await ask(`single?${query}`, status)).errors[0].pointer).toBe(pointer);
  });

  it("takes large AQL for nonconformities", async () => {
    expect(await ask("single?lot_size=500&aql=15&counts=nonconformities")).toMatchObject({ ac: 14 });
  });
});

describe("GET /v1/sampling-plans/zero-acceptance", () => {
  it("gives the smallest sample, exactly for the lot: 20 pieces, 2 bad, 10 % [by hand: C(18, n)/C(20, n)]", async () => {
    const plan = await ask("zero-acceptance?lot_size=20&ltpd_percent=10");

    // n = 13: 7·6/(20·19) = 0.1105; n = 14: 6·5/380 = 0.0789
    expect(plan).toMatchObject({ n: 14, ac: 0, ltpd_nonconforming: 2, aql_nonconforming: null });
    expect(plan.ltpd_accepted).toBeCloseTo(30 / 380, 12);
  });

  it("says when no such plan keeps both risks", async () => {
    const plan = await ask("zero-acceptance?lot_size=500&ltpd_percent=5&aql_percent=1");

    expect(plan.largest_n).toBeLessThan(plan.n);
    expect(plan.why).toContain("No plan without acceptance number does both");
    expect(await ask("zero-acceptance?lot_size=500&ltpd_percent=5&aql_percent=0.1")).toMatchObject({
      aql_nonconforming: 0,
      aql_accepted: 1,
      largest_n: 500,
    });
  });

  it("answers for the largest lots [by hand: one bad piece of N is missed by (N - n)/N, half bad by about 1/2^n]", async () => {
    const rare = await ask("zero-acceptance?lot_size=10000000&ltpd_percent=0.00001&aql_percent=0.00001");
    const common = await ask("zero-acceptance?lot_size=10000000&ltpd_percent=50&aql_percent=50");

    expect(rare.n).toBe(9_000_000);
    expect(common.n).toBe(4);
  });

  it.each([
    ["lot_size=20&ltpd_percent=0", "ltpd_percent"],
    ["lot_size=20&ltpd_percent=101", "ltpd_percent"],
    ["lot_size=20&ltpd_percent=10&consumer_risk=1", "consumer_risk"],
    ["lot_size=20&ltpd_percent=ten", "ltpd_percent"],
  ])("refuses %s", async (query, pointer) => {
    expect((await ask(`zero-acceptance?${query}`, 400)).errors[0].pointer).toBe(pointer);
  });
});

describe("GET /v1/sampling-plans/continuous", () => {
  it("finds the third of three [Dodge (1943): 1 %, 1 in 10, 111 in a row]", async () => {
    expect(await ask("continuous?aoql_percent=1&f_denominator=10")).toMatchObject({ i: 111 });
    expect(await ask("continuous?aoql_percent=1&i=111")).toMatchObject({ f_denominator: 10 });
    const plan = await ask("continuous?i=111&f_denominator=10&percent=1");
    expect(plan.aoql_percent).toBeLessThanOrEqual(1);
    expect(plan.behaviour.outgoing_percent).toBeLessThan(plan.aoql_percent);
  });

  it("says how it behaves [csp1-1: i 50, 1 in 10, 1 % bad: 15.516 % inspected]", async () => {
    const { behaviour } = await ask("continuous?i=50&f_denominator=10&percent=1&bad_pieces=replaced");

    expect(behaviour.fraction_inspected).toBeCloseTo(0.15515772346482, 12);
    expect(behaviour.outgoing_percent).toBeCloseTo(0.8448422765351796, 10);
  });

  it("stays a number where nearly all is bad", async () => {
    const { behaviour } = await ask("continuous?i=100000&f_denominator=10&percent=99");

    expect(behaviour.fraction_inspected).toBe(1);
  });

  it.each([
    ["i=50", 422, "aoql_percent"],
    ["i=50&f_denominator=10&aoql_percent=1", 422, "aoql_percent"],
    ["i=1&f_denominator=10", 422, "i"],
    ["i=2&aoql_percent=0.1", 422, "i"],
    ["i=50&f_denominator=1", 400, "f_denominator"],
  ])("refuses %s", async (query, status, pointer) => {
    expect((await ask(`continuous?${query}`, status)).errors[0].pointer).toBe(pointer);
  });
});

describe("GET /v1/sampling-plans/operating-characteristic", () => {
  it("gives a falling curve and its key points [MIL-STD-105E, table X-J-1: n 80, Ac 2]", async () => {
    const { points, key_points } = await ask("operating-characteristic?n=80&ac=2&points=40");

    expect(points).toHaveLength(40);
    const accepted = points.map((point: { accepted: number }) => point.accepted);
    expect([...accepted].sort((a, b) => b - a)).toEqual(accepted);
    expect(accepted[0]).toBe(1);
    expect(key_points.find((point: { accepted: number }) => point.accepted === 0.95).percent).toBeCloseTo(
      1.0298,
      3,
    );
  });

  it("counts whole pieces of a lot, and more than one fault on a piece", async () => {
    const lot = await ask(
      "operating-characteristic?n=5&ac=0&model=hypergeometric&lot_size=10&to_percent=100",
    );
    expect(lot.points).toHaveLength(11);
    expect(lot.points[1]).toEqual({ percent: 10, accepted: expect.closeTo(0.5, 12) });
    const faults = await ask(
      "operating-characteristic?n=10&ac=2&model=poisson&from_percent=10&to_percent=300&points=2",
    );
    expect(faults.points[0].accepted).toBeCloseTo(2.5 / Math.E, 12);
  });

  it.each([
    "n=1000000&ac=500000&points=200",
    "n=1000000&ac=900000&points=200&model=poisson",
    "n=1000000&ac=400000&points=200&model=hypergeometric&lot_size=10000000",
  ])("answers for the largest samples, never rising: %s", async (query) => {
    const { points } = await ask(`operating-characteristic?${query}`);
    const accepted: number[] = points.map((point: { accepted: number }) => point.accepted);

    expect(accepted).toHaveLength(200);
    expect(accepted.every((share, i) => i === 0 || share <= accepted[i - 1]! + 1e-9)).toBe(true);
    expect(accepted[0]).toBeCloseTo(1, 6);
  });

  it.each([
    ["n=5&ac=5", 422, "ac"],
    ["n=5&ac=0&model=hypergeometric", 422, "lot_size"],
    ["n=50&ac=0&model=hypergeometric&lot_size=20", 422, "n"],
    ["n=5&ac=0&lot_size=20", 422, "lot_size"],
    ["n=5&ac=0&from_percent=50&to_percent=20", 422, "to_percent"],
    ["n=5&ac=0&to_percent=200", 422, "to_percent"],
    ["n=0&ac=0", 400, "n"],
  ])("refuses %s", async (query, status, pointer) => {
    expect((await ask(`operating-characteristic?${query}`, status)).errors[0].pointer).toBe(pointer);
  });
});

describe("GET /v1/sampling-plans/switching", () => {
  it("says which inspection each lot falls under and what brought the next one about", async () => {
    const answer = await ask("switching?lots=RRAAAAA");

    expect(answer.lots.map(({ inspection }: { inspection: string }) => inspection)).toEqual([
      "normal",
      "normal",
      ...Array(5).fill("tightened"),
    ]);
    expect(answer).toMatchObject({
      next: "normal",
      why: "5 lots in a row were accepted on tightened inspection: normal since lot 7.",
    });
  });

  it.each([
    ["RR", "tightened", "2 of at most 5"],
    ["RRRRRRR", "discontinued", "Nothing more is accepted"],
    ["AAAAAAAAAAAAAAA&reduced_allowed=true", "reduced", "switching score reached 30"],
    ["AAAAAAAAAAAAAAAB&reduced_allowed=true", "normal", "between Ac and Re"],
    ["AAAAAAAAAAAAAAA", "normal", "Nothing has called"],
  ])("answers %s by %s", async (lots, next, why) => {
    const found = await ask(`switching?lots=${lots}`);

    expect(found.next).toBe(next);
    expect(found.why).toContain(why);
  });

  it("refuses letters that are none", async () => {
    expect((await ask("switching?lots=AXR", 400)).errors[0].pointer).toBe("lots");
  });
});
