import type { Readable } from "node:stream";
import { sql } from "kysely";
import type { Db } from "./client.js";

/** The database as it stood at one moment; holds a connection until `end`. */
export interface Snapshot {
  db: Db;
  end(): Promise<void>;
}

/**
 * For documents that are read from the database bit by bit while others go on writing. Where nothing is asked of a snapshot for a
 * minute, since nobody reads the document on, the database ends it.
 */
export class Snapshots {
  private open = 0;

  constructor(
    private readonly db: Db,
    private readonly most: number,
  ) {}

  /** Undefined where as many are open as may be: a connection each is what others have to do without. */
  async take(): Promise<Snapshot | undefined> {
    if (this.open >= this.most) return undefined;
    this.open += 1;
    const trx = await this.begin();
    let ended: Promise<void> | undefined;
    const end = async () => {
      // A connection that has died is given back all the same; whoever reads from it has the error.
      await trx
        .rollback()
        .execute()
        .catch(() => {});
      this.open -= 1;
    };
    const snapshot = {
      db: trx,
      end: () => {
        ended ??= end();
        return ended;
      },
    };
    try {
      await sql`set local idle_in_transaction_session_timeout = '60s'`.execute(trx);
    } catch (error) {
      await snapshot.end();
      throw error;
    }
    return snapshot;
  }

  private async begin() {
    try {
      return await this.db
        .startTransaction()
        .setIsolationLevel("repeatable read")
        .setAccessMode("read only")
        .execute();
    } catch (error) {
      this.open -= 1;
      throw error;
    }
  }
}

/** Ends a snapshot with its document: when it has been sent, or nobody reads on. */
export function endWith<Document extends Readable>(document: Document, snapshot: Snapshot): Document {
  document.once("close", () => void snapshot.end());
  return document;
}
