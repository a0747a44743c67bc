import type { Db } from "../db/client.js";
import { type BatchView, seatByNumber } from "./batch-view.js";
import type { BatchWork } from "./batch-work.js";
import { listSeats } from "./queries.js";

/** Where a piece sat, and whether somebody said so or it follows from the piece's number. */
export interface Seat {
  seat: string | null;
  given: boolean;
}

interface SeatSaid {
  piece: number;
  cut?: number | undefined;
  seat?: string | undefined;
  piece_within?: number | undefined;
}

/**
 * Seats of pieces of one batch by readings before, those decided in this very write among them; by piece and cut, since a
 * piece may have been clamped elsewhere before it was cut again.
 */
export type KnownSeats = Map<string, Seat>;

function nameCut({ piece, cut = 1 }: { piece: number; cut?: number | undefined }): string {
  return `${piece}/${cut}`;
}

/** What is known of the seats of the pieces that a request's readings name; of batches without seats nothing is asked. */
export async function findSeats(
  db: Db,
  placed: readonly { input: SeatSaid; work: BatchWork }[],
): Promise<Map<BatchWork, KnownSeats>> {
  const known = new Map<BatchWork, KnownSeats>();
  const seated = placed.filter(({ work }) => work.view.seats.length > 0);
  for (const work of new Set(seated.map((item) => item.work))) {
    const { view } = work;
    const mine = seated.filter((item) => item.work === work).map(({ input }) => input);
    const featureIds = view.features.map((feature) => feature.featureId);
    const pieces = [...new Set(mine.map((input) => input.piece))];
    const seats: KnownSeats = new Map();
    for (const { seat, given, ...cut } of await listSeats(db, view.batchId, featureIds, pieces))
      seats.set(nameCut(cut), { seat, given });
    for (const row of work.readings) {
      if (row.seat !== null && !isUnsure(row.piece_within))
        seats.set(nameCut(row), { seat: row.seat, given: row.seat_given });
    }
    // What one reading of a cut says in this request holds for its others.
    for (const input of mine) {
      if (input.seat === undefined || isUnsure(input.piece_within) || seats.has(nameCut(input))) continue;
      seats.set(nameCut(input), { seat: input.seat, given: true });
    }
    known.set(work, seats);
  }
  return known;
}

/**
 * The seat that a reading's piece was cut in: as it says, else as the other readings of that cut have it, else as those of
 * its first cut, else by its number. All readings of one cut have one seat. A piece that is only known to be one of several has none unless one is said.
 * @returns the fault in words where it cannot be
 */
export function resolveSeat(
  input: SeatSaid,
  view: Pick<BatchView, "seats" | "name">,
  known: KnownSeats | undefined,
): Seat | string {
  const { seat, piece, piece_within } = input;
  if (view.seats.length === 0) {
    if (seat === undefined) return { seat: null, given: false };
    return `is not known: batch "${view.name}" was opened without "seats". Leave it out, or open a batch that names them`;
  }
  if (seat !== undefined && !view.seats.includes(seat))
    return `"${seat}" is no seat of batch "${view.name}": its seats are ${view.seats.map((name) => `"${name}"`).join(", ")}`;
  if (isUnsure(piece_within)) return { seat: seat ?? null, given: seat !== undefined };
  const before = known?.get(nameCut(input));
  if (seat === undefined)
    return before ?? known?.get(nameCut({ piece })) ?? { seat: seatByNumber(view, piece), given: false };
  if (before === undefined || before.seat === seat) return { seat, given: true };
  return before.given
    ? `piece ${piece} sat in "${before.seat}" by another reading of the same cut, which has one seat: send that one, or void the other reading if it is wrong`
    : `piece ${piece} counts as cut in "${before.seat}", as its number says, since a reading of it came without a seat: void that reading and send it again with its seat`;
}

function isUnsure(pieceWithin: number | null | undefined): boolean {
  return (pieceWithin ?? 1) > 1;
}
