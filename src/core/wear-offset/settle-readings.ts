import type { Block } from "./block.js";
import { combineRepeats } from "./combine-repeats.js";
import {
  expectedDeviation,
  gaugeDeviation,
  type OtherGauge,
  type Source,
  sizeCovariance,
} from "./estimate.js";
import { type PieceReading, surpriseGate } from "./joint-test.js";
import type { JournalReading, Progress } from "./progress.js";

/** A question that a piece left open. */
export interface OpenQuestion {
  feature: number;
  piece: number;
  ask: 2 | 3;
  readingNos: number[];
  expectedPm: number;
  /** How far a reading may lie from the expected size without surprising, in picometres. */
  withinPm: number;
  /**
   * Set where it is the reference gauge that is asked for: it and another gauge disagree by more than they used to, or
   * a gauge that may have moved itself shows an odd piece.
   */
  reference?: "gauges_disagree" | "odd_piece" | undefined;
}

/** What the readings of one feature on one piece amount to. */
export interface SettledReading extends PieceReading {
  /** Size that counts, in picometres: as the reference gauge reads it, else as the other one does. */
  sizePm: number;
  /** A gauge other than the reference that read it alone: its deviation is still in `sizePm`. */
  only?: OtherGauge;
  /** Readings by different gauges, to be compared before they are taken together. */
  parts?: GaugePart[];
  /** A gauge that reads otherwise beside the reference than it did, and by how much, mm. */
  off?: { gauge: OtherGauge; byMm: number }[];
}

export interface GaugePart {
  deviation: number;
  variance: number;
  gauge: OtherGauge | undefined;
}

interface Settling {
  settled?: SettledReading;
  questions: OpenQuestion[];
  /** Sign of a single reading that surprised and has to be repeated. */
  surprised?: number;
}

/** Beyond this many half tolerances from the expected size it is the typing that is asked about. */
const grossFactor = 5;

/**
 * Judges the readings of one feature on one piece against what is expected, and puts repeats and gauges together.
 * A single reading beyond 3.5 standard deviations, or 5 half tolerances, has to be repeated. Where a reference gauge read
 * the piece too, any other gauge is compared with it: beyond 3.5·√(var(g) + u_p² + u_r²) of what they differed by before,
 * the reference measures again, and if it stands by its reading the other gauge is off.
 * @param mine at least one reading of the feature's first cut, of a piece that is known
 */
export function settleFeature(
  block: Block,
  progress: Progress,
  f: number,
  mine: readonly JournalReading[],
  offsets: readonly number[],
  seat: number | undefined,
): Settling {
  const groups = block.features[f]!.hasReference ? groupByGauge(mine) : [{ gauge: undefined, list: mine }];
  const questions: OpenQuestion[] = [];
  const parts: GaugePart[] = [];
  const off: NonNullable<SettledReading["off"]> = [];
  let reference: { sizePm: number; count: number; part: GaugePart; open: OpenQuestion } | undefined;
  let surprised: number | undefined;
  let sizePm = 0;
  for (const { gauge, list } of groups) {
    const judged = judgeGroup(block, progress, f, list, offsets, seat, gauge, reference !== undefined);
    if (!judged.settled) {
      questions.push(judged.question);
      if (judged.surprised !== undefined) surprised = judged.surprised;
      if (gauge === undefined) break; // nothing is compared with a reference that has to be repeated itself
      continue;
    }
    const { part } = judged;
    if (gauge === undefined) {
      reference = { sizePm: judged.sizePm, count: list.length, part, open: judged.question };
    } else if (reference) {
      const { mean, variance } = gaugeDeviation(block, progress.estimate, f, gauge);
      const byMm = part.deviation - reference.part.deviation - mean;
      if (Math.abs(byMm) > surpriseGate * Math.sqrt(variance + part.variance + reference.part.variance)) {
        if (reference.count === 1) {
          questions.push({ ...reference.open, reference: "gauges_disagree" });
          break;
        }
        off.push({ gauge, byMm });
      }
    }
    if (parts.length === 0) sizePm = judged.sizePm;
    parts.push(part);
  }
  if (parts.length === 0 || questions.some((question) => question.reference === "gauges_disagree"))
    return surprised === undefined ? { questions } : { questions, surprised };
  const readingNos = mine.map((reading) => reading.readingNo).sort((a, b) => a - b);
  const together = weigh(parts);
  const settled: SettledReading = { feature: f, readingNos, sizePm, ...together };
  if (seat !== undefined) settled.source = { ...settled.source, seat };
  if (parts.length > 1) settled.parts = parts;
  if (!reference && parts.length === 1 && parts[0]!.gauge) settled.only = parts[0]!.gauge;
  if (off.length > 0) settled.off = off;
  return { settled, questions };
}

/** The readings of the reference gauge, then those of each other gauge by their ids. */
export function groupByGauge(
  mine: readonly JournalReading[],
): { gauge: OtherGauge | undefined; list: JournalReading[] }[] {
  const groups = new Map<string | undefined, { gauge: OtherGauge | undefined; list: JournalReading[] }>();
  for (const reading of mine) {
    const { gauge } = reading;
    const other = gauge && !gauge.reference ? { id: gauge.id, expandedMm: gauge.expandedMm } : undefined;
    const group = groups.get(other?.id);
    if (group) group.list.push(reading);
    else groups.set(other?.id, { gauge: other, list: [reading] });
  }
  return [...groups.values()].sort((a, b) => ((a.gauge?.id ?? "") < (b.gauge?.id ?? "") ? -1 : 1));
}

/** Readings of one feature by one gauge: what they amount to, or what has to be asked. */
function judgeGroup(
  block: Block,
  progress: Progress,
  f: number,
  list: readonly JournalReading[],
  offsets: readonly number[],
  seat: number | undefined,
  gauge: OtherGauge | undefined,
  hasReference: boolean,
) {
  const { estimate } = progress;
  const feature = block.features[f]!;
  const source: Source = { seat, gauges: gauge && [{ gauge, weight: 1 }] };
  const expected = expectedDeviation(block, estimate, f, offsets, source);
  const variance = Math.max(...list.map((reading) => reading.gaugeVariance));
  const spread = Math.sqrt(sizeCovariance(block, estimate, f, f, source) + estimate.scatter[f]! + variance);
  // Beside the reference a gauge is compared with that; only what can't be a size at all is asked about.
  const gross = grossFactor * feature.roomMm;
  const withinMm = hasReference ? gross : Math.min(gross, surpriseGate * spread);
  const surprise = (list[0]!.sizePm - feature.programmedPm) / 1e9 - expected;
  const before = progress.unconfirmed[f];
  const confirmed = before != null && before.sign === Math.sign(surprise);
  const surprising = list.length === 1 && Math.abs(surprise) > withinMm && !confirmed;
  const combined = combineRepeats(
    list.map((reading) => reading.sizePm),
    variance,
    surprising,
  );
  const question: OpenQuestion = {
    feature: f,
    piece: list[0]!.piece,
    ask: combined.settled ? 2 : combined.ask,
    readingNos: list.map((reading) => reading.readingNo).sort((a, b) => a - b),
    expectedPm: feature.programmedPm + expected * 1e9,
    withinPm: withinMm * 1e9,
  };
  if (!combined.settled) {
    return { settled: false as const, question, surprised: surprising ? Math.sign(surprise) : undefined };
  }
  const deviation = (combined.sizePm - feature.programmedPm) / 1e9;
  const part: GaugePart = { deviation, variance, gauge };
  return { settled: true as const, question, sizePm: combined.sizePm, part };
}

/** Mean of readings by different gauges, each weighed by 1/u², with what is left of u² and which gauges are in it. */
function weigh(parts: readonly GaugePart[]): Pick<PieceReading, "deviation" | "gaugeVariance" | "source"> {
  let [{ deviation, variance }] = parts as [GaugePart, ...GaugePart[]];
  let gauges = gaugesOf(parts[0]!);
  for (const part of parts.slice(1))
    ({ deviation, variance, gauges } = join({ deviation, variance, gauges }, part));
  return { deviation, gaugeVariance: variance, source: gauges.length > 0 ? { gauges } : {} };
}

/** The mean so far with one more reading. */
export function join(
  mean: { deviation: number; variance: number; gauges: NonNullable<Source["gauges"]> },
  part: GaugePart,
): { deviation: number; variance: number; gauges: NonNullable<Source["gauges"]> } {
  const sum = mean.variance + part.variance;
  const [own, other] = [part.variance / sum, mean.variance / sum];
  return {
    deviation: own * mean.deviation + other * part.deviation,
    variance: (mean.variance * part.variance) / sum,
    gauges: [
      ...mean.gauges.map(({ gauge, weight }) => ({ gauge, weight: own * weight })),
      ...gaugesOf(part).map(({ gauge }) => ({ gauge, weight: other })),
    ],
  };
}

export function gaugesOf({ gauge }: GaugePart): NonNullable<Source["gauges"]> {
  return gauge ? [{ gauge, weight: 1 }] : [];
}
