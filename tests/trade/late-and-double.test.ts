import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { adviceOf, expectChange, expectLeftAlone, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

// Outside diameter 50 0/−0.025 of TR-01, aim 49.988: the late and double cases are told on it.
const shaft = {
  kind: "external",
  nominal: "50",
  lower_limit: 49.975,
  upper_limit: 50,
  target: 49.988,
} as const;

function startShaft() {
  const registers = [{ controls: "x", holds: "diameter" } as const];
  return startJob(api, { machine: { kind: "lathe" }, registers, features: [shaft] });
}

describe("a reading of a piece cut before the last change", () => {
  it(titleOf("DB-01", "asks for nothing: correcting again would correct twice"), async () => {
    const { given, expected } = tradeCase("DB-01");
    const job = await startShaft();
    const change = expectChange(await job.read(12, 50.012), given("earlier_change"));
    const from = given("change_effective_from_part");
    await job.post(`/v1/batches/${job.batchId}/count`, { last_piece_cut: from - 1 }, 200);
    await job.apply(change, { from_piece: from });

    const late = await job.read(given("measured_part"), given("part13_measured"));

    const alone = expectLeftAlone(late);
    expect(alone.change).toBe(expected("change"));
    expect(alone.value_now).toBe(change.value_after);
    expect(alone.why).toMatch(/twice/);
    expect(late.next).toMatchObject({ action: "measure", piece: from });
    expect(late.next.why).toMatch(/first piece after a change/);
    expect(await job.proposed()).toEqual([]);
    // Both changes of the case together on that reading, exactly: what would have come out.
    const window = alone.features[0].window;
    expect(window).toEqual({
      low: sum(given("lower_limit"), -given("part13_measured"), -change.change),
      high: sum(shaft.upper_limit, -given("part13_measured"), -change.change),
    });
    expect(sum(given("part13_measured"), given("earlier_change"), given("change_wanted"))).toBe(
      expected("size_if_applied"),
    );
    expect(given("change_wanted")).toBeLessThan(window.low);
  });

  it(titleOf("DB-01", "counted on while a change is open: the change is still the thing to do"), async () => {
    const { given } = tradeCase("DB-01");
    const job = await startShaft();
    expectChange(await job.read(12, 50.012), given("earlier_change"));

    const counted = await job.post(`/v1/batches/${job.batchId}/count`, { last_piece_cut: 14 }, 200);

    expect(counted.next).toMatchObject({ action: "set_offset", piece: given("change_effective_from_part") });
  });

  it(
    titleOf(
      "DB-01",
      "arriving after the first piece cut with the change it is marked late and moves nothing",
    ),
    async () => {
      const { given } = tradeCase("DB-01");
      const job = await startShaft();
      const change = expectChange(await job.read(12, 50.012), given("earlier_change"));
      await job.apply(change, { from_piece: 15 });
      const proof = await job.read(15, sum(50.012, change.change));
      expectLeftAlone(proof);

      const late = await job.read(given("measured_part"), given("part13_measured"));

      expect(late.readings[0].flags).toContain("late");
      expectLeftAlone(late);
      expect(await job.proposed()).toEqual([]);
      expect((await job.wear()).value_now).toBe(change.value_after);
    },
  );
});

describe("pieces in the machine while a change is made", () => {
  it(
    titleOf("DB-09", "the next two may still be old: the first cut wholly after the change is waited for"),
    async () => {
      const { given } = tradeCase("DB-09");
      const job = await startShaft();
      const change = expectChange(await job.read(12, 50.012), -0.024);
      const firstWholly = 12 + given("parts_in_progress") + 1;

      const applied = await job.apply(change, { from_piece: firstWholly });

      expect(applied.corrections).toEqual([]);
      for (const piece of [13, 14]) {
        const old = await job.read(piece, 50.013);
        expectLeftAlone(old);
        expect(old.readings[0].verdict).toBe("nonconforming");
      }
      const plan = await job.checks(firstWholly);
      expect(plan).toMatchObject({ wait_for_result: true, features: [{ rule: "after_change" }] });
      const proof = await job.read(firstWholly, sum(50.013, change.change));
      expect(proof.readings[0].verdict).toBe("conforming");
      expect(kindsOf(proof)).toEqual([]);
      expect(adviceOf(proof, "leave_alone").value_now).toBe(change.value_after);
    },
  );
});
