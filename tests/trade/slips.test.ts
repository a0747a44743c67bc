import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import {
  type Answer,
  adviceOf,
  expectChange,
  expectLeftAlone,
  type Job,
  kindsOf,
  startJob,
} from "../support/trade-job.js";

const { api } = await createTestApp();

const lathe = { kind: "lathe" };
const boreLimits = { lower_limit: 20, upper_limit: 20.021, target: 20.01 };
const shaft = {
  kind: "external",
  nominal: "50",
  lower_limit: 49.975,
  upper_limit: 50,
  target: 49.988,
} as const;

/** Reads the register, enters what it really holds from the piece on where the slip began, and answers the question. */
async function putRight(job: Job, cause: Answer, held: number, fromPiece: number): Promise<Answer> {
  await job.enter({ from_piece: fromPiece, value: held, reason: "read at the control" });
  return job.find(cause, { found: "register_put_right", from_piece: fromPiece + 1 });
}

function expectSlip(answer: Answer, words: RegExp): Answer {
  expect(kindsOf(answer), JSON.stringify(answer.corrections, null, 1)).toEqual(["find_cause"]);
  const cause = adviceOf(answer, "find_cause");
  expect(cause.why).toMatch(words);
  expect(cause.change).toBe(0);
  expect(answer.next.action).toBe("stop");
  return cause;
}

describe("slips at the control, found by the size that was predicted", () => {
  it(titleOf("DB-07", "the sign: named, nothing corrected twice, then the right change"), async () => {
    const { given, expected } = tradeCase("DB-07");
    const registers = [{ controls: "x", holds: "diameter" } as const];
    const job = await startJob(api, { machine: lathe, registers, features: [shaft] });
    const change = expectChange(await job.read(1, given("measured")), -given("keyed"));
    expect(Math.abs(change.features[0].expected_after - expected("predicted_size"))).toBeLessThanOrEqual(
      0.001,
    );
    await job.apply(change); // the person believes to have keyed what was advised

    const answer = await job.readSurely(2, expected("resulting_size"));

    const cause = expectSlip(answer, /other sign/);
    const found = await putRight(job, cause, -change.value_after, 2);
    const back = expectChange(found, sum(given("target"), -expected("resulting_size")));
    expect(back.value_now).toBe(-change.value_after);
    await job.apply(back);
    const proof = await job.read(3, sum(expected("resulting_size"), back.change));
    expectLeftAlone(proof);
    expect(proof.readings[0]).toMatchObject({ verdict: "conforming", disposition: "accept" });
  });

  it(titleOf("ML-11", "a diameter's amount in a radius register: twice as much came out"), async () => {
    const { given, expected } = tradeCase("ML-11");
    const registers = [{ controls: "radial", holds: "radius" } as const];
    const job = await startJob(api, {
      registers,
      features: [{ kind: "internal", nominal: "20", ...boreLimits }],
    });
    const change = expectChange(await job.read(1, given("measured")), given("keyed") / 2);
    await job.apply(change);

    const answer = await job.readSurely(2, expected("resulting_size"));

    expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "scrap" });
    const cause = expectSlip(answer, /twice as much/);
    expect(cause.why).toMatch(/radius and diameter/);
    const found = await putRight(job, cause, given("keyed"), 2);
    // 20.030 → 20.010 by a radius register: +0.010.
    const back = expectChange(found, sum(expected("resulting_size"), -given("target")) / 2);
    expect(back.value_now).toBe(given("keyed"));
  });

  it(
    titleOf(
      "ML-10",
      "a radius's amount in a diameter register: the rest is inside the spread, no slip is named",
    ),
    async () => {
      const { given, expected } = tradeCase("ML-10");
      const registers = [{ controls: "radial", holds: "diameter" } as const];
      const job = await startJob(api, {
        registers,
        features: [{ kind: "internal", nominal: "20", ...boreLimits }],
      });
      const change = expectChange(await job.read(1, given("measured")), 2 * given("keyed"));
      await job.apply(change);

      const answer = await job.readSurely(2, expected("resulting_size"));

      // Exactly on the low limit, which conforms.
      expect(answer.readings[0]).toMatchObject({ verdict: "conforming", size: given("lower_limit") });
      // Half a change of 0.020 is 0.010: one piece does not tell it from scatter. No more than what is left is asked for.
      const rest = adviceOf(answer, "change");
      const left = sum(expected("resulting_size"), -given("target"));
      expect(rest.change).toBeLessThan(0);
      expect(rest.change).toBeGreaterThanOrEqual(left);
      expect(rest.features[0].window).toEqual({
        low: sum(given("lower_limit"), -given("upper_limit")),
        high: sum(expected("resulting_size"), -given("lower_limit")),
      });

      // Who reads the register before keying finds the slip; the history is put right and the rest worked out afresh.
      const afresh = await job.apply(rest, { from_piece: 3, value_found: given("keyed") });
      expect(afresh.flags).toContain("value_found_differs");
      const back = expectChange(afresh, left);
      expect(back.value_now).toBe(given("keyed"));
    },
  );

  it(
    titleOf(
      "DB-03",
      "a change keyed in place of the value: looks like the other sign, asks to read the register",
    ),
    async () => {
      const { given, expected } = tradeCase("DB-03");
      const registers = [{ controls: "x", holds: "diameter", value: given("register_now") } as const];
      const job = await startJob(api, { machine: lathe, registers, features: [shaft] });
      const change = expectChange(await job.readSurely(1, given("measured")), given("keyed_absolute"));
      await job.apply(change);

      const answer = await job.readSurely(2, expected("resulting_size"));

      const cause = expectSlip(answer, /Read W1 at the control/);
      const found = await putRight(job, cause, given("keyed_absolute"), 2);
      const back = expectChange(found, sum(shaft.target, -expected("resulting_size")));
      expect(back.value_now).toBe(given("keyed_absolute"));
    },
  );

  it(titleOf("DB-01", "the same correction keyed twice: twice as much came out"), async () => {
    const { given } = tradeCase("DB-01");
    const registers = [{ controls: "x", holds: "diameter" } as const];
    const job = await startJob(api, { machine: lathe, registers, features: [shaft] });
    const change = expectChange(await job.read(12, 50.012), given("earlier_change"));
    await job.apply(change, { from_piece: 15 });

    // Outgoing and incoming person have both keyed it; only one of them said so.
    const answer = await job.readSurely(15, sum(50.012, 2 * change.change));

    const cause = expectSlip(answer, /twice/);
    const found = await putRight(job, cause, 2 * change.change, 15);
    expectChange(found, -change.change);
  });

  it(
    titleOf("DB-09", "not keyed at all: none of it came out, and nothing is corrected a second time"),
    async () => {
      const registers = [{ controls: "x", holds: "diameter" } as const];
      const job = await startJob(api, { machine: lathe, registers, features: [shaft] });
      const change = expectChange(await job.read(12, 50.012), -0.024);
      await job.apply(change);

      // Still a piece that was in the machine when the register was changed.
      const answer = await job.readSurely(13, 50.013);

      expectSlip(answer, /none of it/);
      // Nothing was wrong at the control: the change counts from piece 15.
      await job.post(`/v1/corrections/${change.correction_id}/void`, { reason: "counts from piece 15" }, 200);
      await job.enter({ from_piece: 15, value: change.value_after });
      expect((await job.proposed()).map((correction: Answer) => correction.kind)).toEqual([]);
      const proof = await job.read(15, sum(50.013, change.change));
      expectLeftAlone(proof);
      expect((await job.wear()).value_now).toBe(change.value_after);
    },
  );
});
