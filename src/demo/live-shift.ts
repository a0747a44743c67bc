import { setTimeout as delay } from "node:timers/promises";
import type { Client, Correction, NextStep, ReadingsAnswer, Wear } from "./client.js";
import { type CutFeature, SimulatedMill } from "./simulated-mill.js";

/** A machine of its own beside the story's, which goes on cutting while somebody looks at the page. */

const by = "simulated shift";
const gauges = [
  {
    name: "micrometer no. 4",
    kind: "micrometer",
    resolution: 0.001,
    repeatability: 0.001,
    expanded_uncertainty: 0.003,
  },
  {
    name: "depth gauge no. 2",
    kind: "other",
    resolution: 0.01,
    repeatability: 0.004,
    expanded_uncertainty: 0.01,
  },
];
const features = [
  {
    body: {
      characteristic: "1",
      name: "Guide width",
      kind: "external",
      nominal: "14",
      lower_deviation: -0.025,
      upper_deviation: 0.025,
    },
    gauge: 0,
    cut: { register: 0, walls: 2 },
    behaviour: { offset: 0.004, perPiece: 0.0011, warm: -0.006, chip: 0.05, scatter: 0.0015 },
  },
  {
    body: {
      characteristic: "2",
      name: "Keyway width",
      kind: "internal",
      nominal: "8",
      lower_deviation: 0,
      upper_deviation: 0.036,
    },
    gauge: 0,
    cut: { register: 0, walls: 2 },
    behaviour: { offset: 0.016, perPiece: -0.0011, warm: 0.003, chip: -0.05, scatter: 0.0015 },
  },
  {
    body: {
      characteristic: "3",
      name: "Pocket depth",
      kind: "depth",
      nominal: "6",
      lower_deviation: -0.05,
      upper_deviation: 0.05,
    },
    gauge: 1,
    cut: { register: 1 },
    behaviour: { offset: 0.01, perPiece: -0.0009, warm: 0.008, chip: -0.02, scatter: 0.003 },
  },
];

/** Pieces of one job. */
const jobLength = 400;

interface SetUp {
  tool: { tool_id: string; registers: { register_id: string; label: string }[] };
  machine: { machine_id: string };
  part: {
    part_id: string;
    features: {
      feature_id: string;
      characteristic: string;
      cut_by: { register_id: string; effect: number }[];
    }[];
  };
}
interface Batch {
  batch_id: string;
  name: string;
  last_piece_cut: number;
  closed_at: string | null;
}
interface Plan {
  piece: number;
  features: { feature_id: string; gauge_id: string }[];
}
type Open = Correction & { tool_id: string | null; piece: number; reading_ids: string[] };

export interface Pace {
  /** From one piece to the next. */
  pieceMs: number;
  /** How long advice stands before the shift follows it, so that somebody at the page may do so first. */
  adviceMs: number;
}

/**
 * A shift that goes on until `signal`: cuts a piece, measures what the plan asks for, follows the advice. It asks the service what
 * stands, so that whoever enters something at the page beside it is heeded.
 */
export class LiveShift {
  private readonly mill: SimulatedMill;

  private constructor(
    private readonly client: Client,
    private readonly set: SetUp,
    private readonly cutFeatures: ReadonlyMap<string, CutFeature & { resolution: number }>,
    private batch: Batch,
    seed: number,
    private readonly quantity: number,
  ) {
    this.mill = new SimulatedMill(seed);
  }

  /** Sets the machine up and opens its first job. */
  static async begin(client: Client, { seed = 20_261, quantity = jobLength } = {}): Promise<LiveShift> {
    const machine = await client.post<SetUp["machine"]>("/v1/machines", {
      name: "mill 2",
      kind: "mill",
      unit: "mm",
      least_increment: 0.001,
      largest_change: 0.2,
      largest_change_towards_work: 0.1,
      line_template: "WEAR {register} ADD {change} SHOWS {value_after}",
    });
    const tool = await client.post<SetUp["tool"]>("/v1/tools", {
      machine_id: machine.machine_id,
      number: 3,
      name: "6 mm finishing end mill",
      kind: "end_mill",
      nominal_diameter: 6,
      life_pieces: 70,
      registers: [
        { number: 3, label: "D3 wear", controls: "radial", holds: "radius", value: 0, largest_total: 0.15 },
        { number: 53, label: "H53 wear", controls: "axial", value: 0, largest_total: 0.2 },
      ],
    });
    const calibration_due = new Date(Date.now() + 200 * 86_400_000).toISOString().slice(0, 10);
    const gaugeIds: string[] = [];
    for (const gauge of gauges) {
      const body = { ...gauge, unit: "mm", calibration_due };
      gaugeIds.push((await client.post<{ gauge_id: string }>("/v1/gauges", body)).gauge_id);
    }
    const part = await client.post<SetUp["part"]>("/v1/parts", {
      number: "GR-118",
      revision: "A",
      name: "Guide rail",
      unit: "mm",
      material: "steel",
      decision_rule: "simple",
      features: features.map(({ body, gauge, cut }) => ({
        ...body,
        gauge_id: gaugeIds[gauge],
        cut_by: [
          {
            register_id: tool.registers[cut.register]!.register_id,
            ...("walls" in cut && { walls: cut.walls }),
          },
        ],
      })),
    });
    const cutFeatures = new Map(
      part.features.map(({ feature_id, characteristic, cut_by }) => {
        const { body, behaviour, gauge } = features.find(
          (one) => one.body.characteristic === characteristic,
        )!;
        const effects = new Map(cut_by.map(({ register_id, effect }) => [register_id, effect]));
        const { resolution } = gauges[gauge]!;
        return [feature_id, { nominal: Number(body.nominal), ...behaviour, effects, resolution }];
      }),
    );
    const set = { machine, tool, part };
    return new LiveShift(client, set, cutFeatures, await openBatch(client, set, 1, quantity), seed, quantity);
  }

  /** Goes on until `signal`. A refusal is no reason to stop: somebody may have closed the job, or keyed something beside it. */
  async run(signal: AbortSignal, pace: Pace, complain: (words: string) => void): Promise<void> {
    let complained = "";
    while (!signal.aborted) {
      try {
        const advice = await this.cutNext();
        await delay(pace.pieceMs, undefined, { signal });
        if (advice.length > 0) await delay(pace.adviceMs, undefined, { signal });
        await this.follow();
      } catch (error) {
        if (signal.aborted) return;
        const words = error instanceof Error ? error.message : String(error);
        if (words !== complained) complain(words);
        complained = words;
        await delay(pace.pieceMs, undefined, { signal }).catch(() => {});
      }
    }
  }

  /** Cuts the next piece and enters what is to be measured on it. @returns the advice that is open then */
  async cutNext(): Promise<Open[]> {
    const { client } = this;
    this.batch = await client.get<Batch>(`/v1/batches/${this.batch.batch_id}`);
    if (this.batch.closed_at !== null || this.batch.last_piece_cut >= this.quantity) await this.nextJob();
    const path = `/v1/batches/${this.batch.batch_id}`;
    const plan = await client.get<Plan>(`${path}/checks`);
    this.mill.cut();
    if (plan.features.length === 0) {
      await client.post<{ next: NextStep }>(`${path}/count`, { last_piece_cut: plan.piece });
    } else {
      const registers = await this.readRegisters();
      for (const { feature_id, gauge_id } of plan.features)
        await this.enter(plan.piece, feature_id, gauge_id, registers);
    }
    return this.listAdvice();
  }

  /** Does what is advised, as a shift would. */
  async follow(): Promise<void> {
    const { client } = this;
    for (const advice of await this.listAdvice()) {
      const path = `/v1/corrections/${advice.correction_id}`;
      if (advice.kind === "change") {
        await client.post(`${path}/apply`, { by });
      } else if (advice.kind === "measure_again") {
        await this.measureAgain(advice);
      } else if (advice.kind === "change_tool") {
        await this.changeEdge("worn");
      } else if (advice.kind === "find_cause") {
        const isTool = this.mill.isChipped;
        if (isTool) await this.changeEdge("chipped");
        await client.post(`${path}/finding`, { found: isTool ? "edge_changed" : "nothing", by });
      }
      // What one step has changed may have withdrawn the others.
      return;
    }
  }

  private async enter(
    piece: number,
    featureId: string,
    gaugeId: string,
    registers: ReadonlyMap<string, number>,
  ) {
    const feature = this.cutFeatures.get(featureId)!;
    await this.client.post<ReadingsAnswer>("/v1/readings", {
      batch_id: this.batch.batch_id,
      feature_id: featureId,
      piece,
      value: this.mill.measure(feature, registers, feature.resolution),
      unit: "mm",
      gauge_id: gaugeId,
      taken_by: by,
    });
  }

  /** The piece is still at hand: what was doubted on it is measured once more. */
  private async measureAgain({ piece, reading_ids }: Open): Promise<void> {
    const { items } = await this.client.get<{
      items: { reading_id: string; feature_id: string; gauge_id: string }[];
    }>(`/v1/readings?batch_id=${this.batch.batch_id}&piece=${piece}`);
    const registers = await this.readRegisters();
    const doubted = items.filter(({ reading_id }) => reading_ids.includes(reading_id));
    const measured = new Map(
      (doubted.length > 0 ? doubted : items).map((one) => [one.feature_id, one.gauge_id]),
    );
    for (const [featureId, gaugeId] of measured) await this.enter(piece, featureId, gaugeId, registers);
  }

  private async changeEdge(reason: "worn" | "chipped"): Promise<void> {
    const { tool_id, registers } = this.set.tool;
    const held = await this.readWear();
    await this.client.post(`/v1/tools/${tool_id}/edges`, {
      batch_id: this.batch.batch_id,
      reason,
      by,
      registers: registers.map(({ register_id }) => {
        const one = held.find((register) => register.register_id === register_id)!;
        return { register_id, value: one.proposed_start ?? 0 };
      }),
    });
    this.mill.changeEdge();
  }

  private async nextJob(): Promise<void> {
    const { client, batch } = this;
    if (batch.closed_at === null) {
      const path = `/v1/batches/${batch.batch_id}`;
      const { on_hold } = await client.get<{ on_hold: object[] }>(`${path}/holds`);
      if (on_hold.length > 0)
        await client.post(`${path}/decisions`, { pieces: on_hold, decision: "scrap", by });
      await client.post(`${path}/close`, { by });
    }
    this.batch = await openBatch(
      client,
      this.set,
      Number(batch.name.replace("R-", "")) - 90 + 1,
      this.quantity,
    );
  }

  private async readWear() {
    const { tool_id } = this.set.tool;
    const { registers } = await this.client.get<
      Omit<Wear, "registers"> & {
        registers: (Wear["registers"][number] & { register_id: string })[];
      }
    >(`/v1/tools/${tool_id}/wear`);
    return registers;
  }

  private async readRegisters(): Promise<Map<string, number>> {
    return new Map((await this.readWear()).map(({ register_id, value_now }) => [register_id, value_now]));
  }

  private async listAdvice(): Promise<Open[]> {
    const { items } = await this.client.get<{ items: Open[] }>(
      `/v1/corrections?status=proposed&batch_id=${this.batch.batch_id}`,
    );
    return items.filter(({ kind }) => kind !== "leave_alone");
  }
}

function openBatch(
  client: Client,
  { part, machine }: Pick<SetUp, "part" | "machine">,
  no: number,
  quantity: number,
): Promise<Batch> {
  const body = { name: `R-${90 + no}`, part_id: part.part_id, machine_id: machine.machine_id, quantity };
  return client.post<Batch>("/v1/batches", body);
}
