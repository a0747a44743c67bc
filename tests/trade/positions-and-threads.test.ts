import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, gaugeBody, machineBody, toolBody } from "../support/shop.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import type { Answer } from "../support/trade-job.js";

const { api } = await createTestApp();

let shops = 0;

/** A mill with work offsets in X and Y, a coordinate machine, and an open batch of a part with these features. */
async function openBatch(features: object[]) {
  const name = `job ${++shops}`;
  const { machine_id } = await create(
    api,
    "/v1/machines",
    machineBody({ name, largest_change_towards_work: null }),
  );
  const registers = `/v1/machines/${machine_id}/registers`;
  const workX = await create(api, registers, { number: 54, label: "G54 X", controls: "work_x" });
  const workY = await create(api, registers, { number: 54, label: "G54 Y", controls: "work_y" });
  const kind = "coordinate_machine";
  const gauge = await create(
    api,
    "/v1/gauges",
    gaugeBody({ name: `${name} ${kind}`, kind, resolution: 0.0001 }),
  );
  const part = await create(api, "/v1/parts", {
    number: name,
    revision: "A",
    unit: "mm",
    features: features.map((feature, i) => ({
      characteristic: String(i + 1),
      gauge_id: gauge.gauge_id,
      ...feature,
    })),
  });
  const { batch_id } = await create(api, "/v1/batches", { name, part_id: part.part_id, machine_id });
  const read = (list: object[], piece = 1): Promise<Answer> =>
    create(
      api,
      "/v1/readings",
      list.map((reading, i) => ({ batch_id, characteristic: String(i + 1), piece, ...reading })),
    );
  return { batch_id, machine_id, workX, workY, read };
}

describe("positions of holes", () => {
  it(
    titleOf("PS-01", "all off the same way: the work zero by these changes, no tool, and the part is out"),
    async () => {
      const { given, expected } = tradeCase("PS-01");
      const deviations = (tradeCase("PS-01").raw("deviations") as { value: number }[][]).map(
        ([x, y]) => [x!.value, y!.value] as const,
      );
      const places = [
        [40, 25],
        [-40, 25],
        [-40, -25],
        [40, -25],
      ] as const;
      const shop = await openBatch(
        places.map(([x, y]) => ({
          kind: "position",
          upper_limit: given("position_tolerance"),
          at: { x, y, z: 0 },
        })),
      );
      const offsets = (by: readonly (readonly [number, number])[]) =>
        by.map(([dx, dy]) => ({ dx, dy, unit: "mm" }));

      const before = await shop.read(offsets(deviations));
      const { body: diagnosis } = await api.get(`/v1/batches/${shop.batch_id}/diagnosis`);
      const [x, y] = [expected("change_work_offset_x"), expected("change_work_offset_y")];
      const after = await shop.read(offsets(deviations.map(([dx, dy]) => [sum(dx, x), sum(dy, y)])), 2);

      const worst = (answer: Answer) => Math.max(...answer.readings.map(({ size }: Answer) => size));
      expect(Number(worst(before).toFixed(3))).toBe(expected("worst_position_before"));
      expect(Number(worst(after).toFixed(4))).toBe(expected("worst_position_after"));
      for (const { verdict, disposition } of before.readings) {
        expect([verdict, disposition]).toEqual(["nonconforming", "scrap"]);
      }
      for (const { disposition } of after.readings) expect(disposition).toBe("accept");
      expect(before.corrections).toEqual([]);
      expect(before.next).toMatchObject({ action: "stop" });
      expect(diagnosis.causes[0]).toMatchObject({ cause: "work_zero", explains: true });
      expect(diagnosis.causes[0].work_offset_changes).toMatchObject([
        { register_id: shop.workX.register_id, change: x },
        { register_id: shop.workY.register_id, change: y },
      ]);
    },
  );

  it(titleOf("PS-03", "opposite at opposite ends: a turned part, straightened and not offset"), async () => {
    const { given, expected } = tradeCase("PS-03");
    const shop = await openBatch(
      [given("x1"), given("x2")].map((x) => ({
        kind: "position",
        upper_limit: 0.05,
        at: { x, y: 0, z: 0 },
      })),
    );

    const { readings, corrections } = await shop.read(
      [given("dy1"), given("dy2")].map((dy) => ({ dx: 0, dy, unit: "mm" })),
    );
    const { body: diagnosis } = await api.get(`/v1/batches/${shop.batch_id}/diagnosis`);

    for (const { verdict } of readings) expect(verdict).toBe("nonconforming");
    expect(corrections).toEqual([]);
    const [turned] = diagnosis.causes;
    expect(turned).toMatchObject({ cause: "part_turned", work_offset_changes: [] });
    const angle = turned.amounts.find(({ unit }: Answer) => unit === "deg" || unit === "°");
    expect(Math.abs(angle.value)).toBeCloseTo(expected("rotation"), 3);
    expect(expected("mean_shift_y")).toBe(0);
  });

  it(titleOf("PS-06", "a hole bigger than its smallest size earns the difference"), async () => {
    const { given, expected } = tradeCase("PS-06");
    const lower = given("mmc_size");
    const bore = { kind: "internal", nominal: lower, lower_deviation: 0, upper_deviation: 0.2 };
    const position = {
      kind: "position",
      upper_limit: given("stated_tolerance"),
      material_condition: "maximum",
      size_of: { characteristic: "1" },
    };
    const shop = await openBatch([bore, position]);

    const { readings } = await shop.read([
      { value: given("actual_size"), unit: "mm" },
      { value: given("position"), unit: "mm" },
    ]);

    expect(readings[1]).toMatchObject({
      bonus: expected("bonus"),
      upper_limit: expected("allowed"),
      verdict: "conforming",
      disposition: "accept",
    });
  });

  it(
    titleOf("PS-09", "of a leaning hole the pin that fits counts, and whoever reads it is told so"),
    async () => {
      const { given, expected } = tradeCase("PS-09");
      // The case gives the smallest size only; the largest is taken as 0.2 above it.
      const lower = given("mmc_size");
      const shop = await openBatch([
        {
          kind: "position",
          upper_limit: given("stated_tolerance"),
          material_condition: "maximum",
          size_of: { kind: "internal", lower_limit: lower, upper_limit: sum(lower, 0.2) },
        },
      ]);
      const pin = sum(given("measured_size"), -given("out_of_square"));

      const { readings } = await shop.read([{ value: expected("allowed"), size: pin, unit: "mm" }]);

      expect(readings[0]).toMatchObject({
        bonus: expected("usable_bonus"),
        upper_limit: expected("allowed"),
        verdict: "conforming",
      });
      expect(readings[0].arithmetic.at(-1)).toMatch(/largest pin .* fits square to the datums/);
    },
  );

  it(titleOf("DS-08", "no re-cut moves it: set aside, and repair needs somebody's authority"), async () => {
    const { given } = tradeCase("DS-08");
    const shop = await openBatch([{ kind: "position", upper_limit: given("position_tolerance") }]);

    const { readings, next } = await shop.read([{ value: given("position"), unit: "mm" }]);

    expect(readings[0]).toMatchObject({
      verdict: "nonconforming",
      disposition: "scrap",
      hold: { from_piece: 1, to_piece: 1 },
    });
    expect(next.why).toMatch(/not moved by cutting it again.*repair, and needs the customer/);
    const decide = (body: object) => api.post(`/v1/batches/${shop.batch_id}/pieces/1/decision`).send(body);
    const alone = await decide({ decision: "repair" });
    expect(alone.status).toBe(400);
    expect(alone.body.errors[0].pointer).toBe("/authority");
    expect((await decide({ decision: "repair", authority: "customer, letter 7" })).status).toBe(201);
  });
});

/** A thread-milled inside thread with a step of the mill's register to try, gauged by a GO and NO-GO plug. */
async function thread(standard: "iso_metric" | "unified" = "iso_metric") {
  const name = `thread ${++shops}`;
  const { machine_id } = await create(api, "/v1/machines", machineBody({ name }));
  const registers = [{ number: 9, label: "D9 wear", controls: "radial", holds: "radius", value: 0 }];
  const tool = await create(api, "/v1/tools", toolBody(machine_id, { kind: "thread_mill", registers }));
  const plug = await create(
    api,
    "/v1/gauges",
    gaugeBody({ name: `${name} plug`, kind: "thread_gauge", resolution: null }),
  );
  const part = await create(api, "/v1/parts", {
    number: name,
    revision: "A",
    unit: "mm",
    features: [
      {
        characteristic: "1",
        name: "M8",
        kind: "go_no_go",
        gauged: "internal_thread",
        thread_standard: standard,
        gauge_id: plug.gauge_id,
        cut_by: [{ register_id: tool.registers[0].register_id, step: 0.01 }],
      },
    ],
  });
  const { batch_id } = await create(api, "/v1/batches", { name, part_id: part.part_id, machine_id });
  return {
    read: (piece: number, result: string, more: object = {}): Promise<Answer> =>
      create(api, "/v1/readings", { batch_id, characteristic: "1", piece, result, ...more }),
  };
}

describe("threads by GO and NO-GO", () => {
  it(titleOf("TR-12", "GO will not enter: small, opened in small steps, never forced"), async () => {
    const shop = await thread();

    const { readings, corrections, next } = await shop.read(1, "go_refuses");

    expect(readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });
    expect(readings[0].advice).toMatch(/D9 wear of tool 7 by -0\.010 mm.*gauge after each step/);
    expect(corrections).toEqual([]);
    expect(next.why).toMatch(/burr and chips.*never force a gauge/);
    expect((await shop.read(1, "pass", { cut: 2 })).readings[0]).toMatchObject({ disposition: "accept" });
  });

  it(titleOf("TR-13", "NO-GO enters fully: large, not to be reworked, the next one set right"), async () => {
    const shop = await thread();

    const { readings, next } = await shop.read(1, "no_go_enters");

    expect(readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "scrap" });
    expect(readings[0].advice).toMatch(/by \+0\.010 mm.*from the next piece on/);
    expect(next.why).toMatch(/cannot be brought back to size.*thread tool or tap/);
  });

  it.each([
    ["iso_metric", "nonconforming"],
    ["unified", "conforming"],
  ] as const)(
    `${titleOf("GA-07", "the standard on the drawing decides")}: %s is %s`,
    async (standard, verdict) => {
      const { given } = tradeCase("GA-07");
      const shop = await thread(standard);

      const { readings } = await shop.read(1, "no_go_enters", { turns: given("turns") });

      expect(readings[0]).toMatchObject({ verdict, turns: given("turns") });
      expect(readings[0].why).toMatch(standard === "unified" ? /that is allowed/ : /too far/);
      // Definite drag by the third turn, the last that a unified thread allows.
      const drag = await shop.read(2, "no_go_enters", { turns: given("drag_by_turn") });
      expect(drag.readings[0].verdict).toBe(verdict);
    },
  );
});
