import type { Block, BlockWorkOffset } from "./block.js";
import { type JointTest, testPiece } from "./joint-test.js";
import { acceptJump, copyProgress, countSingle, offsetsOf, type Progress, type Suspect } from "./progress.js";
import type { SettledReading } from "./settle-readings.js";
import { takePiece } from "./take-piece.js";

/**
 * From this evidence on one piece is enough to say that a change came out otherwise; below it the next one has to agree. Of
 * some 10,000 changes keyed right 0.12 % reach it (the project's method note, 9.8).
 */
const slipBeyondDoubt = 16;

/** From so many jumps, or single odd pieces, on in a batch the next one is no surprise. */
const usualFrom = 2;

/**
 * A piece that does not fit: the first is left out until the next one tells, a second one makes it a jump that waits for a
 * person; so does the first one where the jump is beyond doubt. A piece of one seat that is odd twice while others are as
 * expected is a jump of that seat.
 */
export function noteOddPiece(
  block: Block,
  progress: Progress,
  piece: number,
  seat: number | undefined,
  test: JointTest,
  settled: readonly SettledReading[],
): void {
  const { cause, suspect } = progress;
  if (cause) {
    progress.cause = { ...cause, lastPiece: piece };
    return;
  }
  const ofSeat = progress.seatSuspects?.find(
    (other) => other.seat === seat && other.features.some((f) => test.beyond.includes(f)),
  );
  const first = suspect ?? ofSeat;
  const before = first?.piece ?? earliestUnconfirmed(progress, test.beyond);
  const register = ofSeat && !suspect ? undefined : registerOf(block, test);
  const slipped = slippedOffset(block, test);
  const out = isOut(block, settled);
  // A chip leaves the tool smaller, which acts like a larger register; the other way the next piece has to agree.
  const chipped = test.jumpMm > 0 && (test.certain || isUsual());
  const beyondDoubt = test.slip ? test.slip.evidence >= slipBeyondDoubt : chipped;
  // Where single odd pieces are what is met here, this may be another one.
  const singles = progress.singles?.odd ?? 0;
  const doubted = !beyondDoubt || (singles >= usualFrom && singles > progress.jumps);
  // A jump stays where it went: a second odd piece that is odd in another way is no proof of one, a third is.
  const another =
    suspect !== null && !suspect.another && !test.slip && !fits(block, progress.ifReal, settled);
  if (doubted && (before === undefined || another)) {
    progress.suspect = { piece, features: test.beyond };
    if (seat !== undefined) progress.suspect.seat = seat;
    if (register !== undefined) progress.suspect.register = register;
    if (another) progress.suspect.another = true;
    if (out) progress.suspect.out = true;
    delete progress.ifReal;
    const jump = { register, features: test.beyond, seat: slipped?.seat };
    progress.ifReal = startIfReal(block, progress, piece, jump, settled);
    return;
  }
  const features = [...new Set([...(first?.features ?? []), ...test.beyond])].sort((a, b) => a - b);
  progress.cause = {
    firstPiece: before ?? piece,
    lastPiece: piece,
    features,
    register,
    jumpMm: test.jumpMm,
    single: settled.length === 1,
    slip: test.slip,
  };
  if (out) progress.cause.out = true;
  if (ofSeat && !suspect) {
    progress.cause.seat = ofSeat.seat;
    progress.seatSuspects = progress.seatSuspects!.filter((other) => other !== ofSeat);
  }
  if (slipped?.seat !== undefined) progress.cause.seat = slipped.seat;
  if (!test.slip) progress.jumps += 1;
  progress.goodInARow = 0;
  progress.suspect = null;
  const jump = { register, features, seat: progress.cause.seat };
  if (!progress.ifReal) progress.ifReal = startIfReal(block, progress, piece, jump, settled);
  else if (!isSameJump(suspect, jump)) acceptJump(block, progress.ifReal, jump);

  /** What has happened before in this batch, and never turned out to be a single odd piece, is not waited for. */
  function isUsual(): boolean {
    return out && register !== undefined && progress.jumps >= usualFrom;
  }
}

/** True where a settled size is outside its limits, as far as the gauge alone says. */
function isOut(block: Block, settled: readonly SettledReading[]): boolean {
  return settled.some(({ feature, sizePm }) => {
    const { lowerPm, upperPm } = block.features[feature]!;
    return sizePm < (lowerPm ?? sizePm) || sizePm > (upperPm ?? sizePm);
  });
}

/** True where the second state has begun with this very jump. */
function isSameJump(
  suspect: Suspect | null,
  jump: { register: number | undefined; features: readonly number[] },
): boolean {
  if (!suspect || suspect.register !== jump.register) return false;
  return jump.register !== undefined || suspect.features.length === jump.features.length;
}

/** The register of a tool that explains the piece; a work offset that was keyed wrong is none. */
function registerOf(block: Block, { slip, explained, register }: JointTest): number | undefined {
  if (slip) return slip.register < block.registers.length ? slip.register : undefined;
  return explained ? register : undefined;
}

function slippedOffset(block: Block, { slip }: JointTest): BlockWorkOffset | undefined {
  return slip && block.workOffsets?.[slip.register - block.registers.length];
}

function earliestUnconfirmed(progress: Progress, features: readonly number[]): number | undefined {
  const pieces = features.flatMap((f) => progress.unconfirmed[f]?.piece ?? []);
  return pieces.length > 0 ? Math.min(...pieces) : undefined;
}

/** The state in which a jump is real from `piece` on, with the readings of that piece. */
function startIfReal(
  block: Block,
  progress: Progress,
  piece: number,
  jump: Parameters<typeof acceptJump>[2],
  settled: readonly SettledReading[],
): Progress {
  const real = copyProgress({ ...progress, cause: null, suspect: null });
  acceptJump(block, real, jump);
  takePiece(block, real, piece, settled);
  return real;
}

/** True where a piece is as expected in the second state, or there is none to tell. It stands at that piece already. */
function fits(block: Block, real: Progress | undefined, settled: readonly SettledReading[]): boolean {
  if (!real) return true;
  const none = block.registers.map(() => undefined);
  return !testPiece(block, real.estimate, offsetsOf(real), settled, none).odd;
}

/** Carries the second state on with a piece that fits it. It stands at that piece already. */
export function followIfReal(
  block: Block,
  progress: Progress,
  piece: number,
  settled: readonly SettledReading[],
): void {
  const real = progress.ifReal;
  if (!real || settled.length === 0 || !fits(block, real, settled)) return;
  takePiece(block, real, piece, settled);
}

/** What a piece that fits says of the odd ones before it; pieces on which other features were measured say nothing. */
export function settleSuspects(
  progress: Progress,
  seat: number | undefined,
  settled: readonly SettledReading[],
): void {
  const tells = (features: readonly number[]) => settled.some(({ feature }) => features.includes(feature));
  const { suspect } = progress;
  if (progress.seatSuspects) {
    const left = progress.seatSuspects.filter((other) => other.seat !== seat || !tells(other.features));
    for (const other of progress.seatSuspects) if (!left.includes(other)) countSingle(progress, other);
    if (left.length > 0) progress.seatSuspects = left;
    else delete progress.seatSuspects;
  }
  if (!suspect || !tells(suspect.features)) return;
  progress.suspect = null;
  if (!progress.cause) delete progress.ifReal;
  if (suspect.seat !== undefined && suspect.seat !== seat) {
    progress.seatSuspects = [...(progress.seatSuspects ?? []), { ...suspect, seat: suspect.seat }];
  } else if (!progress.cause) countSingle(progress, suspect);
}
