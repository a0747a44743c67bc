import type { Action, Check, LoopApi, MakePolicy, Policy, SimReading, Verdict } from "./closed-loop.js";
import type { Schemas, ServiceClient } from "./service-client.js";
import { type ServiceShop, setUpShop } from "./service-shop.js";
import type { Facts } from "./simulator.js";

type Correction = Schemas["Correction"];
type NextStep = Schemas["NextStep"];
type Reading = Schemas["Reading"];
type Plan = Schemas["CheckPlan"];

/** A batch, and where it lies among the pieces of the simulator. */
interface RunningBatch {
  batchId: string;
  firstPiece: number;
  lastPiece: number;
  /** Readings that the plan asked for and that have not arrived. */
  awaited: number;
  over: boolean;
}

interface PendingEdge {
  tool: string;
  reason: string;
  values: Map<string, number>;
}

/** What a client met that it did not expect. */
export interface Oddity {
  what: string;
  piece: number;
}

const mostRounds = 4;
const mostCuts = 3;
/** Ranges of pieces in one decision. */
const mostRanges = 100;

/**
 * A shop that does what the service says. It knows the wire alone: what to measure from the check plan, what to do from
 * `next` and the open corrections; what it does at the machine it posts. Pieces are numbered in each batch from 1.
 */
export class ServicePolicy implements Policy {
  readonly oddities: Oddity[] = [];
  private shop!: ServiceShop;
  private readonly batches: RunningBatch[] = [];
  private readonly ready: Promise<void>;
  private plan_: { piece: number; plan: Plan } | undefined;
  /** What the service said last, until it has been acted upon. */
  private next: NextStep | undefined;
  private open: Correction[] = [];
  private readonly sent = new Map<string, SimReading>();
  private readonly edgesFrom = new Set([1]);
  private edge: PendingEdge | undefined;
  /** Edges that were put in for a batch that is yet to be opened. */
  private readonly edgesAhead: PendingEdge[] = [];
  private edgesToCome = 0;
  private found: readonly string[] | undefined;
  /** What the piece in hand has come to, cut by cut. */
  private inHand: { piece: number; cut: number; readings: Reading[]; moved: Set<string> } = {
    piece: 0,
    cut: 1,
    readings: [],
    moved: new Set(),
  };

  constructor(
    private readonly client: ServiceClient,
    private readonly facts: Facts,
    private readonly name: string,
  ) {
    this.ready = this.setUp();
  }

  async startRegisters(): Promise<Record<string, number>> {
    await this.ready;
    const starts: Record<string, number> = {};
    for (const { id } of this.facts.tools) Object.assign(starts, await this.startsOf(id));
    return starts;
  }

  async onToolChange(tool: string, piece: number): Promise<Record<string, number>> {
    await this.ready;
    this.edgesFrom.add(piece);
    const values = new Map<string, number>();
    const edge = { tool, reason: this.found ? "chipped" : "worn", values };
    const starts = await this.startsOf(tool);
    if (this.facts.registers.some((r) => r.tool === tool)) this.edge = edge;
    else await this.postEdge(piece, edge);
    return starts;
  }

  async onBatch(part: string, piece: number): Promise<void> {
    const before = this.batches.at(-1)!;
    before.over = true;
    await this.closeWhereDone(before);
    await this.openBatch(part, piece);
    for (const edge of this.edgesAhead.splice(0)) await this.postEdge(piece, edge);
  }

  async onIdle(piece: number): Promise<void> {
    await this.ready;
    const { batchId, firstPiece } = this.batchOf(piece);
    const body = { from_piece: piece - firstPiece + 1, kind: "stop" };
    await this.client.post(`/v1/batches/${batchId}/interruptions`, body);
  }

  async hold(piece: number): Promise<boolean> {
    return (await this.planOf(piece)).wait_for_result;
  }

  async plan(piece: number, { cut }: { cut: number }): Promise<Check[]> {
    this.inHand = { piece, cut, readings: [], moved: cut > 1 ? this.inHand.moved : new Set() };
    const checks =
      cut > 1
        ? [...this.inHand.moved].map((feature) => ({ feature, sure: true }))
        : (await this.planOf(piece)).features.map((check) => this.toCheck(check));
    if (cut === 1) this.batchOf(piece).awaited += checks.length;
    return checks;
  }

  async onReadings(piece: number, list: SimReading[], now: number, api: LoopApi): Promise<Verdict> {
    const batch = this.batchOf(piece);
    const { firstPiece } = batch;
    if (now > piece && now <= batch.lastPiece) {
      const body = { last_piece_cut: now - firstPiece + 1 };
      await this.client.post(`/v1/batches/${batch.batchId}/count`, body);
    }
    let readings = await this.postReadings(batch, list);
    const all = [...readings];
    for (let round = 0; this.asksToMeasure(batch, now) && round < mostRounds; round++) {
      const again = await this.askedFor(batch, piece, all, api);
      if (again.length === 0) {
        this.oddities.push({ what: `measure, but nothing to measure: ${this.next?.why}`, piece });
        break;
      }
      readings = await this.postReadings(batch, again);
      all.push(...readings);
    }
    if (list.every(({ cut = 1 }) => cut === 1)) batch.awaited -= list.length;
    await this.closeWhereDone(batch);
    if (piece === this.inHand.piece) this.inHand.readings.push(...all);
    const verdict = verdictOf(all, piece - firstPiece + 1, firstPiece);
    return verdict.hold ? { out: true, hold: await this.openPieces(batch, verdict.hold) } : verdict;
  }

  /** Of pieces in doubt those that are still on hold and have not failed themselves: what is good need not be measured. */
  private async openPieces(
    { batchId, firstPiece }: RunningBatch,
    hold: { from: number; to: number },
  ): Promise<NonNullable<Verdict["hold"]>> {
    const holds = await this.client.get<Schemas["Holds"]>(`/v1/batches/${batchId}/holds?limit=500`);
    const failed = new Set(holds.items.flatMap(({ bad }) => bad.flatMap(piecesOf)));
    const open = holds.on_hold.flatMap(piecesOf).filter((piece) => !failed.has(piece));
    return { ...hold, pieces: open.map((piece) => piece + firstPiece - 1) };
  }

  async onHeld(list: SimReading[]): Promise<void> {
    const batch = this.batchOf(list[0]!.piece);
    await this.postReadings(batch, list);
  }

  async act(now: number): Promise<Action> {
    const { next } = this;
    this.next = undefined;
    if (next === undefined || next.action === "run_on" || next.action === "measure") return {};
    const batch = this.batchOf(now);
    if (now === batch.lastPiece) return {}; // nothing more is cut in it
    await this.listOpen(batch);
    const changes = this.open.filter(({ kind }) => kind === "change");
    const cause = this.open.some(({ kind }) => kind === "find_cause");
    // An edge near the end of its life is changed before the piece that is named.
    const local = now - batch.firstPiece + 1;
    const worn = this.open.find(({ kind, piece }) => kind === "change_tool" && piece <= local + 1);
    if (next.action === "stop" && !cause && !worn)
      this.oddities.push({ what: `stop without a cause or a tool: ${next.why}`, piece: now });
    const recut = changes.length > 0 && this.canCutAgain(now, changes);
    if (recut) this.inHand.moved = new Set(changes.flatMap((change) => this.featuresOf(change)));
    const action: Action = { changes: [], seatChanges: [], recut };
    for (const { register_id, change } of changes) {
      const offset = this.workOffsetOf(register_id!);
      if (offset) action.seatChanges!.push({ ...offset, delta: change });
      else action.changes!.push({ register: this.shop.registers.toSim(register_id!), delta: change });
    }
    if (cause) action.inspect = true;
    else if (worn) action.changeTool = this.shop.tools.toSim(worn.tool_id!);
    return action;
  }

  async noteRegister(
    id: string,
    fromPiece: number,
    value: number,
    why: "tool" | "correction",
  ): Promise<void> {
    const registerId = this.shop.registers.toService(id);
    if (why === "correction") return this.applyChange(registerId, fromPiece, value);
    if (!this.edge) return this.enter(registerId, fromPiece, value);
    const { edge } = this;
    edge.values.set(id, value);
    if (!this.facts.registers.every((r) => r.tool !== edge.tool || edge.values.has(r.id))) return;
    this.edge = undefined;
    await this.postEdge(fromPiece, edge);
  }

  async noteSeatRegister(id: string, seat: number, fromPiece: number, value: number): Promise<void> {
    await this.applyChange(this.shop.workOffsets.toService(`${id}@${seat}`), fromPiece, value);
  }

  async inspected(found: readonly string[], now: number): Promise<void> {
    this.found = found;
    this.edgesToCome = found.filter((what) => what.startsWith("edge:")).length;
    if (this.edgesToCome === 0) await this.postFindings(now + 1);
  }

  async close(): Promise<void> {
    await this.ready;
    for (const batch of this.batches) if (!batch.over || batch.awaited > 0) await this.closeBatch(batch);
  }

  private async setUp(): Promise<void> {
    this.shop = await setUpShop(this.client, this.facts, this.name);
    await this.openBatch(this.facts.batches?.[0]?.part, 1);
  }

  private async openBatch(part: string | undefined, firstPiece: number): Promise<void> {
    const { batches, pieces, seats } = this.facts;
    const lastPiece = (batches?.find((b) => b.fromPiece > firstPiece)?.fromPiece ?? pieces + 1) - 1;
    const { batch_id: batchId } = await this.client.post<Schemas["Batch"]>("/v1/batches", {
      name: `${this.name} from ${firstPiece}`,
      part_id: this.shop.partIds.get(part),
      machine_id: this.shop.machineId,
      quantity: lastPiece - firstPiece + 1,
      ...(seats && { seats: Array.from({ length: seats.count }, (_, i) => String(i + 1)) }),
    });
    this.batches.push({ batchId, firstPiece, lastPiece, awaited: 0, over: false });
  }

  private async closeWhereDone(batch: RunningBatch): Promise<void> {
    if (batch.over && batch.awaited === 0) await this.closeBatch(batch);
  }

  /** What is still on hold does not go out: it is scrapped before the batch is closed. */
  private async closeBatch({ batchId }: RunningBatch): Promise<void> {
    const path = `/v1/batches/${batchId}`;
    const { on_hold: pieces } = await this.client.get<Schemas["Holds"]>(`${path}/holds`);
    for (let i = 0; i < pieces.length; i += mostRanges) {
      const body = { pieces: pieces.slice(i, i + mostRanges), decision: "scrap" };
      await this.client.post(`${path}/decisions`, body);
    }
    await this.client.post(`${path}/close`, {});
  }

  private batchOf(piece: number): RunningBatch {
    return this.batches.findLast(({ firstPiece }) => firstPiece <= piece)!;
  }

  private async planOf(piece: number): Promise<Plan> {
    await this.ready;
    if (this.plan_?.piece !== piece) {
      const { batchId, firstPiece } = this.batchOf(piece);
      const path = `/v1/batches/${batchId}/checks?piece=${piece - firstPiece + 1}`;
      this.plan_ = { piece, plan: await this.client.get<Plan>(path) };
    }
    return this.plan_.plan;
  }

  private toCheck({ feature_id, gauge_id, sure_piece }: Plan["features"][number]): Check {
    const feature = this.shop.features.toSim(feature_id);
    return { feature, gauge: this.gaugeFor(feature, gauge_id), sure: sure_piece };
  }

  /** The gauge that the plan names, where the feature has several. */
  private gaugeFor(feature: string, gaugeId: string | null): string | undefined {
    const { gauges } = this.facts.features.find((f) => f.id === feature)!;
    return gauges && gaugeId !== null ? this.shop.gauges.toSim(gaugeId) : undefined;
  }

  private async postReadings(batch: RunningBatch, list: readonly SimReading[]): Promise<Reading[]> {
    const body = list.map((r) => ({
      batch_id: batch.batchId,
      feature_id: this.shop.features.toService(r.feature),
      piece: r.piece - batch.firstPiece + 1,
      value: r.reading,
      unit: "mm",
      gauge_id: this.shop.gauges.toService(r.gauge),
      ...(r.cut && { cut: r.cut }),
      ...(r.seat && { seat: String(r.seat) }),
      ...(r.pieceFrom !== undefined &&
        r.pieceFrom < r.piece && {
          piece_within: r.piece - Math.max(r.pieceFrom, batch.firstPiece) + 1,
        }),
    }));
    const answer = await this.client.post<Schemas["ReadingsAnswer"]>("/v1/readings", body);
    answer.readings.forEach(({ reading_id }, i) => {
      this.sent.set(reading_id, list[i]!);
    });
    this.next = answer.next;
    return answer.readings;
  }

  /** True where a piece that has been cut is to be measured, again or further. */
  private asksToMeasure({ firstPiece }: RunningBatch, now: number): boolean {
    return this.next?.action === "measure" && this.next.piece + firstPiece - 1 <= now;
  }

  /** Readings that are to be repeated; else what the plan of the piece in hand still lacks. */
  private async askedFor(
    batch: RunningBatch,
    piece: number,
    all: readonly Reading[],
    api: LoopApi,
  ): Promise<SimReading[]> {
    await this.listOpen(batch);
    const questions = this.open.filter(({ kind }) => kind === "measure_again");
    const again = new Map<string, SimReading>();
    for (const { reading_ids, gauge_id } of questions) {
      for (const id of reading_ids) {
        const before = this.sent.get(id);
        if (!before) continue;
        const gauge = gauge_id === null ? before.gauge : this.shop.gauges.toSim(gauge_id);
        again.set(`${before.piece} ${before.feature} ${gauge}`, { ...before, gauge });
      }
    }
    const repeated = [...again.values()].map((before) => ({
      ...before,
      reading: api.remeasure(before.piece, before.feature, before.gauge),
    }));
    if (repeated.length > 0 || questions.length > 0) return repeated;
    const local = piece - batch.firstPiece + 1;
    const plan = await this.client.get<Plan>(`/v1/batches/${batch.batchId}/checks?piece=${local}`);
    const taken = all.filter((r) => r.piece === local);
    const isTaken = ({ feature_id, gauge_id }: Plan["features"][number]) =>
      taken.some((r) => r.feature_id === feature_id && (gauge_id === null || r.gauge_id === gauge_id));
    return plan.features
      .filter((check) => !isTaken(check))
      .map((check) => {
        const { feature, gauge } = this.toCheck(check);
        const used = gauge ?? this.facts.features.find((f) => f.id === feature)!.gauge;
        const seat = this.facts.seats && ((piece - 1) % this.facts.seats.count) + 1;
        return {
          piece,
          feature,
          gauge: used,
          reading: api.remeasure(piece, feature, used),
          ...(seat && { seat }),
        };
      });
  }

  private async listOpen({ batchId }: RunningBatch): Promise<void> {
    const path = `/v1/corrections?status=proposed&batch_id=${batchId}`;
    this.open = (await this.client.get<Schemas["CorrectionList"]>(path)).items;
  }

  private featuresOf({ features }: Correction): string[] {
    return features.map(({ feature_id }) => this.shop.features.toSim(feature_id));
  }

  /** Only the first piece of an edge is still clamped, and only where metal is left that the changes take off. */
  private canCutAgain(now: number, changes: readonly Correction[]): boolean {
    const { piece, cut, readings } = this.inHand;
    if (!this.facts.recut || piece !== now || !this.edgesFrom.has(now) || cut >= mostCuts) return false;
    const moved = new Set(changes.flatMap(({ features }) => features.map(({ feature_id }) => feature_id)));
    return readings.some((r) => r.cut === cut && r.disposition === "rework" && moved.has(r.feature_id));
  }

  private workOffsetOf(registerId: string): { register: string; seat: number } | undefined {
    const { seats } = this.facts;
    for (const { id } of seats?.registers ?? [])
      for (let seat = 1; seat <= seats!.count; seat++)
        if (this.shop.workOffsets.toService(`${id}@${seat}`) === registerId) return { register: id, seat };
    return undefined;
  }

  /** What the service proposes to key with a fresh edge: leaving metal where the piece may be cut again. */
  private async startsOf(tool: string): Promise<Record<string, number>> {
    const path = `/v1/tools/${this.shop.tools.toService(tool)}/wear`;
    const { registers } = await this.client.get<Schemas["Wear"]>(path);
    return Object.fromEntries(
      registers.map(({ register_id, proposed_start, safe_start }) => [
        this.shop.registers.toSim(register_id),
        (this.facts.recut ? safe_start : proposed_start) ?? 0,
      ]),
    );
  }

  private async applyChange(registerId: string, fromPiece: number, value: number): Promise<void> {
    const correction = this.open.find((row) => row.kind === "change" && row.register_id === registerId);
    if (!correction) throw new Error(`register ${registerId} was changed without advice`);
    const { firstPiece } = this.batchOf(fromPiece - 1);
    const { piece, cut, moved } = this.inHand;
    const again = moved.size > 0 && piece === fromPiece - 1;
    const answer = await this.client.post<Schemas["CorrectionAnswer"]>(
      `/v1/corrections/${correction.correction_id}/apply`,
      {
        from_piece: (again ? piece : fromPiece) - firstPiece + 1,
        ...(again && { from_cut: cut + 1 }),
        value_after: value,
      },
    );
    const { value_set } = answer.correction;
    if (value_set !== value)
      this.oddities.push({ what: `set ${value}, kept as ${value_set}`, piece: fromPiece });
  }

  private async enter(registerId: string, fromPiece: number, value: number): Promise<void> {
    const { batchId, firstPiece } = this.batchOf(fromPiece);
    const body = { batch_id: batchId, from_piece: fromPiece - firstPiece + 1, value, reason: "start" };
    await this.client.post(`/v1/registers/${registerId}/entries`, body);
  }

  private async postEdge(piece: number, edge: PendingEdge): Promise<void> {
    const { tool, reason, values } = edge;
    const { batchId, firstPiece, lastPiece } = this.batchOf(piece);
    if (piece > lastPiece) {
      this.edgesAhead.push(edge);
    } else {
      const registers = [...values].map(([id, value]) => ({
        register_id: this.shop.registers.toService(id),
        value,
      }));
      const from_piece = piece - firstPiece + 1;
      const path = `/v1/tools/${this.shop.tools.toService(tool)}/edges`;
      await this.client.post(path, { batch_id: batchId, from_piece, reason, registers });
    }
    if (this.edgesToCome > 0 && --this.edgesToCome === 0) await this.postFindings(piece);
  }

  /** Answers every open question for a cause by what the look at the setup brought to light. */
  private async postFindings(fromPiece: number): Promise<void> {
    const found = this.found ?? [];
    this.found = undefined;
    const { firstPiece } = this.batchOf(fromPiece - 1);
    const said = found.includes("fixture")
      ? "setup_put_right"
      : found.includes("register")
        ? "register_put_right"
        : found.length > 0
          ? "edge_changed"
          : "nothing";
    for (const { kind, correction_id } of this.open) {
      if (kind !== "find_cause") continue;
      const body = { found: said, from_piece: fromPiece - firstPiece + 1 };
      await this.client.post(`/v1/corrections/${correction_id}/finding`, body);
    }
  }
}

function piecesOf({ from_piece, to_piece }: { from_piece: number; to_piece: number }): number[] {
  return Array.from({ length: to_piece - from_piece + 1 }, (_, i) => from_piece + i);
}

/**
 * A piece is out where the last word on one of its features is; of several readings by one gauge the middle one counts, without
 * those that the service asked to confirm.
 */
function verdictOf(all: readonly Reading[], piece: number, firstPiece: number): Verdict {
  const groups = new Map<string, Reading[]>();
  for (const reading of all) {
    if (reading.piece !== piece) continue;
    const name = `${reading.feature_id} ${reading.gauge_id} ${reading.cut}`;
    groups.set(name, [...(groups.get(name) ?? []), reading]);
  }
  const out: Reading[] = [];
  for (const list of groups.values()) {
    const sure = list.filter(({ flags }) => !flags.includes("implausible"));
    const counted = sure.length > 0 ? sure : list;
    const middle = [...counted].sort((a, b) => a.size! - b.size!)[counted.length >> 1]!;
    if (middle.verdict === "nonconforming") out.push(middle);
  }
  const holds = out.flatMap(({ hold }) => (hold ? [hold] : []));
  if (holds.length === 0) return { out: out.length > 0 };
  return {
    out: true,
    hold: {
      from: Math.min(...holds.map((hold) => hold.from_piece)) + firstPiece - 1,
      to: Math.max(...holds.map((hold) => hold.to_piece)) + firstPiece - 1,
    },
  };
}

/** A policy that asks a service; `made` is told of each one that is made. */
export function servicePolicy(
  client: ServiceClient,
  name: string,
  made: (policy: ServicePolicy) => void = () => {},
): MakePolicy {
  return (facts) => {
    const policy = new ServicePolicy(client, facts, name);
    made(policy);
    return policy;
  };
}
