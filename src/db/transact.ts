import { noteChange } from "./audit.js";
import type { Db, Trx } from "./client.js";

const mostAttempts = 6;

/** Deadlock, serialisation failure, or a row that another replica has written in the meantime: another try comes out right. */
export function isContention(error: unknown): boolean {
  const { code, constraint } = (error ?? {}) as { code?: string; constraint?: string };
  if (code === "40P01" || code === "40001") return true;
  return code === "23505" && /idempotency_key|correction_one_open|reading_from|block_/.test(constraint ?? "");
}

/** Runs `work` in one transaction, and afresh where another writer got in between; `work` may do nothing but read and write. */
export async function transact<T>(db: Db, work: (trx: Trx) => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await db.transaction().execute(async (trx) => {
        const answer = await work(trx);
        await noteChange(trx, answer);
        return answer;
      });
    } catch (error) {
      if (attempt === mostAttempts || !isContention(error)) throw error;
    }
  }
}
