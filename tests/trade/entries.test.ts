import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { expectChange, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

// Outside diameter 50 0/−0.025, aim 49.988, as in DB-01.
const shaft = {
  kind: "external",
  nominal: "50",
  lower_limit: 49.975,
  upper_limit: 50,
  target: 49.988,
} as const;

function startShaft(value: number) {
  const registers = [{ controls: "x", holds: "diameter", value } as const];
  return startJob(api, { machine: { kind: "lathe" }, registers, features: [shaft] });
}

describe("what is keyed is entered as it stands at the control", () => {
  it(
    titleOf("DB-03", "a change keyed in place of the value: the piece gets bigger, and the answer says so"),
    async () => {
      const { given, expected } = tradeCase("DB-03");
      const job = await startShaft(given("register_now"));
      expectChange(await job.readSurely(12, given("measured")), -0.024);

      const entry = await job.enter({ from_piece: 13, value: given("keyed_absolute") });

      expect(entry.change).toBe(expected("real_change"));
      expect(entry.expected[0].from_latest_reading).toBe(expected("resulting_size"));
      expect(entry.warnings.join(" ")).toMatch(/50\.038 mm.*above its upper limit of 50\.000 mm/);
      expect(entry.next).toMatchObject({ action: "measure", piece: 13 });
    },
  );

  it(titleOf("DB-04", "a value keyed as a change: far too small, and the answer says so"), async () => {
    const { given, expected } = tradeCase("DB-04");
    const job = await startShaft(given("register_now"));
    expectChange(await job.readSurely(12, given("measured")), -0.024);

    const keyed = sum(given("register_now"), given("keyed_incremental"));
    const entry = await job.enter({ from_piece: 13, value: keyed });

    expect(entry.value).toBe(expected("new_value"));
    expect(entry.change).toBe(given("keyed_incremental"));
    expect(entry.expected[0].from_latest_reading).toBe(expected("resulting_size"));
    expect(entry.warnings.join(" ")).toMatch(/49\.938 mm.*below its lower limit of 49\.975 mm/);
  });

  it(
    titleOf("DB-04", "cut all the same: scrap, no surprise, and the way back from what is really there"),
    async () => {
      const { given, expected } = tradeCase("DB-04");
      const job = await startShaft(given("register_now"));
      await job.readSurely(12, given("measured"));
      await job.enter({ from_piece: 13, value: expected("new_value") });

      const answer = await job.read(13, expected("resulting_size"));

      expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "scrap", flags: [] });
      const back = expectChange(answer, sum(shaft.target, -expected("resulting_size")));
      expect(back.value_now).toBe(expected("new_value"));
    },
  );

  it(
    titleOf("DB-06", "millimetres on an inch control: the limit of one change refuses it and names the slip"),
    async () => {
      const { given, expected } = tradeCase("DB-06");
      const job = await startShaft(0);
      const change = expectChange(await job.read(12, given("measured")), given("keyed"));

      const value = expected("real_change");
      const refused = await api
        .post(`/v1/registers/${job.registerIds[0]}/entries`)
        .send({ batch_id: job.batchId, from_piece: 13, value });
      const asApplied = await api
        .post(`/v1/corrections/${change.correction_id}/apply`)
        .send({ from_piece: 13, value_after: value });

      expect(refused.status).toBe(422);
      expect(refused.body.errors[0]).toMatchObject({ pointer: "/value" });
      expect(refused.body.errors[0].detail).toMatch(/with inch and mm exchanged -0\.024 mm/);
      expect(asApplied.status).toBe(422);
      expect(asApplied.body.errors[0].detail).toMatch(/decimal point and unit/);
      expect((await job.wear()).value_now).toBe(0);
    },
  );

  it(titleOf("DB-06", "confirmed, the size that it gives is exact"), async () => {
    const { given, expected } = tradeCase("DB-06");
    const job = await startShaft(0);
    await job.read(12, given("measured"));

    const entry = await job.enter({ from_piece: 13, value: expected("real_change"), confirmed: true });

    expect(entry.expected[0].from_latest_reading).toBe(expected("resulting_size"));
    expect(entry.warnings.join(" ")).toMatch(/49\.4024 mm/);
  });

  it(
    titleOf("DB-07", "a sign slip seen at the control: the size that it gives is exact, and is warned of"),
    async () => {
      const { given, expected } = tradeCase("DB-07");
      const job = await startShaft(0);
      await job.read(12, given("measured"));

      const entry = await job.enter({ from_piece: 13, value: given("keyed") });

      expect(entry.expected[0].from_latest_reading).toBe(expected("resulting_size"));
      expect(entry.warnings.join(" ")).toMatch(/sign/);
    },
  );
});
