import type { Db } from "../../db/client.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { listChanges } from "./queries.js";
import { type Change, ChangeList, ChangeQuery } from "./schemas.js";

export async function auditRoutes(app: App, { db }: { db: Db }) {
  app.get("/audit", {
    schema: {
      operationId: "listChanges",
      summary: "List all changes: who made them, when, to what",
      description:
        "Written in the same transaction as the change itself, and never changed or deleted. Readings are their own record: GET /v1/readings shows who took each, and with which key it came; their voiding is listed here.",
      tags: ["access"],
      querystring: ChangeQuery,
      response: { 200: answer("Changes, newest first", ChangeList) },
    },
    handler: async ({ query }) => {
      const [before = "0"] = readCursor(query.cursor, 1);
      const { from, to, key, operation, limit } = query;
      const entity = query.entity && { [query.entity[0]]: query.entity[1] };
      const rows = await listChanges(db, { from, to, key, operation, entity, before, limit: limit + 1 });
      return toPage(rows, limit, (row) => [row.audit_id], show);
    },
  });
}

function show(row: Awaited<ReturnType<typeof listChanges>>[number]): Change {
  const { audit_id, at, key_name, by_name, operation, entities, request, request_id } = row;
  return { audit_id, at, key: key_name, by: by_name, operation, entities, request, request_id };
}
