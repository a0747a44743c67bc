import type { Scenario } from "./scenario.js";
import { type Facts, type Score, ShopSimulator } from "./simulator.js";

type Answer<T> = T | Promise<T>;

/** A feature to be measured: with one of its gauges (absent: its first), on this very piece or on one out of the chute. */
export interface Check {
  feature: string;
  gauge?: string | undefined;
  sure?: boolean | undefined;
}

export interface SimReading {
  piece: number;
  feature: string;
  reading: number;
  gauge: string;
  seat?: number;
  /** 2 and more: the piece was cut again. */
  cut?: number;
  /** The piece is one of `pieceFrom` to `piece`. */
  pieceFrom?: number;
}

export interface Action {
  changes?: { register: string; delta: number }[];
  seatChanges?: { register: string; seat: number; delta: number }[];
  /** Look at the setup. */
  inspect?: boolean;
  changeTool?: string;
  /** After the changes the same piece is cut again. */
  recut?: boolean;
}

/** A policy's own verdict, and the pieces that are to be measured for it, with the reference gauge where there is one. */
export interface Verdict {
  out: boolean;
  hold?: { from: number; to: number } | undefined;
}

export interface LoopApi {
  remeasure(piece: number, feature: string, gauge?: string): number;
}

/**
 * What a policy is asked, in this order for each piece. Without a verdict of its own a reading out of limits is a bad piece
 * found, of a feature with a reference gauge only that gauge's.
 */
export interface Policy {
  /** Only where a piece may be cut again: values of the first edges' registers. */
  startRegisters?(): Answer<Record<string, number>>;
  /** A fresh edge cuts from this piece on; may say what its registers shall hold. */
  onToolChange(tool: string, piece: number): Answer<Record<string, number> | undefined>;
  /** Another part is cut from this piece on, with the same edges. */
  onBatch?(part: string, piece: number): Answer<void>;
  /** The machine stood before this piece. */
  onIdle(piece: number): Answer<void>;
  /** True: wait for this piece's readings before the next one is cut. */
  hold?(piece: number): Answer<boolean>;
  plan(piece: number, of: { cut: number; seat?: number | undefined }): Answer<Check[]>;
  /** Readings of one piece, perhaps not all of them: a gauge can answer later than another. `now`: last piece cut. */
  onReadings(piece: number, list: SimReading[], now: number, api: LoopApi): Answer<Verdict | undefined>;
  /** Readings of a piece on hold. */
  onHeld?(list: SimReading[], now: number): Answer<void>;
  act(now: number): Answer<Action>;
  /** What was really entered. */
  noteRegister(id: string, fromPiece: number, value: number, why: "tool" | "correction"): Answer<void>;
  noteSeatRegister?(id: string, seat: number, fromPiece: number, value: number): Answer<void>;
  /** What a look at the setup found and put right. */
  inspected(found: readonly string[], now: number): Answer<void>;
  /** After the last piece. */
  close?(): Answer<void>;
}

export type MakePolicy = (facts: Facts, sim: ShopSimulator) => Policy;

export interface LoopScore extends Score {
  /** Measurements over those of measuring every feature of every piece once. */
  perFull: number;
  contained: number;
  holds: number;
}

/** Runs one scenario with one seed under a policy. */
export async function runLoop(scenario: Scenario, seed: number, make: MakePolicy): Promise<LoopScore> {
  const loop = new Loop(scenario, seed, make);
  for (let k = 1; k <= scenario.pieces; k++) await loop.cutPiece(k);
  return await loop.finish();
}

class Loop {
  private readonly sim: ShopSimulator;
  private readonly facts: Facts;
  private readonly policy: Policy;
  private readonly due: { at: number; piece: number; list: SimReading[] }[] = [];
  private contained = 0;
  private holds = 0;
  private readonly measured = new Set<number>();
  private readonly provenByReference = new Set<number>();
  private readonly sure = new Set<number>();
  private readonly edgesFrom = new Set([1]);
  private readonly api: LoopApi;

  constructor(
    private readonly scenario: Scenario,
    seed: number,
    make: MakePolicy,
  ) {
    this.sim = new ShopSimulator(scenario, seed);
    this.facts = this.sim.facts();
    this.policy = make(this.facts, this.sim);
    const severalGauges = this.facts.features.some((f) => f.gauges);
    this.api = {
      remeasure: (piece, feature, gauge) =>
        this.sim.measure(feature, {
          piece: this.sure.has(piece) ? piece : this.sim.takenOut(piece),
          ...(severalGauges && { gauge }),
        }).reading,
    };
  }

  async cutPiece(k: number): Promise<void> {
    const { sim, policy, scenario } = this;
    if (k === 1 && scenario.recut) await this.startRegisters();
    for (const t of scenario.tools) if (sim.toolAge(t.id) >= t.plannedLife) await this.changeTool(t.id, k);
    if (k > 1)
      for (const b of scenario.batches ?? []) if (b.fromPiece === k) await policy.onBatch?.(b.part, k);
    if (sim.idleBefore(k)) await policy.onIdle(k);
    sim.makePiece();
    const hold = ((await policy.hold?.(k)) ?? false) && sim.delayOf(k) > 0;
    if (hold) this.holds += 1;
    for (const [late, list] of await this.measure(k))
      this.due.push({ at: k + (hold ? 0 : sim.delayOf(k) + late), piece: k, list });
    this.due.sort((a, b) => a.at - b.at || a.piece - b.piece);
    while (this.due.length > 0 && this.due[0]!.at <= k) {
      const { piece, list } = this.due.shift()!;
      const verdict = await policy.onReadings(piece, list, k, this.api);
      if (verdict) await this.contain(piece, verdict, k);
      else this.containBack(piece);
    }
    await this.act(k);
  }

  async finish(): Promise<LoopScore> {
    await this.policy.close?.();
    let full = 0;
    for (let k = 1; k <= this.scenario.pieces; k++) full += this.sim.featuresOf(k).length;
    const score = this.sim.score();
    return {
      ...score,
      perFull: score.measurements / full,
      contained: this.contained,
      holds: this.holds,
    };
  }

  private async startRegisters(): Promise<void> {
    for (const [id, value] of Object.entries((await this.policy.startRegisters?.()) ?? {})) {
      this.sim.setRegister(id, value);
      await this.policy.noteRegister(id, 1, this.sim.registerValue(id), "tool");
    }
  }

  private async changeTool(id: string, k: number): Promise<void> {
    const values = (await this.policy.onToolChange(id, k)) ?? {};
    this.edgesFrom.add(k);
    this.sim.changeTool(id, values);
    for (const r of this.facts.registers)
      if (r.tool === id) await this.policy.noteRegister(r.id, k, this.sim.registerValue(r.id), "tool");
  }

  private async act(k: number): Promise<void> {
    let action = await this.policy.act(k);
    await this.enter(action);
    // The piece is still clamped: it is cut again under the new registers, measured, and the policy asked again.
    for (let cut = 2; action.recut && this.scenario.recut && cut <= 3; cut++) {
      this.sim.recut();
      for (const list of (await this.measure(k, cut)).values())
        await this.policy.onReadings(k, list, k, this.api);
      action = await this.policy.act(k);
      await this.enter(action);
    }
    if (action.inspect) {
      const found = this.sim.inspect();
      await this.policy.inspected(found, k);
      for (const what of found)
        if (what.startsWith("edge:")) await this.changeTool(what.slice("edge:".length), k + 1);
    }
    if (action.changeTool) await this.changeTool(action.changeTool, k + 1);
  }

  private async enter({ changes = [], seatChanges = [] }: Action): Promise<void> {
    for (const { register, delta } of changes) {
      const { applied, fromPiece, value } = this.sim.changeRegister(register, delta);
      if (applied) await this.policy.noteRegister(register, fromPiece, value, "correction");
    }
    for (const { register, seat, delta } of seatChanges) {
      const { applied, fromPiece, value } = this.sim.changeSeatRegister(register, seat, delta);
      if (applied) await this.policy.noteSeatRegister?.(register, seat, fromPiece, value);
    }
  }

  /** What the plan asks for, by how late it is answered: several gauges may answer at different times. */
  private async measure(k: number, cut = 1): Promise<Map<number, SimReading[]>> {
    const { sim, scenario, facts } = this;
    const out = sim.takenOut(k);
    const has = new Set(sim.featuresOf(k).map((f) => f.id));
    const plan = await this.policy.plan(k, { cut, ...(scenario.seats && { seat: sim.seatOf(k) }) });
    const items = plan.filter(({ feature }) => has.has(feature));
    const lists = new Map<number, SimReading[]>();
    for (const { feature, gauge: wanted, sure } of items) {
      const { gauge, reading } = sim.measure(feature, { piece: sure ? k : out, gauge: wanted });
      const late = scenario.gauges[gauge]!.delay ?? 0;
      const list = lists.get(late) ?? [];
      lists.set(late, list);
      list.push({
        piece: k,
        feature,
        reading,
        gauge,
        ...(scenario.seats && { seat: sim.seatOf(k)! }),
        ...(scenario.unsurePiece && !sure && { pieceFrom: Math.max(1, k - scenario.unsurePiece.m + 1) }),
        ...(cut > 1 && { cut }),
      });
      if (facts.gauges[gauge]!.reference) this.provenByReference.add(k);
    }
    if (items.length > 0) this.measured.add(items[0]!.sure ? k : out);
    if (items[0]?.sure) this.sure.add(k);
    return lists;
  }

  /** The policy has said which pieces are in doubt: they are measured, with the reference gauge where there is one. */
  private async contain(piece: number, { out, hold }: Verdict, now: number): Promise<void> {
    if (!out) return;
    this.sim.markCaught(piece);
    if (!hold) return;
    for (let b = piece - 1; b >= hold.from && b > 0; b--) {
      if (this.provenByReference.has(b)) continue;
      this.provenByReference.add(b);
      await this.measureHeld(b, now, (f) => f.gauges?.find((g) => this.facts.gauges[g]!.reference));
    }
  }

  /** A bad piece was found: the unmeasured pieces back to the last measured one are measured. */
  private containBack(piece: number): void {
    const t = this.sure.has(piece) ? piece : this.sim.takenOut(piece);
    const p = this.sim.pieces.get(t)!;
    if (!p.caught || !p.bad || (this.scenario.recut && this.edgesFrom.has(t))) return;
    for (let b = t - 1; b > 0 && !this.measured.has(b); b--) {
      this.measured.add(b);
      this.contained += 1;
      for (const f of this.sim.featuresOf(b)) this.sim.measure(f.id, { piece: b });
    }
  }

  private async measureHeld(
    b: number,
    now: number,
    gaugeOf: (feature: { gauges?: string[] }) => string | undefined,
  ): Promise<void> {
    this.measured.add(b);
    this.contained += 1;
    const list = this.sim.featuresOf(b).map((f) => ({
      piece: b,
      feature: f.id,
      ...this.sim.measure(f.id, { piece: b, gauge: gaugeOf(f) }),
      ...(this.scenario.seats && { seat: this.sim.seatOf(b)! }),
    }));
    await this.policy.onHeld?.(list, now);
  }
}
