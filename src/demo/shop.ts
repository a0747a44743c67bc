import type { Client } from "./client.js";
import { type FeaturePlan, finalFeatures } from "./final-features.js";

/** A small shop of our own invention: what is set up once, before the shift begins. */

const machines = {
  mill: {
    name: "mill 1",
    kind: "mill",
    unit: "mm",
    least_increment: 0.001,
    largest_change: 0.2,
    largest_change_towards_work: 0.1,
    line_template: "WEAR {register} ADD {change} SHOWS {value_after}",
  },
  lathe: {
    name: "lathe 1",
    kind: "lathe",
    unit: "mm",
    least_increment: 0.001,
    largest_change: 0.2,
    largest_change_towards_work: 0.1,
    line_template: "WEAR {register} ADD {change} SHOWS {value_after}",
  },
};

const tools = {
  endMill: {
    machine: "mill",
    number: 7,
    name: "10 mm finishing end mill",
    kind: "end_mill",
    nominal_diameter: 10,
    life_pieces: 120,
    registers: [
      { number: 7, label: "D7 wear", controls: "radial", holds: "radius", value: 0, largest_total: 0.15 },
      { number: 57, label: "H57 wear", controls: "axial", value: 0, largest_total: 0.2 },
    ],
  },
  drill: {
    machine: "mill",
    number: 12,
    name: "5.5 mm drill",
    kind: "drill",
    nominal_diameter: 5.5,
    life_pieces: 400,
    registers: [],
  },
  tap: {
    machine: "mill",
    number: 15,
    name: "M6 tap",
    kind: "tap",
    nominal_diameter: 6,
    life_pieces: 300,
    registers: [],
  },
  insert: {
    machine: "lathe",
    number: 1,
    name: "finishing insert",
    kind: "turning",
    life_pieces: 80,
    registers: [
      { number: 1, label: "X1 wear", controls: "x", holds: "diameter", value: 0, largest_total: 0.2 },
      { number: 21, label: "Z1 wear", controls: "z", value: 0, largest_total: 0.2 },
    ],
  },
  boringBar: {
    machine: "lathe",
    number: 3,
    name: "boring bar",
    kind: "boring",
    life_pieces: 150,
    registers: [
      { number: 3, label: "X3 wear", controls: "x", holds: "diameter", value: 0, largest_total: 0.2 },
    ],
  },
} as const;

const gauges = {
  calliper: {
    name: "calliper no. 1",
    kind: "calliper",
    unit: "mm",
    resolution: 0.01,
    repeatability: 0.006,
    expanded_uncertainty: 0.02,
  },
  micrometer: {
    name: "micrometer 0-25",
    kind: "micrometer",
    unit: "mm",
    resolution: 0.001,
    repeatability: 0.0012,
    expanded_uncertainty: 0.003,
  },
  boreGauge: {
    name: "bore gauge 10-18",
    kind: "bore_gauge",
    unit: "mm",
    resolution: 0.001,
    repeatability: 0.001,
    expanded_uncertainty: 0.003,
    reads: "deviation",
    master_size: "12.002",
  },
  coordinateMachine: {
    name: "coordinate machine",
    kind: "coordinate_machine",
    unit: "mm",
    resolution: 0.0001,
    repeatability: 0.0003,
    expanded_uncertainty: 0.001,
  },
  protractor: {
    name: "bevel protractor",
    kind: "protractor",
    unit: "deg",
    resolution: "5'",
    repeatability: "2'",
    expanded_uncertainty: "5'",
  },
  roughnessTester: {
    name: "roughness tester",
    kind: "other",
    unit: "mm",
    resolution: "0.00001",
    repeatability: "0.00002",
    expanded_uncertainty: "0.0001",
  },
  threadPlug: { name: "thread plug M6", kind: "thread_gauge", unit: "mm" },
  probe: {
    name: "probe of mill 1",
    kind: "machine_probe",
    unit: "mm",
    resolution: 0.001,
    repeatability: 0.0015,
    expanded_uncertainty: 0.006,
  },
};

const turned = { operation: "10" };
const milled = { operation: "20" };
const boltHole = (order: number): FeaturePlan => ({
  ...milled,
  characteristic: String(13 + order),
  name: `Bolt hole ${order}`,
  kind: "internal",
  nominal: "5.5", // without limits of its own: the part's general tolerance, class m
  gauge: "calliper",
  tool: "drill",
  pattern: { name: "bolt holes", order, of: 3 },
});

const features: FeaturePlan[] = [
  {
    ...turned,
    characteristic: "1",
    name: "Spigot diameter",
    kind: "external",
    nominal: "24",
    lower_deviation: "-0.021",
    upper_deviation: "0",
    target: "23.990",
    gauge: "micrometer",
    register: "X1 wear",
  },
  {
    ...turned,
    characteristic: "2",
    name: "Flange thickness",
    kind: "length",
    nominal: "8",
    lower_deviation: "-0.05",
    upper_deviation: "0.05",
    gauge: "calliper",
    register: "Z1 wear",
    plus_makes: "bigger",
  },
  {
    ...turned,
    characteristic: "3",
    name: "Bore diameter",
    kind: "internal",
    nominal: "12",
    fit: "H7",
    importance: "critical",
    gauge: "boreGauge",
    register: "X3 wear",
  },
  {
    ...milled,
    characteristic: "11",
    name: "Tongue width",
    kind: "external",
    nominal: "12",
    lower_deviation: "-0.03",
    upper_deviation: "0.03",
    gauge: "micrometer",
    register: "D7 wear",
    walls: 2,
  },
  {
    ...milled,
    characteristic: "12",
    name: "Slot width",
    kind: "internal",
    nominal: "16",
    lower_deviation: "-0.05",
    upper_deviation: "0.05",
    gauge: "calliper",
    register: "D7 wear",
    walls: 2,
  },
  {
    ...milled,
    characteristic: "13",
    name: "Slot depth",
    kind: "depth",
    nominal: "5",
    lower_deviation: "-0.08",
    upper_deviation: "0.08",
    gauge: "calliper",
    register: "H57 wear",
  },
  boltHole(1),
  boltHole(2),
  boltHole(3),
  {
    ...milled,
    characteristic: "17",
    name: "Tongue height",
    kind: "height",
    nominal: "4",
    lower_deviation: "-0.08",
    upper_deviation: "0.08",
    gauge: "calliper",
    register: "H57 wear",
  },
  ...finalFeatures,
];

const part = {
  number: "DH-310",
  revision: "A",
  name: "Drive hub",
  unit: "mm",
  material: "steel",
  decision_rule: "simple",
  general_tolerance: "mK",
};

export const batches = {
  mill: { name: "M-70", operation: "20", quantity: 60 },
  lathe: { name: "L-71", operation: "10", quantity: 60 },
  /** Opened when the first piece comes off the machine, done. */
  bench: { name: "M-72", operation: "30", quantity: 60 },
};
export type Place = keyof typeof batches;
export type ToolName = keyof typeof tools;

export interface ShopFeature {
  feature_id: string;
  characteristic: string;
  name: string;
  operation: string;
  lower_limit: number | null;
  upper_limit: number | null;
  target: number | null;
  importance: string;
  gauge_id: string | null;
  cut_by: { register_id: string | null; tool_id: string; effect: number | null }[];
}

export interface ShopTool {
  tool_id: string;
  machine_id: string;
  number: number;
  name: string;
  registers: { register_id: string; label: string }[];
}

export interface OpenBatch {
  batch_id: string;
  name: string;
}

/** What the service answered when the shop was set up, by our own names. */
export interface Shop {
  part: {
    part_id: string;
    number: string;
    revision: string;
    name: string;
    unit: string;
    decision_rule: string;
    features: ShopFeature[];
  };
  batches: Record<"mill" | "lathe", OpenBatch> & Partial<Record<Place, OpenBatch>>;
  tools: Record<ToolName, ShopTool>;
  gauges: Record<string, { gauge_id: string; name: string }>;
  machines: Record<keyof typeof machines, { machine_id: string; name: string }>;
  registers: Map<string, { register_id: string; tool: ShopTool }>;
}

/** Sets the shop up through the service. @param calibrationDue last day of all gauges' calibration: "2027-03-01" */
export async function setUpShop(client: Client, calibrationDue: string): Promise<Shop> {
  const machine = await eachOf(machines, (body) =>
    client.post<Shop["machines"]["mill"]>("/v1/machines", body),
  );
  const tool = await eachOf(tools, ({ machine: place, ...body }) =>
    client.post<ShopTool>("/v1/tools", { ...body, machine_id: machine[place].machine_id }),
  );
  const gauge = await eachOf(gauges, (body) =>
    client.post<Shop["gauges"][string]>("/v1/gauges", { ...body, calibration_due: calibrationDue }),
  );
  const registers: Shop["registers"] = new Map();
  for (const one of Object.values(tool)) {
    for (const { label, register_id } of one.registers) registers.set(label, { register_id, tool: one });
  }
  const created = await client.post<Shop["part"]>("/v1/parts", {
    ...part,
    features: features.map((plan) => featureBody(plan, { registers, tool, gauge })),
  });
  const { mill, lathe } = batches;
  const batch = await eachOf({ mill, lathe }, (body, place) =>
    client.post<OpenBatch>("/v1/batches", {
      ...body,
      part_id: created.part_id,
      machine_id: machine[place].machine_id,
    }),
  );
  return { part: created, batches: batch, tools: tool, gauges: gauge, machines: machine, registers };
}

function featureBody(
  plan: FeaturePlan,
  made: Pick<Shop, "registers"> & { tool: Shop["tools"]; gauge: Shop["gauges"] },
): object {
  const { gauge, register, tool, walls, plus_makes, ...body } = plan;
  const cut =
    register === undefined
      ? tool && { tool_id: made.tool[tool as ToolName].tool_id }
      : { register_id: made.registers.get(register)!.register_id, walls, plus_makes };
  return { ...body, gauge_id: gauge && made.gauge[gauge]!.gauge_id, cut_by: cut ? [cut] : [] };
}

/** One after the other, so that ids come in the order of the table. */
async function eachOf<Name extends string, Body, Answer>(
  table: Readonly<Record<Name, Body>>,
  create: (body: Body, name: Name) => Promise<Answer>,
): Promise<Record<Name, Answer>> {
  const made: [string, Answer][] = [];
  for (const [name, body] of Object.entries(table) as [Name, Body][]) {
    made.push([name, await create(body, name)]);
  }
  return Object.fromEntries(made) as Record<Name, Answer>;
}
