import { setTimeout as delay } from "node:timers/promises";
import { sql } from "kysely";
import { z } from "zod";
import type { Db } from "../db/client.js";
import { answer, ProblemError, problems } from "./problem.js";
import type { App } from "./types.js";

const Health = z
  .strictObject({ status: z.literal("ok").describe("Always `ok`; what is not ok is answered as a problem") })
  .meta({ id: "Health", description: "The service works", examples: [{ status: "ok" }] });

const probeHoldsMs = 1000; // however many ask, the database is written to once in this time
const patienceMs = 3000;

export async function healthRoutes(app: App, { db, isStopping }: { db: Db; isStopping: () => boolean }) {
  const probe = createProbe(db);

  app.get("/healthz", {
    config: { isUncounted: true },
    schema: {
      operationId: "getHealth",
      summary: "Say whether the process runs",
      tags: ["service"],
      security: [],
      response: { 200: answer("It runs", Health), ...problems({ 500: "It does not" }) },
    },
    handler: async () => ({ status: "ok" as const }),
  });

  app.get("/readyz", {
    config: { isUncounted: true },
    schema: {
      operationId: "getReadiness",
      summary:
        "Say whether the service can work: whether it can write to its database, and is not about to stop",
      tags: ["service"],
      security: [],
      response: {
        200: answer("It can work", Health),
        ...problems({ 503: "It cannot write to its database, or is stopping" }),
      },
    },
    handler: async () => {
      if (isStopping())
        throw new ProblemError("unavailable", "This service is stopping. Ask another, or in a moment.");
      await probe();
      return { status: "ok" as const };
    },
  });
}

/** Answers whether a write goes through; asked by many at once, or again at once, it writes but once. */
function createProbe(db: Db): () => Promise<void> {
  let written: Promise<unknown> = Promise.resolve();
  let isUnderWay = false;
  let begun = Number.NEGATIVE_INFINITY;
  return async () => {
    // One that hangs is waited for, not joined by another: each would take a connection from those who work.
    if (!isUnderWay && performance.now() - begun > probeHoldsMs) {
      begun = performance.now();
      isUnderWay = true;
      written = write(db).finally(() => {
        isUnderWay = false;
      });
      written.catch(() => {}); // it may fail when nobody waits any more
    }
    const patience = new AbortController();
    try {
      const answered = written.then(() => "written");
      if ((await Promise.race([answered, delay(patienceMs, "late", { signal: patience.signal })])) === "late")
        throw new Error(`no answer within ${patienceMs / 1000} s`);
    } catch (cause) {
      throw new ProblemError(
        "unavailable",
        "The service cannot write to its database just now. Its log says why; it goes on by itself when the database does.",
        undefined,
        { cause },
      );
    } finally {
      patience.abort();
    }
  };
}

/**
 * The row alone would be written on a full disk, too, where its page and the log have room left: what does not fit into memory
 * goes to the disk besides.
 */
async function write(db: Db): Promise<void> {
  await db.transaction().execute(async (trx) => {
    await sql`set local work_mem = '64kB'`.execute(trx);
    await sql`update upkeep set probed_at = now() where (select count(*) from generate_series(1, 20000)) > 0`.execute(
      trx,
    );
  });
}
