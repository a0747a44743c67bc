import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, toolBody } from "../support/shop.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { type Answer, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const kinds = (diagnosis: Answer): string[] =>
  diagnosis.causes.slice(0, diagnosis.alike).map(({ cause }: Answer) => cause);

describe("one cause behind many deviations", () => {
  it(
    titleOf(
      "LN-05",
      "every tool equally deep: the work zero, corrected in its own offset, and no tool touched",
    ),
    async () => {
      const { givenList, expected } = tradeCase("LN-05");
      const deep = givenList("error_of_each_tool");
      const { machine_id } = await create(api, "/v1/machines", {
        name: "all tools deep",
        kind: "mill",
        unit: "mm",
        least_increment: 0.001,
        largest_change: 0.2,
      });
      const zero = { number: 54, label: "G54 Z", controls: "work_z" };
      const offset = await create(api, `/v1/machines/${machine_id}/registers`, zero);
      const gauge = await create(api, "/v1/gauges", {
        name: "depth micrometer",
        kind: "micrometer",
        unit: "mm",
        resolution: 0.001,
        repeatability: 0.0012,
        expanded_uncertainty: 0.003,
      });
      const features = [];
      for (const [i] of deep.entries()) {
        const registers = [{ number: 50 + i, label: `H${i}`, controls: "axial", value: 0 }];
        const tool = await create(api, "/v1/tools", toolBody(machine_id, { number: i + 1, registers }));
        features.push({
          characteristic: String(i + 1),
          kind: "depth",
          nominal: String(5 + 4 * i),
          lower_deviation: -0.05,
          upper_deviation: 0.05,
          gauge_id: gauge.gauge_id,
          cut_by: [{ register_id: tool.registers[0].register_id }],
        });
      }
      // A width that no depth tells of: were it off as well, the gauge would be in question.
      const width = {
        characteristic: "9",
        kind: "external",
        nominal: "40",
        lower_deviation: -0.05,
        upper_deviation: 0.05,
      };
      features.push({ ...width, gauge_id: gauge.gauge_id });
      const part = await create(api, "/v1/parts", { number: "LN-05", revision: "A", unit: "mm", features });
      const batch = await create(api, "/v1/batches", { name: "LN-05", part_id: part.part_id, machine_id });
      const sizes = [...deep.map((error, i) => sum(5 + 4 * i, error)), 40];
      await create(
        api,
        "/v1/readings",
        sizes.map((value, i) => ({
          feature_id: part.features[i].feature_id,
          batch_id: batch.batch_id,
          piece: 1,
          value,
          unit: "mm",
        })),
      );

      const { body } = await api.get(`/v1/batches/${batch.batch_id}/diagnosis`);

      expect(kinds(body)).toEqual(["work_zero"]);
      expect(body.causes[0].next_step).toMatch(/leave the tool offsets alone/);
      expect(body.causes[0].work_offset_changes).toMatchObject([
        { register_id: offset.register_id, change: expected("change_work_offset_z"), value_now: 0 },
      ]);
      expect(body.cautions[0]).toMatch(/Check sign, register and decimal point/);
      expect(expected("change_tools")).toBe(0);
    },
  );

  it(titleOf("PS-04", "off in proportion to length: warmth or scale, let it settle, no offset"), async () => {
    const { expected } = tradeCase("PS-04");
    const lengths = [100, 200, 300];
    const errors = [0.01, 0.02, 0.03];
    const job = await startJob(api, {
      registers: [{ controls: "axial" }],
      part: { material: "aluminium" },
      gauge: { kind: "coordinate_machine" },
      features: lengths.map((nominal, i) => ({
        characteristic: String(i + 1),
        kind: "length" as const,
        nominal: String(nominal),
        lower_deviation: -0.02,
        upper_deviation: 0.02,
        cut: null,
      })),
    });
    await job.read(1, Object.fromEntries(lengths.map((length, i) => [i + 1, sum(length, errors[i]!)])));

    const diagnosis = await job.get(`/v1/batches/${job.batchId}/diagnosis`);

    const [cause] = diagnosis.causes;
    expect(cause).toMatchObject({ cause: "warmth", explains: true, chi_square: 0, work_offset_changes: [] });
    expect(cause.amounts).toMatchObject([
      { of: "growth", value: expected("scale"), unit: "µm/m" },
      { of: "temperature_rise", value: expected("equivalent_temperature_rise"), unit: "K" },
    ]);
    expect(cause.next_step).toMatch(/same temperature and measure again.*no offset/);
    expect(cause.weight).toBeGreaterThan(0.9);
  });
});
