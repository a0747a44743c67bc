import { chiSquare99 } from "../statistics/chi-square.js";
import { inverseForm } from "../statistics/quadratic-form.js";
import type { Block } from "./block.js";
import { type Estimate, expectedDeviation, type Source, sizeCovariance } from "./estimate.js";

/** What the readings of one piece amount to before they touch the state. Deviations from the programmed size, mm. */
export interface PieceReading {
  feature: number;
  deviation: number;
  gaugeVariance: number;
  readingNos: readonly number[];
  /** Seat of the piece and gauges other than the reference; absent: neither has a deviation of its own. */
  source?: Source;
}

export interface JointTest {
  odd: boolean;
  /** Features whose own |z| is above the gate; the worst one where only their sum is too large. */
  beyond: number[];
  /** The register whose jump explains the piece best, and how much is left unexplained. */
  register: number | undefined;
  jumpMm: number;
  /** True: one register explains the piece. */
  explained: boolean;
  /** True: the jump is beyond doubt from this piece alone. */
  certain: boolean;
  /** A change keyed before this piece that came out as another than the one believed. */
  slip: Slip | undefined;
}

/** What a change that was believed to be `changeMm` looks like: factors of it, most likely first (one, or two). */
export interface Slip {
  /** Numbers above those of the registers are work offsets. */
  register: number;
  changeMm: number;
  factors: number[];
  /** χ²(1) − χ²(best): how much better the best factor explains the piece than the change as it was believed. */
  evidence: number;
}

export const surpriseGate = 3.5;
const looseness = 1.6;
const slipFactors = [0.5, 0, -1, 2];
const slipEvidence = 12;
const slipLead = 4;

/**
 * Joint test of all readings of a piece: χ² = e' S⁻¹ e. Odd if any |z| > 3.5, or m > 1 and χ² > 1.6·Q99(m). For each
 * register one jump is fitted, d = g'We/(g'Wg), rest = χ² − d²·g'Wg, and, where the register was changed before this
 * piece by D, e − (f − 1)·s·D for f = 1/2, 0, −1, 2 is compared with f = 1.
 * @param changes per register, and per work offset after them: the change D in mm whose prediction has not been compared yet
 */
export function testPiece(
  block: Block,
  estimate: Estimate,
  offsets: readonly number[],
  readings: readonly PieceReading[],
  changes: readonly (number | undefined)[],
): JointTest {
  const m = readings.length;
  const surprises = readings.map(
    ({ deviation, feature, source }) =>
      deviation - expectedDeviation(block, estimate, feature, offsets, source),
  );
  const matrix = readings.map((a, i) =>
    readings.map(
      (b, j) =>
        sizeCovariance(block, estimate, a.feature, b.feature, a.source, b.source) +
        (i === j ? estimate.scatter[a.feature]! + a.gaugeVariance : 0),
    ),
  );
  const z = surprises.map((e, i) => Math.abs(e) / Math.sqrt(matrix[i]![i]!));
  const form = inverseForm(matrix);
  const chi2 = form(surprises, surprises);
  const beyond = readings.filter((_, i) => z[i]! > surpriseGate).map((reading) => reading.feature);
  const odd = beyond.length > 0 || (m > 1 && chi2 > looseness * chiSquare99(m));

  let register: number | undefined;
  let jumpMm = 0;
  let rest = chi2;
  block.registers.forEach((_, r) => {
    const g = readings.map((reading) => block.features[reading.feature]!.effects[r]!);
    if (g.every((effect) => effect === 0)) return;
    const weight = form(g, g);
    const jump = form(g, surprises) / weight;
    const left = chi2 - jump ** 2 * weight;
    if (register === undefined || left < rest) [register, jumpMm, rest] = [r, jump, left];
  });
  const worst = z.indexOf(Math.max(...z));
  return {
    odd,
    beyond: beyond.length > 0 || m === 0 ? beyond : [readings[worst]!.feature],
    register,
    jumpMm,
    explained: register !== undefined && rest <= looseness * chiSquare99(m - 1) + 1e-9 * chi2,
    certain: beyond.length >= 2 && register !== undefined && rest <= chiSquare99(m - 1),
    slip: findSlip(),
  };

  function findSlip(): Slip | undefined {
    for (const [r, changeMm] of changes.entries()) {
      if (changeMm === undefined) continue;
      const g = readings.map(({ feature }) => effectOf(block, feature, r) * changeMm);
      if (g.every((effect) => effect === 0)) continue;
      const tried = slipFactors
        .map((factor) => {
          const left = surprises.map((e, i) => e - (factor - 1) * g[i]!);
          return { factor, chi2: form(left, left) };
        })
        .sort((a, b) => a.chi2 - b.chi2);
      const [best, second] = tried as [{ factor: number; chi2: number }, { factor: number; chi2: number }];
      if (chi2 - best.chi2 < slipEvidence || best.chi2 > looseness * chiSquare99(m)) continue;
      const factors = second.chi2 - best.chi2 >= slipLead ? [best.factor] : [best.factor, second.factor];
      return { register: r, changeMm, factors, evidence: chi2 - best.chi2 };
    }
    return undefined;
  }
}

/** Change of a feature's size per +1 in a register, or in a work offset by its number after those. */
function effectOf(block: Block, feature: number, register: number): number {
  const { effects } = block.features[feature]!;
  return effects[register] ?? block.workOffsets![register - effects.length]!.effects[feature]!;
}
