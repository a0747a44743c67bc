/**
 * A block: the registers and features of a batch that influence each other, with the tools that carry them. Everything
 * the estimator needs to know that no reading changes. Lengths with `Pm` are whole picometres, with `Mm` doubles in mm.
 */
export interface Block {
  readonly key: string;
  readonly tools: readonly BlockTool[];
  readonly registers: readonly BlockRegister[];
  readonly features: readonly BlockFeature[];
  /** Seats of the fixture, by name; absent: pieces are not told apart by where they were clamped. */
  readonly seats?: readonly string[];
  /** Work offsets: known inputs beside the registers, with no wear of their own. */
  readonly workOffsets?: readonly BlockWorkOffset[];
}

/**
 * A register that moves what is cut in one seat, or in all of them. In a journal its number is that of the registers and its
 * own together.
 */
export interface BlockWorkOffset {
  readonly registerId: string;
  /** Undefined: it acts on every piece. */
  readonly seat: number | undefined;
  readonly leastIncrementPm: number;
  readonly largestTotalPm: number | undefined;
  /** Change of size per +1, feature by feature; 0 where it does not act. */
  readonly effects: readonly number[];
}

export interface BlockTool {
  readonly toolId: string;
  /** Planned life of an edge in pieces; 100 where nobody has said. */
  readonly lifePieces: number;
}

export interface BlockRegister {
  readonly registerId: string;
  readonly tool: number;
  readonly leastIncrementPm: number;
  readonly largestTotalPm: number | undefined;
  /** Register move that uses up the tightest half tolerance: min over features of T / |effect|. */
  readonly halfMoveMm: number;
}

export interface BlockFeature {
  readonly featureId: string;
  /** One of several places at which the feature is measured: each is a feature of its own here. Absent: there is one. */
  readonly place?: string | undefined;
  /** Size that the programme is taken to aim at: what is read is judged as a deviation from it. */
  readonly programmedPm: number;
  readonly lowerPm: number | undefined;
  readonly upperPm: number | undefined;
  readonly targetPm: number;
  /** Change of size per +1 in each register of the block; 0 where it does not act. */
  readonly effects: readonly number[];
  /** The tool whose life the feature follows; undefined: no tool is named. */
  readonly tool: number | undefined;
  /** +1: a size too large has metal left to remove; −1: a size too small has. */
  readonly metal: 1 | -1;
  /** Distance from the target to the limits above and below; a missing limit counts as far as the given one. */
  readonly roomAboveMm: number;
  readonly roomBelowMm: number;
  /** T: the smaller of the two. */
  readonly roomMm: number;
  /** True where a check of this block is incomplete without this feature. */
  readonly tells: boolean;
  /** A reference gauge is named: every other gauge's deviation from it is learned. */
  readonly hasReference?: boolean;
}

export const unknownLifePieces = 100;

/** Room from the target to the limits, in mm: above, below and the smaller of them. */
export function roomOf(feature: {
  lowerPm: number | undefined;
  upperPm: number | undefined;
  targetPm: number;
}) {
  const { lowerPm, upperPm, targetPm } = feature;
  const above = upperPm === undefined ? undefined : (upperPm - targetPm) / 1e9;
  const below = lowerPm === undefined ? undefined : (targetPm - lowerPm) / 1e9;
  const roomAboveMm = above ?? below ?? Number.NaN;
  const roomBelowMm = below ?? above ?? Number.NaN;
  return { roomAboveMm, roomBelowMm, roomMm: Math.min(roomAboveMm, roomBelowMm) };
}

/** Share of the way from target to the limit on the side of a deviation from target: ±1 is on the limit. */
export function shareOf(fromTargetMm: number, room: { roomAboveMm: number; roomBelowMm: number }): number {
  return fromTargetMm / (fromTargetMm >= 0 ? room.roomAboveMm : room.roomBelowMm);
}
