import type { Amount, CauseKind } from "../../core/diagnosis/causes.js";
import type { FittedCause } from "../../core/diagnosis/diagnose.js";
import type { Observation } from "../../core/diagnosis/observation.js";
import type { Test } from "../../core/diagnosis/tell-apart.js";
import { showMm } from "../../core/quantity.js";
import { chiSquare99 } from "../../core/statistics/chi-square.js";
import type { FeatureView } from "../feature-view.js";
import { nameFeature, nameRegister, sayFactor, sayList, sayMm, upperFirst } from "../words.js";
import type { DiagnosedBatch } from "./subject.js";

export const causeNames: Record<CauseKind, string> = {
  tool_size: "tool size, wear or a wrong value in its register",
  tool_wear: "wear of the tool",
  deflection: "bending under load",
  register_mistaken: "a change keyed wrongly",
  work_zero: "work zero or fixture",
  part_turned: "a part turned in the fixture",
  warmth: "warmth",
  gauge: "the gauge",
  single_feature: "that feature alone",
};

const axisNames = ["X", "Y", "Z"] as const;
const inDegrees = 180 / Math.PI;

/** Size of one column of a cause, in a unit that people use. */
export interface SaidAmount {
  of: string;
  value: number;
  standard_uncertainty: number;
  unit: string;
}

export interface SaidCause {
  cause: CauseKind;
  tool_id: string | null;
  register_id: string | null;
  gauge_id: string | null;
  feature_id: string | null;
  place: string | null;
  seat: string | null;
  weight: number;
  explains: boolean;
  why: string;
  next_step: string;
}

/** Puts causes of one batch into words. */
export class CauseSpeaker {
  constructor(
    private readonly batch: DiagnosedBatch,
    private readonly observations: readonly Observation[],
    private readonly chi2: number,
  ) {}

  say(cause: FittedCause): SaidCause {
    const { view, registerIds, gauges } = this.batch;
    const { candidate, weight, explains } = cause;
    const { kind, tool, registers, gauge, feature, seat } = candidate;
    const facts = feature === undefined ? undefined : view.features[feature]!;
    return {
      cause: kind,
      tool_id: tool === undefined ? null : [...view.tools.keys()][tool]!,
      register_id: registers?.length === 1 ? registerIds[registers[0]!]! : null,
      gauge_id: gauge === undefined ? null : gauges[gauge]!.gauge_id,
      feature_id: facts?.featureId ?? null,
      place: facts?.place ?? null,
      seat: seat ?? null,
      weight: Number(weight.toFixed(3)),
      explains,
      why: `${upperFirst(this.what(cause))} ${this.evidence(cause)}`,
      next_step: this.next(cause),
    };
  }

  amounts({ candidate, fit }: FittedCause): SaidAmount[] {
    const said = candidate.columns.map(({ amount }, j) =>
      this.amount(amount, fit.amounts[j]!, fit.deviations[j]!),
    );
    const growth = candidate.columns.findIndex(({ amount }) => amount.of === "growth");
    const expansion = this.batch.view.part.expansion;
    if (growth < 0 || !expansion || expansion.coefficientPicoPerK <= 0) return said;
    const perK = expansion.coefficientPicoPerK * 1e-12;
    return [
      ...said,
      {
        of: "temperature_rise",
        value: round(fit.amounts[growth]! / perK, 2),
        standard_uncertainty: round(fit.deviations[growth]! / perK, 2),
        unit: "K",
      },
    ];
  }

  /** "Measure 14 Bore on piece 3: …", or what else tells the first causes apart. */
  test(test: Test, first: FittedCause, second: FittedCause): string {
    const feature = this.batch.view.features[test.feature]!;
    const [one, two] = [causeNames[first.candidate.kind], causeNames[second.candidate.kind]];
    const [a, b] = test.expected.map((mm) => this.off(mm, test.component));
    const what = {
      measure_feature: `Measure ${this.component(feature, test.component)}`,
      other_gauge: `Measure ${this.component(feature, test.component)} with another gauge`,
      let_cool: `Let part and gauge cool to the same temperature and measure ${this.component(feature, test.component)} again`,
      repeat_pass: `Repeat the pass at the same value and measure ${this.component(feature, test.component)} again`,
    }[test.do];
    return `${what}: if it is ${one} it should be ${a}, if it is ${two} ${b}.`;
  }

  private component(feature: FeatureView, component: Observation["component"]): string {
    return component === "size" ? nameFeature(feature) : `${component} of ${nameFeature(feature)}`;
  }

  private off(mm: number, component: Observation["component"]): string {
    const { unit } = this.batch.view.part;
    if (showMm(mm, unit) === 0) return "where it should be";
    return component === "size"
      ? `${sayMm(Math.abs(mm), unit)} too ${mm > 0 ? "big" : "small"}`
      : `off by ${sayMm(mm, unit, true)}`;
  }

  private amount(amount: Amount, value: number, deviation: number): SaidAmount {
    const { part, machine } = this.batch.view;
    const length = (of: string, unit: "mm" | "inch", factor = 1): SaidAmount => ({
      of,
      value: showMm(value * factor, unit),
      standard_uncertainty: showMm(deviation * factor, unit),
      unit,
    });
    const scaled = (of: string, unit: string, factor: number, places: number): SaidAmount => ({
      of,
      value: round(value * factor, places),
      standard_uncertainty: round(deviation * factor, places),
      unit,
    });
    switch (amount.of) {
      case "register":
        return length("register", machine.unit);
      case "wear":
        return scaled("wear_per_100_pieces", machine.unit, 100 / (machine.unit === "mm" ? 1 : 25.4), 5);
      case "bend":
        return length("bend_at_depth", machine.unit, this.deepest());
      case "taper":
        return scaled("taper_per_100_mm", machine.unit, 100 / (machine.unit === "mm" ? 1 : 25.4), 5);
      case "shift":
        return length(`shift_${axisNames[amount.axis].toLowerCase()}`, machine.unit);
      case "turn":
        return scaled(`turn_${axisNames[amount.axis].toLowerCase()}`, "deg", inDegrees, 5);
      case "growth":
        return scaled("growth", "µm/m", 1e6, 2);
      case "gauge":
      case "ball":
        return length(amount.of, part.unit);
      case "deviation":
        return length(amount.component === "size" ? "deviation" : `deviation_${amount.component}`, part.unit);
    }
  }

  private deepest(): number {
    const { features } = this.batch.subject;
    return Math.max(
      ...this.observations.map(({ feature, depthMm }) => depthMm ?? features[feature]!.depthMm ?? 0),
    );
  }

  private what(cause: FittedCause): string {
    const { view, gauges } = this.batch;
    const { candidate, fit } = cause;
    const { unit } = view.machine;
    const mm = (value: number) => sayMm(value, unit, true);
    const shifts = candidate.columns.flatMap(({ amount }, j) =>
      amount.of === "shift" ? [`${axisNames[amount.axis]} ${mm(fit.amounts[j]!)}`] : [],
    );
    switch (candidate.kind) {
      case "tool_size": {
        const each = candidate.registers!.map((r, j) => {
          const value = fit.amounts[j]!;
          return `${this.register(r)} acts as if it held ${sayMm(Math.abs(value), unit)} ${value >= 0 ? "more" : "less"} than it does`;
        });
        return `${sayList(each)}: the tool is not what is entered (size, wear, seating, edge), or a wrong value is keyed.`;
      }
      case "tool_wear":
        return `What ${this.register(candidate.registers![0]!)} moves wanders from piece to piece, as if it rose by ${mm(100 * fit.amounts[0]!)} in 100 pieces: wear.`;
      case "deflection":
        return this.bending(cause);
      case "register_mistaken": {
        const register = this.register(candidate.registers![0]!);
        return candidate.into === undefined
          ? `The last change of ${register} came out otherwise than believed: ${sayFactor(candidate.factor!)}.`
          : `The sizes are as if the last change of ${register} had been keyed into ${this.register(candidate.into)} instead.`;
      }
      case "work_zero":
        return `What is cut stands off the same way whatever the tool, ${sayList(shifts)}${candidate.seat === undefined ? "" : `, in seat "${candidate.seat}"`}: work zero or fixture, not a tool.`;
      case "part_turned": {
        const turns = candidate.columns.flatMap(({ amount }, j) =>
          amount.of === "turn"
            ? [`${(fit.amounts[j]! * inDegrees).toFixed(4)}° about ${axisNames[amount.axis]}`]
            : [],
        );
        return `Opposite at opposite ends: the part sat turned by ${sayList(turns)}${shifts.length > 0 ? `, and off by ${sayList(shifts)}` : ""}.`;
      }
      case "warmth":
        return this.warming(cause);
      case "gauge": {
        const name = gauges[candidate.gauge!]!.name;
        const value = fit.amounts[0]!;
        const by = sayMm(Math.abs(value), view.part.unit);
        return candidate.columns[0]!.amount.of === "ball"
          ? `What ${name} reads is ${by} too ${value > 0 ? "big outside and too small" : "small outside and too big"} inside: the size of its ball.`
          : `What ${name} reads is ${by} too ${value > 0 ? "big" : "small"}, whatever the tool, inside and outside alike.`;
      }
      case "single_feature": {
        const feature = view.features[candidate.feature!]!;
        const offs = candidate.columns.map(({ amount }, j) => {
          const component =
            amount.of === "deviation" && amount.component !== "size" ? `${amount.component} ` : "";
          return `${component}${sayMm(fit.amounts[j]!, view.part.unit, true)}`;
        });
        return `Only ${nameFeature(feature)} is off, by ${sayList(offs)}.`;
      }
    }
  }

  private bending({ candidate, fit }: FittedCause): string {
    const { unit } = this.batch.view.machine;
    const register = this.register(candidate.registers![0]!);
    const value = fit.amounts[0]!;
    if (candidate.columns[0]!.amount.of === "taper") {
      return `What ${register} moves tapers along the part, by ${sayMm(100 * value, unit, true)} in 100 mm: the part or the tool bends, or the axis is out of line.`;
    }
    const deepest = this.deepest();
    const known = this.batch.view.features.some(({ depthPm }) => depthPm !== undefined);
    const where = known ? `${sayMm(deepest, unit)} deep` : "at the bottom";
    return `What ${register} moves is off the more the deeper it is cut, as if the register held ${sayMm(value * deepest, unit, true)} ${where} and nothing at the top: the cutter bends.`;
  }

  private warming({ candidate, fit }: FittedCause): string {
    const { view } = this.batch;
    const value = fit.amounts[0]!;
    const fades =
      candidate.fadesWithin === undefined
        ? ""
        : `, most at the cold start and fading within some ${candidate.fadesWithin} pieces`;
    if (candidate.columns[0]!.amount.of === "shift") {
      const { amount } = candidate.columns[0]!;
      const axis = amount.of === "shift" ? axisNames[amount.axis] : "";
      return `What is cut stands off the same way whatever the tool, ${axis} ${sayMm(value, view.machine.unit, true)}${fades}: the machine warms up.`;
    }
    const rise = this.amounts({ candidate, fit } as FittedCause).find(({ of }) => of === "temperature_rise");
    const warm = rise
      ? `, as a part ${Math.abs(rise.value)} K ${rise.value >= 0 ? "warmer" : "colder"} than the gauge would`
      : "";
    return `Sizes are off in proportion to their length, ${(value * 1e6).toFixed(1)} µm in each metre${warm}${fades}: warmth, or a scale.`;
  }

  private next({ candidate }: FittedCause): string {
    const { gauges } = this.batch;
    const register = candidate.registers?.[0];
    switch (candidate.kind) {
      case "tool_size":
        return `Read ${register === undefined ? "the register" : this.register(register)} at the control and look at the edge; if both are as they should be, correct as advised and measure the next piece.`;
      case "tool_wear":
        return "Correct for it as advised, measure as often as the plan asks, and change the edge in time.";
      case "deflection":
        return "Repeat the pass at the SAME value and measure again; only then correct. If it stays, lower the load or shorten the tool: an offset now would make the shallow end wrong.";
      case "register_mistaken":
        return `Read ${candidate.into === undefined ? this.register(register!) : `${this.register(register!)} and ${this.register(candidate.into)}`} at the control and enter what is really there; correct nothing else before.`;
      case "work_zero":
        return "Look for chips under the part, touch off the zero again and leave the tool offsets alone: changing every tool would hide it.";
      case "part_turned":
        return "Clean the seat, straighten the part and measure again: no offset puts a turned part right.";
      case "warmth":
        return candidate.fadesWithin === undefined
          ? "Let part and gauge reach the same temperature and measure again, or send temperature_c with the reading; no offset."
          : "Let the machine warm up and measure again before anything is corrected: what fades by itself is no wear.";
      case "gauge":
        return `Check ${gauges[candidate.gauge!]!.name} on its master and measure with another gauge; correct nothing until they agree.`;
      case "single_feature":
        return "Measure it again, clean and free of burrs; then look at its own lines of the programme, its clamping and for a chip.";
    }
  }

  /** What a cause explains and what it leaves over, in numbers. */
  private evidence({ fit, degrees, explains, explained }: FittedCause): string {
    const reached = new Set(explained.flatMap((mm, i) => (mm === 0 ? [] : this.observations[i]!.feature)))
      .size;
    const all = new Set(this.observations.map(({ feature }) => feature)).size;
    const limit = degrees === 0 ? "" : ` (99 % point ${chiSquare99(degrees).toFixed(1)})`;
    const left = `leaves χ² ${fit.rest.toFixed(1)} of ${this.chi2.toFixed(1)} with ${degrees} degree${degrees === 1 ? "" : "s"} of freedom${limit}`;
    return `It reaches ${reached} of ${all} features measured and ${left}: ${explains ? "no more than scatter" : "more than scatter, so that something else is at work too"}.`;
  }

  private register(r: number): string {
    const { view, registerIds } = this.batch;
    const register = view.registers.get(registerIds[r]!)!;
    return nameRegister(register, register.toolId === null ? undefined : view.tools.get(register.toolId));
  }
}

function round(value: number, places: number): number {
  return Number(value.toFixed(places)) + 0;
}
