import type { Schemas, ServiceClient } from "./service-client.js";
import type { Facts } from "./simulator.js";

type SimFeature = Facts["features"][number];

/** Names of two sides for the same things. */
export class Names {
  private readonly there = new Map<string, string>();
  private readonly here = new Map<string, string>();

  add(sim: string, service: string): void {
    this.there.set(sim, service);
    this.here.set(service, sim);
  }

  toService(sim: string): string {
    return found(this.there, sim);
  }

  toSim(service: string): string {
    return found(this.here, service);
  }
}

function found(map: ReadonlyMap<string, string>, name: string): string {
  const value = map.get(name);
  if (value === undefined) throw new RangeError(`${name} was not set up`);
  return value;
}

/** What the service has been told of a shop. */
export interface ServiceShop {
  machineId: string;
  tools: Names;
  registers: Names;
  gauges: Names;
  features: Names;
  /** Work offsets by `register@seat`. */
  workOffsets: Names;
  /** Parts by the name they have in the simulator; undefined: the only one. */
  partIds: Map<string | undefined, string>;
}

/** Sets up machine, tools with their registers, work offsets of the seats, gauges and parts, as an engineer would. */
export async function setUpShop(client: ServiceClient, facts: Facts, name: string): Promise<ServiceShop> {
  const leastIncrement = Math.min(...facts.registers.map((r) => r.leastIncrement));
  const machine = await client.post<Schemas["Machine"]>("/v1/machines", {
    name,
    kind: "mill",
    unit: "mm",
    least_increment: leastIncrement,
    largest_change: 1,
  });
  const shop: ServiceShop = {
    machineId: machine.machine_id,
    tools: new Names(),
    registers: new Names(),
    gauges: new Names(),
    features: new Names(),
    workOffsets: new Names(),
    partIds: new Map(),
  };
  await setUpTools(client, facts, shop);
  await setUpWorkOffsets(client, facts, shop);
  await setUpGauges(client, facts, shop, name);
  for (const part of new Set(facts.features.map((f) => f.part)))
    await setUpPart(client, facts, shop, name, part);
  return shop;
}

async function setUpTools(client: ServiceClient, facts: Facts, shop: ServiceShop): Promise<void> {
  let number = 0;
  for (const [t, { id, plannedLife }] of facts.tools.entries()) {
    const mine = facts.registers.filter((r) => r.tool === id);
    const tool = await client.post<Schemas["Tool"]>("/v1/tools", {
      machine_id: shop.machineId,
      number: t + 1,
      name: id,
      kind: "end_mill",
      life_pieces: plannedLife,
      registers: mine.map((r) => ({
        number: ++number,
        label: r.id,
        controls: "radial",
        holds: "radius",
        value: r.value,
      })),
    });
    shop.tools.add(id, tool.tool_id);
    for (const { label, register_id } of tool.registers) shop.registers.add(label, register_id);
  }
}

async function setUpWorkOffsets(client: ServiceClient, facts: Facts, shop: ServiceShop): Promise<void> {
  const axes = ["work_x", "work_y", "work_z"];
  for (const [i, { id }] of (facts.seats?.registers ?? []).entries()) {
    for (let seat = 1; seat <= facts.seats!.count; seat++) {
      const path = `/v1/machines/${shop.machineId}/registers`;
      const register = await client.post<Schemas["MachineRegister"]>(path, {
        number: 53 + seat + 100 * Math.floor(i / axes.length),
        label: `${id} seat ${seat}`,
        controls: axes[i % axes.length],
        seat: String(seat),
      });
      shop.workOffsets.add(`${id}@${seat}`, register.register_id);
    }
  }
}

async function setUpGauges(
  client: ServiceClient,
  facts: Facts,
  shop: ServiceShop,
  name: string,
): Promise<void> {
  for (const [id, gauge] of Object.entries(facts.gauges)) {
    // Where a feature has a reference gauge, its other gauges only steer, as a probe in the machine does.
    const steersOnly =
      !gauge.reference &&
      facts.features.some((f) => f.gauges?.includes(id) && f.gauges.some((g) => facts.gauges[g]!.reference));
    const { gauge_id } = await client.post<Schemas["Gauge"]>("/v1/gauges", {
      name: `${name} ${id}`,
      kind: steersOnly ? "machine_probe" : gauge.reference ? "coordinate_machine" : "micrometer",
      unit: "mm",
      resolution: gauge.resolution,
      repeatability: gauge.repeatability,
      expanded_uncertainty: gauge.uncertainty,
    });
    shop.gauges.add(id, gauge_id);
  }
}

async function setUpPart(
  client: ServiceClient,
  facts: Facts,
  shop: ServiceShop,
  name: string,
  part: string | undefined,
): Promise<void> {
  const mine = facts.features.filter((f) => f.part === part);
  const created = await client.post<Schemas["Part"]>("/v1/parts", {
    number: part === undefined ? name : `${name} ${part}`,
    revision: "A",
    unit: "mm",
    features: mine.map((f, i) => featureBody(f, i, facts, shop)),
  });
  mine.forEach((f, i) => {
    shop.features.add(f.id, created.features[i]!.feature_id);
  });
  shop.partIds.set(part, created.part_id);
}

function featureBody(f: SimFeature, position: number, facts: Facts, shop: ServiceShop) {
  const reference = f.gauges?.find((g) => facts.gauges[g]!.reference);
  const seats = Array.from({ length: facts.seats?.count ?? 0 }, (_, i) => i + 1);
  const byTool = Object.entries(f.sensitivities).filter(([, effect]) => effect !== 0);
  const bySeat = Object.entries(f.seatSensitivities ?? {});
  return {
    characteristic: String(position + 1),
    name: f.id,
    kind: f.metal === -1 ? "internal" : "external",
    nominal: f.nominal,
    lower_limit: f.lower,
    upper_limit: f.upper,
    target: f.target,
    gauge_id: shop.gauges.toService(f.gauge),
    reference_gauge_id: reference && shop.gauges.toService(reference),
    cut_by: [
      ...byTool.map(([id, effect]) => ({ register_id: shop.registers.toService(id), effect })),
      ...bySeat.flatMap(([id, effect]) =>
        seats.map((seat) => ({ register_id: shop.workOffsets.toService(`${id}@${seat}`), effect })),
      ),
    ],
  };
}
