import type { Action, Check, LoopApi, MakePolicy, Policy, SimReading } from "./closed-loop.js";
import type { Facts } from "./simulator.js";

/** What the policies to compare with share: every piece is measured, an absurd reading again, three bad in a row stop. */
abstract class EveryPiece implements Policy {
  protected readonly byId: Map<string, Facts["features"][number]>;
  /** T and target of each feature. */
  protected readonly room: Record<string, number> = {};
  protected readonly aim: Record<string, number> = {};
  protected readonly lastChange: Record<string, number> = {};
  protected wantsLook = false;
  private readonly outInARow: Record<string, number> = {};

  constructor(protected readonly facts: Facts) {
    this.byId = new Map(facts.features.map((f) => [f.id, f]));
    for (const { id, lower, upper, target } of facts.features) {
      this.room[id] =
        target == null
          ? (upper! - lower!) / 2
          : Math.min(
              upper != null ? upper - target : Number.POSITIVE_INFINITY,
              lower != null ? target - lower : Number.POSITIVE_INFINITY,
            );
      this.aim[id] = target ?? (upper! + lower!) / 2;
    }
    for (const r of facts.registers) this.lastChange[r.id] = 0;
  }

  onToolChange(tool: string, piece: number): Record<string, number> {
    for (const r of this.facts.registers) if (r.tool === tool) this.lastChange[r.id] = piece;
    return {};
  }

  onIdle(): void {}

  plan(): Check[] {
    return this.facts.features.map((f) => ({ feature: f.id }));
  }

  abstract onReadings(piece: number, list: SimReading[], now: number, api: LoopApi): undefined;

  act(_now: number): Action {
    const inspect = this.wantsLook;
    this.wantsLook = false;
    return { inspect };
  }

  noteRegister(id: string, fromPiece: number, _value: number, why: "tool" | "correction"): void {
    if (why !== "tool") this.lastChange[id] = fromPiece;
  }

  inspected(): void {}

  protected offBy({ feature, reading }: SimReading): number {
    return (reading - this.aim[feature]!) / this.room[feature]!;
  }

  protected screen(piece: number, list: SimReading[], api: LoopApi): SimReading[] {
    return list.map((r) =>
      Math.abs(r.reading - this.aim[r.feature]!) > 5 * this.room[r.feature]!
        ? { ...r, reading: api.remeasure(piece, r.feature) }
        : r,
    );
  }

  protected book(list: readonly SimReading[]): void {
    for (const r of list) {
      const inARow = Math.abs(this.offBy(r)) > 1 ? (this.outInARow[r.feature] ?? 0) + 1 : 0;
      this.outInARow[r.feature] = inARow >= 3 ? 0 : inARow;
      if (inARow >= 3) this.wantsLook = true;
    }
  }
}

class NeverAdjust extends EveryPiece {
  onReadings(piece: number, list: SimReading[], _now: number, api: LoopApi): undefined {
    this.book(this.screen(piece, list, api));
  }
}

/** Full correction from each single reading; with a band only where the worst feature is that far out, in shares of T. */
class SingleReading extends EveryPiece {
  private pending: NonNullable<Action["changes"]> = [];

  constructor(
    facts: Facts,
    private readonly options: { band: number; waits?: boolean },
  ) {
    super(facts);
  }

  onReadings(piece: number, given: SimReading[], _now: number, api: LoopApi): undefined {
    const list = this.screen(piece, given, api);
    this.book(list);
    this.pending = [];
    for (const { id } of this.facts.registers) {
      if (this.options.waits && piece < this.lastChange[id]!) continue; // cut before the last change
      const mine = list.filter((r) => this.mainRegister(r.feature)?.id === id);
      if (mine.length > 0) this.correct(id, mine);
    }
  }

  override act(now: number): Action {
    const changes = this.pending;
    this.pending = [];
    return { ...super.act(now), changes };
  }

  private correct(register: string, list: readonly SimReading[]): void {
    const move = (r: SimReading) =>
      -(r.reading - this.aim[r.feature]!) / this.mainRegister(r.feature)!.effect;
    if (this.options.band > 0) {
      const worst = list.reduce((a, b) => (Math.abs(this.offBy(b)) > Math.abs(this.offBy(a)) ? b : a));
      if (Math.abs(this.offBy(worst)) > this.options.band)
        this.pending.push({ register, delta: move(worst) });
      return;
    }
    this.pending.push({ register, delta: list.reduce((sum, r) => sum + move(r), 0) / list.length });
  }

  /** The register that moves a feature most. */
  private mainRegister(feature: string): { id: string; effect: number } | undefined {
    let main: { id: string; effect: number } | undefined;
    for (const [id, effect] of Object.entries(this.byId.get(feature)!.sensitivities))
      if (effect && (!main || Math.abs(effect) > Math.abs(main.effect) + 1e-9)) main = { id, effect };
    return main;
  }
}

export const neverAdjust: MakePolicy = (facts) => new NeverAdjust(facts);
export const everyReading: MakePolicy = (facts) => new SingleReading(facts, { band: 0 });
/** Rule of thumb: full correction when a reading passes half the tolerance, ignoring pieces cut before the last change. */
export const ruleOfThumb: MakePolicy = (facts) => new SingleReading(facts, { band: 0.5, waits: true });
