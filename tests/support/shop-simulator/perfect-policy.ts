import type { Action, MakePolicy, Policy } from "./closed-loop.js";
import { roundTo } from "./random.js";
import type { Facts, ShopSimulator } from "./simulator.js";

const leastGain = 0.02;
/** Beyond this share of the tolerance a mean that no register can bring nearer asks for a fresh edge. */
const dullFrom = 0.75;
/** The worst share is approached by sums of growing powers: those are smooth, so that one knob after the other gets there. */
const powers = [2, 2, 2, 6, 6, 16, 16];

/** A register, or one seat's work offset, that is about to be moved. */
interface Knob {
  register: string;
  seat?: number;
  leastIncrement: number;
  move: number;
}

/** The mean of one feature in one seat: how far it is from target, and what each knob does to it. */
interface Mean {
  off: number;
  above: number;
  below: number;
  effects: number[];
}

/**
 * Knows the true state and measures nothing: how well any policy could do that cannot foresee what a fresh edge brings.
 * After each piece it moves the registers, and the seats' work offsets, so that the worst true mean is nearest its target,
 * and looks at the setup where there is something to find.
 */
class PerfectPolicy implements Policy {
  private part: string | undefined;

  constructor(
    private readonly facts: Facts,
    private readonly sim: ShopSimulator,
  ) {
    this.part = facts.batches?.[0]?.part;
  }

  onToolChange(tool: string): Record<string, number> {
    const mine = this.facts.registers.filter((r) => r.tool === tool);
    return Object.fromEntries(
      mine.map(({ id }) => [id, this.sim.registerValue(id) + this.sim.freshEdgeGain(id)]),
    );
  }

  onBatch(part: string): void {
    this.part = part;
  }

  onIdle(): void {}

  plan(): [] {
    return [];
  }

  onReadings(): undefined {}

  noteRegister(): void {}

  inspected(): void {}

  act(): Action {
    if (this.sim.hasFault()) return { inspect: true };
    const knobs = this.knobs();
    const means = this.means(knobs);
    const before = worstOf(means, knobs);
    for (const power of powers) for (const i of knobs.keys()) centre(means, knobs, i, power);
    for (const knob of knobs) knob.move = roundTo(knob.move, knob.leastIncrement);
    const after = worstOf(means, knobs);
    const changeTool = Math.min(before, after) > dullFrom ? this.dullest() : undefined;
    if (changeTool) return { changeTool };
    if (before - after < leastGain) return {};
    const moved = knobs.filter(({ move }) => move !== 0);
    return {
      changes: moved
        .filter(({ seat }) => seat === undefined)
        .map(({ register, move }) => ({ register, delta: move })),
      seatChanges: moved
        .filter(({ seat }) => seat !== undefined)
        .map(({ register, seat, move }) => ({ register, seat: seat!, delta: move })),
    };
  }

  private knobs(): Knob[] {
    const { registers, seats } = this.facts;
    const perSeat = Array.from({ length: seats?.count ?? 0 }, (_, i) => i + 1);
    return [
      ...registers.map(({ id, leastIncrement }) => ({ register: id, leastIncrement, move: 0 })),
      ...(seats?.registers ?? []).flatMap(({ id, leastIncrement }) =>
        perSeat.map((seat) => ({ register: id, seat, leastIncrement, move: 0 })),
      ),
    ];
  }

  /** Of the part that is being cut, seat by seat. */
  private means(knobs: readonly Knob[]): Mean[] {
    const mine = this.facts.features.filter((f) => f.part === this.part);
    const seats = Array.from({ length: this.facts.seats?.count ?? 1 }, (_, i) => i + 1);
    return seats.flatMap((seat) => {
      const sizes = this.sim.trueMeans(this.facts.seats && seat);
      return mine.map((f) => ({
        ...roomOf(f, sizes[f.id]!),
        effects: knobs.map((knob) => {
          if (knob.seat === undefined) return f.sensitivities[knob.register] ?? 0;
          return knob.seat === seat ? (f.seatSensitivities?.[knob.register] ?? 0) : 0;
        }),
      }));
    });
  }

  private dullest(): string | undefined {
    const used = this.facts.tools.map(({ id, plannedLife }) => ({
      id,
      life: this.sim.toolAge(id) / plannedLife,
    }));
    const worn = used.filter(({ life }) => life > 0.5).sort((a, b) => b.life - a.life);
    return worn[0]?.id;
  }
}

function roomOf({ upper, lower, target }: Facts["features"][number], size: number) {
  const c = target ?? (upper! + lower!) / 2;
  const above = upper != null ? upper - c : c - lower!;
  const below = lower != null ? c - lower : upper! - c;
  return { off: size - c, above, below };
}

function shareAt({ above, below }: Mean, off: number): number {
  return off >= 0 ? off / above : -off / below;
}

function worstOf(means: readonly Mean[], knobs: readonly Knob[]): number {
  return Math.max(...means.map((mean) => shareAt(mean, moved(mean, knobs))));
}

function moved({ off, effects }: Mean, knobs: readonly Knob[]): number {
  return effects.reduce((sum, effect, i) => sum + effect * knobs[i]!.move, off);
}

/** The move of one knob with which the sum of the shares' powers is least; it is convex in it. */
function centre(means: readonly Mean[], knobs: readonly Knob[], i: number, power: number): void {
  const knob = knobs[i]!;
  const touched = means
    .filter(({ effects }) => effects[i] !== 0)
    .map((mean) => ({
      mean,
      effect: mean.effects[i]!,
      others: moved(mean, knobs) - mean.effects[i]! * knob.move,
    }));
  if (touched.length === 0) return;
  const at = (move: number) => {
    let sum = 0;
    for (const { mean, effect, others } of touched) sum += shareAt(mean, others + effect * move) ** power;
    return sum;
  };
  let [low, high] = [knob.move - 0.1, knob.move + 0.1];
  while (high - low > 1e-4) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (at(a) <= at(b)) high = b;
    else low = a;
  }
  knob.move = (low + high) / 2;
}

export const perfect: MakePolicy = (facts, sim) => new PerfectPolicy(facts, sim);
