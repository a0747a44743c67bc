import { createHash } from "node:crypto";
import { sql } from "kysely";
import { z } from "zod";
import type { Db, Trx } from "../db/client.js";
import { transact } from "../db/transact.js";
import { ProblemError } from "./problem.js";

/** Headers of every writing POST. */
export const WriteHeaders = z.looseObject({
  "idempotency-key": z
    .string()
    .regex(/^[\x21-\x7e]{1,255}$/, "must be 1 to 255 visible ASCII characters, such as a UUID")
    .optional()
    .describe(
      "A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time",
    ),
});

interface WriteRequest {
  method: string;
  url: string;
  headers: { "idempotency-key"?: string | undefined };
  body: unknown;
}
interface WriteReply {
  code(status: number): unknown;
  header(name: string, value: string): unknown;
}

/**
 * Runs a writing handler in one transaction and answers what it returns. With an Idempotency-Key the answer is kept in
 * that transaction, and the same request sent again gets it again.
 */
export async function write<Body>(
  request: WriteRequest,
  reply: WriteReply,
  db: Db,
  handler: (trx: Trx) => Promise<{ status: number; body: Body }>,
): Promise<Body> {
  const key = request.headers["idempotency-key"];
  const answer = await transact(db, (trx) =>
    key === undefined ? handler(trx) : once(trx, key, fingerprint(request), handler),
  );
  if ("replayed" in answer) reply.header("idempotency-replayed", "true");
  reply.code(answer.status);
  return answer.body;
}

async function once<Body>(
  trx: Trx,
  key: string,
  print: string,
  handler: (trx: Trx) => Promise<{ status: number; body: Body }>,
): Promise<{ status: number; body: Body; replayed?: true }> {
  // Held until the transaction ends, so whoever gets it later sees what the first one has stored.
  const lock = await sql<{ locked: boolean }>`
    select pg_try_advisory_xact_lock(hashtextextended(${key}, 9457)) as locked`.execute(trx);
  if (!lock.rows[0]?.locked) {
    throw new ProblemError(
      "idempotency-in-flight",
      "Wait a moment and send it again with the same Idempotency-Key.",
    );
  }
  const kept = await trx
    .selectFrom("idempotency_key")
    .select(["fingerprint", "status", "body"])
    .where("key", "=", key)
    .executeTakeFirst();
  if (kept && kept.fingerprint !== print) {
    throw new ProblemError(
      "idempotency-key-reused",
      "Another request has used this Idempotency-Key. Choose a fresh key for each new request, and an old one only to " +
        "send the very same request again.",
    );
  }
  if (kept) return { status: kept.status, body: JSON.parse(kept.body), replayed: true };
  const answer = await handler(trx);
  await trx
    .insertInto("idempotency_key")
    .values({ key, fingerprint: print, status: answer.status, body: JSON.stringify(answer.body) })
    .execute();
  return answer;
}

const keptDays = 30;

/** Forgets the keys of requests that nobody sends again after so long. */
export async function deleteOldKeys(db: Db): Promise<void> {
  await sql`delete from idempotency_key where created_at < now() - make_interval(days => ${keptDays})`.execute(
    db,
  );
}

/** What makes two requests the same. */
export function fingerprint({ method, url, body }: Pick<WriteRequest, "method" | "url" | "body">): string {
  return createHash("sha256")
    .update(`${method} ${url}\n${JSON.stringify(body)}`)
    .digest("base64");
}
