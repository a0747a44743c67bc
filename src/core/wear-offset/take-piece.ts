import type { Block } from "./block.js";
import { gaugeDeviation, takeReading } from "./estimate.js";
import { type LatestReading, offsetsOf, type Progress, type RegisterProgress } from "./progress.js";
import type { SettledReading } from "./settle-readings.js";

/** Takes the readings of a piece that fits into the state. */
export function takePiece(
  block: Block,
  progress: Progress,
  piece: number,
  list: readonly SettledReading[],
): void {
  const { estimate, registers } = progress;
  const offsets = offsetsOf(progress);
  const values = registers.map((register) => register.valuePm);
  for (const { feature, deviation, gaugeVariance, readingNos, sizePm, source, only } of list) {
    takeReading(block, estimate, feature, deviation, gaugeVariance, offsets, source);
    const bias = only ? gaugeDeviation(block, estimate, feature, only).mean : 0;
    const latest: LatestReading = {
      piece,
      sizePm: sizePm - Math.round(bias * 1e9),
      valuesPm: values,
      readingNos: [...readingNos],
    };
    if (progress.workOffsets) {
      latest.workOffsetsPm = progress.workOffsets.map((offset) => offset.valuePm);
      latest.seat = source?.seat;
    }
    progress.latest[feature] = latest;
    progress.unconfirmed[feature] = null;
  }
  block.registers.forEach((_, r) => {
    const used = list.filter(({ feature }) => block.features[feature]!.effects[r] !== 0);
    if (used.length === 0) return;
    const count = used.reduce((sum, { readingNos }) => sum + readingNos.length, 0);
    countReadings(registers[r]!, piece, estimate.mean[r]!, count);
  });
}

function countReadings(register: RegisterProgress, piece: number, level: number, count: number): void {
  if (register.openChangeMm !== null) {
    register.proven = true;
    register.usedSinceChange = 0;
  }
  register.openChangeMm = null;
  register.readAtPm = register.valuePm;
  register.usedSinceChange += count;
  register.usedSinceEdge += count;
  register.measuredPieces += 1;
  register.last = { piece, level };
  if (register.measuredPieces === 3) register.third = register.last;
}
