/** Pieces from one to another, both counted. */
export interface PieceRange {
  from: number;
  to: number;
}

/** Ranges in order, none of them touching the next: what touches or overlaps becomes one. */
export function joinRanges(ranges: readonly PieceRange[]): PieceRange[] {
  const joined: PieceRange[] = [];
  for (const { from, to } of [...ranges].sort((a, b) => a.from - b.from)) {
    const last = joined.at(-1);
    if (last && from <= last.to + 1) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  return joined;
}

/** What is left of some ranges without others. */
export function withoutRanges(ranges: readonly PieceRange[], without: readonly PieceRange[]): PieceRange[] {
  const gone = joinRanges(without);
  const left: PieceRange[] = [];
  let first = 0;
  for (const { from, to } of joinRanges(ranges)) {
    while (first < gone.length && gone[first]!.to < from) first += 1;
    let start = from;
    for (let i = first; i < gone.length && gone[i]!.from <= to; i += 1) {
      if (gone[i]!.from > start) left.push({ from: start, to: gone[i]!.from - 1 });
      start = gone[i]!.to + 1;
    }
    if (start <= to) left.push({ from: start, to });
  }
  return left;
}

/** What some ranges have in common with others. */
export function commonRanges(a: readonly PieceRange[], b: readonly PieceRange[]): PieceRange[] {
  return withoutRanges(a, withoutRanges(a, b));
}

export function countPieces(ranges: readonly PieceRange[]): number {
  return ranges.reduce((sum, { from, to }) => sum + to - from + 1, 0);
}

export function hasPiece(ranges: readonly PieceRange[], piece: number): boolean {
  return ranges.some(({ from, to }) => piece >= from && piece <= to);
}
