import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { titleOf, tradeCase } from "../support/trade-cases.js";
import { adviceOf, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

// A bore 20 +0.021/0 whose first pieces came out as expected.
async function startBore() {
  const job = await startJob(api, {
    machine: { kind: "lathe" },
    registers: [{ controls: "x", holds: "diameter" }],
    features: [{ kind: "internal", nominal: "20", lower_limit: 20, upper_limit: 20.021, target: 20.01 }],
  });
  await job.read(1, 20.011);
  await job.read(2, 20.012);
  return job;
}

const slips = [
  { id: "TY-01", words: /digit may be missing/, meant: "20.014 mm", claim: "a digit lost" },
  { id: "TY-02", words: /inches sent as millimetres/, meant: "20.0152 mm", claim: "inches for millimetres" },
  { id: "TY-04", words: /one turn of a thimble/, meant: "20.014 mm", claim: "one turn of the thimble" },
  {
    id: "TY-05",
    words: /deviation instead of the size/,
    meant: "20.012 mm",
    claim: "the deviation for the size",
  },
] as const;

describe("a reading that can't be a size of the piece", () => {
  it.each(
    slips.map((slip) => ({
      ...slip,
      title: titleOf(slip.id, `${slip.claim}: asked again, no size verdict, no correction`),
    })),
  )("$title", async ({ id, words, meant }) => {
    const { given } = tradeCase(id);
    const job = await startBore();

    const answer = await job.read(3, given("typed"));

    const [reading] = answer.readings;
    expect(reading).toMatchObject({ verdict: "uncertain", disposition: "remeasure", flags: ["implausible"] });
    // Whether it was a misreading is not known yet: piece 2 was the last good one.
    expect(reading.hold).toMatchObject({ from_piece: 3, to_piece: 3, provisional: true });
    expect(reading.slip).toMatch(words);
    expect(reading.slip).toContain(meant);
    expect(kindsOf(answer)).toEqual(["measure_again"]);
    expect(adviceOf(answer, "measure_again").change).toBe(0);
    expect(answer.next).toMatchObject({ action: "measure", piece: 3 });
  });

  it(titleOf("TY-04", "the size meant is one turn away from what was typed"), async () => {
    const { given, expected } = tradeCase("TY-04");
    const job = await startBore();

    const { readings } = await job.read(3, given("typed"));

    expect(Number(/\((\S+) mm/.exec(readings[0].slip)?.[1])).toBe(given("expected"));
    expect(given("typed") - given("expected")).toBeCloseTo(expected("difference"), 9);
  });

  it(titleOf("TY-01", "two more readings outvote it; it moved nothing and cost no trust"), async () => {
    const { given } = tradeCase("TY-01");
    const job = await startBore();
    await job.read(3, given("typed"));

    const second = await job.read(3, 20.014);
    const third = await job.read(3, 20.013);

    expect(kindsOf(second)).toEqual(["measure_again"]);
    expect(kindsOf(third)).not.toContain("measure_again");
    const before = adviceOf(third, "leave_alone").features[0].expected_before;
    expect(before).toBeGreaterThan(20.01);
    expect(before).toBeLessThan(20.016);
  });

  it(titleOf("TY-05", "voided and typed anew it is as if it had never been"), async () => {
    const { given, expected } = tradeCase("TY-05");
    const job = await startBore();
    const wrong = await job.read(3, given("typed"));

    const { reading_id } = wrong.readings[0];
    const voided = await job.post(
      `/v1/readings/${reading_id}/void`,
      { reason: "the deviation was typed" },
      200,
    );
    const right = await job.read(3, expected("read_as_deviation"));

    expect(voided.corrections).toEqual([]);
    expect(right.readings[0]).toMatchObject({ verdict: "conforming", disposition: "accept", flags: [] });
    expect(kindsOf(right)).not.toContain("measure_again");
  });
});
