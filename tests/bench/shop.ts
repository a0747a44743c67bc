const tools = 10;

export interface Shop {
  batchId: string;
  gaugeId: string;
  /** Feature ids by tool. */
  features: string[][];
}

/** A mill with ten end mills, each of which cuts a feature outside and one inside, and an open batch. */
export async function setUp(address: string, name: string): Promise<Shop> {
  const post = async (path: string, body: object) => {
    const response = await fetch(new URL(path, address), {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    if (!response.ok) throw new Error(await response.text());
    // biome-ignore lint/suspicious/noExplicitAny: set-up of a load, not a client
    return (await response.json()) as any;
  };
  const machine = await post("/v1/machines", {
    name,
    kind: "mill",
    unit: "mm",
    least_increment: 0.001,
    largest_change: 0.2,
  });
  const gauge = await post("/v1/gauges", {
    name,
    kind: "micrometer",
    unit: "mm",
    resolution: 0.001,
    repeatability: 0.0012,
  });
  const registers: string[] = [];
  for (let t = 1; t <= tools; t++) {
    const tool = await post("/v1/tools", {
      machine_id: machine.machine_id,
      number: t,
      name: `end mill ${t}`,
      kind: "end_mill",
      life_pieces: 1_000_000,
      registers: [{ number: t, label: `D${t}`, controls: "radial", holds: "radius", value: 0 }],
    });
    registers.push(tool.registers[0].register_id);
  }
  const part = await post("/v1/parts", {
    number: name,
    revision: "A",
    unit: "mm",
    decision_rule: "simple",
    features: registers.flatMap((register_id, t) =>
      ["external", "internal"].map((kind, i) => ({
        characteristic: String(2 * t + i + 1),
        kind,
        nominal: "12",
        lower_deviation: -0.03,
        upper_deviation: 0.03,
        gauge_id: gauge.gauge_id,
        cut_by: [{ register_id, walls: 2 }],
      })),
    ),
  });
  const ids: string[] = part.features.map((feature: { feature_id: string }) => feature.feature_id);
  const batch = await post("/v1/batches", { name, part_id: part.part_id, machine_id: machine.machine_id });
  return {
    batchId: batch.batch_id,
    gaugeId: gauge.gauge_id,
    features: registers.map((_, t) => [ids[2 * t]!, ids[2 * t + 1]!]),
  };
}
