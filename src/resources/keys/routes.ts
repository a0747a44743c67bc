import type { z } from "zod";
import type { Db } from "../../db/client.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { type KeyRing, makeKey } from "../../http/key-ring.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { insertKey, listKeys, revokeKey } from "./queries.js";
import { Key, KeyCreate, KeyList, KeyPath, KeyQuery, NewKey } from "./schemas.js";

type KeyRow = Awaited<ReturnType<typeof listKeys>>[number];

export async function keyRoutes(app: App, { db, ring }: { db: Db; ring: KeyRing }) {
  app.post("/keys", {
    schema: {
      operationId: "createKey",
      summary: "Make a key; it is shown this one time",
      description: "From the first key on the service asks everybody for one.",
      tags: ["access"],
      headers: WriteHeaders,
      body: KeyCreate,
      response: {
        201: answer("The key", NewKey),
        ...problems({
          409: "The name is taken, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: async (request, reply) => {
      const { key, ...kept } = makeKey();
      const made = await write(request, reply, db, async (trx) => {
        const { name, role } = request.body;
        const row = await insertKey(trx, {
          name,
          role,
          ...kept,
          created_by: request.keyHolder?.name ?? null,
        });
        if (!row) {
          throw problemAt("conflict", [
            { pointer: "/name", detail: `there is, or was, a key named "${name}": choose another name` },
          ]);
        }
        return { status: 201, body: { ...show(row), key: null } };
      });
      ring.forget();
      // Beside the answer that is kept for an Idempotency-Key, since a secret is kept nowhere.
      return { ...made, key: made.prefix === prefixShown(kept.prefix) ? key : null };
    },
  });

  app.get("/keys", {
    schema: {
      operationId: "listKeys",
      summary: "List the keys, without their secrets",
      tags: ["access"],
      querystring: KeyQuery,
      response: { 200: answer("Keys, oldest first; revoked ones among them", KeyList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listKeys(db, { after, limit: query.limit + 1 });
      return toPage(rows, query.limit, (row) => [row.key_id], show);
    },
  });

  app.post("/keys/:key_id/revoke", {
    schema: {
      operationId: "revokeKey",
      summary: "Take a key out of use for good",
      description: "At once here, within five seconds on every other replica of the service.",
      tags: ["access"],
      headers: WriteHeaders,
      params: KeyPath,
      response: {
        200: answer("The key as it is now", Key),
        ...problems({
          400: "A header is not formed as it says here",
          404: "There is no such key",
          409: "The same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: async (request, reply) => {
      const { key_id } = request.params;
      const revoked = await write(request, reply, db, async (trx) => {
        const row = await revokeKey(trx, key_id, request.keyHolder?.name ?? null);
        if (!row) throw new ProblemError("not-found", `There is no key ${key_id}: GET /v1/keys lists them.`);
        return { status: 200, body: show(row) };
      });
      ring.forget();
      return revoked;
    },
  });
}

function show(row: KeyRow): z.infer<typeof Key> {
  return { ...row, prefix: prefixShown(row.prefix) };
}

function prefixShown(prefix: string): string {
  return `onsize_${prefix}`;
}
