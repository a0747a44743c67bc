import { sql } from "kysely";
import { z } from "zod";
import type { Db } from "../db/client.js";
import { answer, problems } from "./problem.js";
import type { App } from "./types.js";

const Health = z
  .strictObject({ status: z.literal("ok").describe("Always `ok`; what is not ok is answered as a problem") })
  .meta({ id: "Health", description: "The service works", examples: [{ status: "ok" }] });

export async function healthRoutes(app: App, { db }: { db: Db }) {
  app.get("/healthz", {
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
    schema: {
      operationId: "getReadiness",
      summary: "Say whether the service can work: whether it reaches its database",
      tags: ["service"],
      security: [],
      response: { 200: answer("It can work", Health), ...problems({ 503: "It cannot reach its database" }) },
    },
    handler: async () => {
      await sql`select 1`.execute(db);
      return { status: "ok" as const };
    },
  });
}
