import type { Db } from "../../db/client.js";
import type { ImportCounters } from "../../db/schema.js";
import type { Layout } from "../../import/layout.js";
import { findHighestSerialPiece, findPiecesOfSerials, insertPieceSerials } from "./queries.js";

/** Pieces of readings whose file does not number them. */
export class PieceNumbers {
  readonly counts: boolean;
  readonly bySerial: boolean;
  private readonly recalled = new Map<number, Record<string, number>>();
  /** Of a dry run, which keeps none. */
  private readonly dryPieces = new Map<string, number>();
  private highestRead: number | undefined;

  constructor(
    from: Layout["piece_from"],
    private readonly firstPiece: number | undefined,
  ) {
    this.counts = from === "count";
    this.bySerial = from === "serial";
  }

  /** What had been counted when a line was read first: it keeps its piece when it is read again. */
  recall(line: number, pieces: Record<string, number>): void {
    this.recalled.set(line, pieces);
  }

  /** The piece of the next reading of a characteristic; undefined: its layout does not count. */
  count(
    line: number,
    characteristic: string,
    counters: ImportCounters,
    nthPiece?: number,
  ): number | { fault: string } | undefined {
    if (!this.counts) return undefined;
    if (nthPiece !== undefined) return this.firstPiece! + nthPiece;
    const recalled = this.recalled.get(line);
    if (recalled) {
      const piece = this.firstPiece! + (recalled[characteristic] ?? 0);
      recalled[characteristic] = (recalled[characteristic] ?? 0) + 1;
      return piece;
    }
    if (counters.lostAt !== null) {
      return {
        fault: `can't be counted: line ${counters.lostAt} can't be read, and may have been a piece. Mend the layout, or have a rule skip that line, and retry`,
      };
    }
    const before = counters.pieces[characteristic] ?? 0;
    counters.pieces[characteristic] = before + 1;
    return this.firstPiece! + before;
  }

  /**
   * Pieces of serial numbers, given in the order of the file. One that is new to the batch is its next piece, and stays it,
   * whatever becomes of its readings.
   */
  async assign(
    db: Db,
    batchId: string,
    serials: readonly string[],
    dry: boolean,
  ): Promise<Map<string, number>> {
    const named = serials.filter((serial) => serial !== "");
    if (named.length === 0) return new Map();
    const { pieces, lastPieceCut, highest } = await findPiecesOfSerials(db, batchId, named);
    for (const [serial, piece] of this.dryPieces) if (!pieces.has(serial)) pieces.set(serial, piece);
    const fresh = named.filter((serial) => !pieces.has(serial));
    if (fresh.length === 0) return pieces;
    this.highestRead ??= await findHighestSerialPiece(db, batchId);
    const dryHighest = Math.max(0, ...this.dryPieces.values());
    const known = Math.max(highest, this.highestRead, dryHighest) + 1;
    const first = Math.max(known, this.firstPiece ?? (known === 1 ? lastPieceCut + 1 : 1));
    const given = fresh.map((serial, i): [string, number] => [serial, first + i]);
    for (const [serial, piece] of given) pieces.set(serial, piece);
    if (!dry) await insertPieceSerials(db, batchId, given);
    else for (const [serial, piece] of given) this.dryPieces.set(serial, piece);
    return pieces;
  }
}
