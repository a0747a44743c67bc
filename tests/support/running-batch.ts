import type { Agent } from "supertest";
import { create, featureBody, gaugeBody, machineBody, partBody, toolBody } from "./shop.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

let shops = 0;

/**
 * A mill with one end mill, a micrometer, a part and an open batch, and short ways to post to it. Feature bodies may say
 * `cut_by` with `"radial"` or `"axial"` for the end mill's registers.
 */
export async function runningBatch(
  api: Agent,
  options: {
    features?: Answer[];
    machine?: object;
    tool?: object;
    gauge?: object;
    part?: object;
    quantity?: number;
    seats?: string[];
  } = {},
) {
  const name = `shop-${++shops}`;
  const machine = await create(
    api,
    "/v1/machines",
    machineBody({ name, largest_change_towards_work: 0.2, ...options.machine }),
  );
  const tool = await create(
    api,
    "/v1/tools",
    toolBody(machine.machine_id, {
      life_pieces: 120,
      registers: [
        { number: 7, label: "D7 wear", controls: "radial", holds: "radius", value: 0 },
        { number: 57, label: "H57 wear", controls: "axial", value: 0 },
      ],
      ...options.tool,
    }),
  );
  const gauge = await create(api, "/v1/gauges", gaugeBody({ name: `${name} micrometer`, ...options.gauge }));
  const registers = { radial: tool.registers[0]?.register_id, axial: tool.registers[1]?.register_id };
  const features = (
    options.features ?? [{ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 }]
  ).map((feature) => ({
    ...featureBody({ gauge_id: gauge.gauge_id, operation: undefined }),
    ...feature,
    cut_by: (feature.cut_by ?? [{ register: "radial", walls: 2 }]).map(
      ({ register, ...cut }: { register?: "radial" | "axial" }) =>
        register ? { register_id: registers[register], ...cut } : cut,
    ),
  }));
  const part = await create(api, "/v1/parts", partBody(features, { number: name, ...options.part }));
  const batch = await create(api, "/v1/batches", {
    name: `${name}-1`,
    part_id: part.part_id,
    machine_id: machine.machine_id,
    ...(options.quantity !== undefined && { quantity: options.quantity }),
    ...(options.seats !== undefined && { seats: options.seats }),
  });
  const reading = (piece: number, value: number | string, change: object = {}) => ({
    batch_id: batch.batch_id,
    feature_id: part.features[0].feature_id,
    piece,
    value,
    unit: part.unit,
    ...change,
  });
  return {
    machine,
    tool,
    gauge,
    part,
    batch,
    registers,
    reading,
    /** Posts one reading of the first feature, or of another by `feature_id`. */
    read: (piece: number, value: number | string, change: object = {}): Promise<Answer> =>
      create(api, "/v1/readings", reading(piece, value, change)),
    /** Applies the change that is proposed, from a piece on. */
    apply: async (from_piece: number, change: object = {}): Promise<Answer> => {
      const { body } = await api.get(`/v1/corrections?status=proposed&batch_id=${batch.batch_id}`);
      const open = body.items.find((item: Answer) => item.kind === "change");
      if (!open) throw new Error("no change is proposed");
      const response = await api
        .post(`/v1/corrections/${open.correction_id}/apply`)
        .send({ from_piece, ...change });
      if (response.status !== 200) throw new Error(response.text);
      return response.body;
    },
    proposals: async (): Promise<Answer[]> =>
      (await api.get(`/v1/corrections?status=proposed&batch_id=${batch.batch_id}`)).body.items,
    wear: async (): Promise<Answer> => (await api.get(`/v1/tools/${tool.tool_id}/wear`)).body,
    checks: async (piece?: number): Promise<Answer> =>
      (await api.get(`/v1/batches/${batch.batch_id}/checks${piece === undefined ? "" : `?piece=${piece}`}`))
        .body,
  };
}
