import type { z } from "zod";
import type { Db } from "../../db/client.js";
import { transact } from "../../db/transact.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { LayoutShape } from "../../import/layout.js";
import { tryLayout } from "../../import/try-layout.js";
import { findLayout, findLayoutByName, insertLayout, listLayouts, updateLayout } from "./queries.js";
import {
  LogLayout,
  LogLayoutCreate,
  LogLayoutList,
  LogLayoutPath,
  LogLayoutQuery,
  LogLayoutTrial,
  LogLayoutTrialCreate,
} from "./schemas.js";

type LayoutRow = NonNullable<Awaited<ReturnType<typeof findLayout>>>;

export async function logLayoutRoutes(app: App, { db }: { db: Db }) {
  app.post("/log-layouts", {
    schema: {
      operationId: "createLogLayout",
      summary: "Describe how a text log or a table is read",
      tags: ["imports"],
      headers: WriteHeaders,
      body: LogLayoutCreate,
      response: {
        201: answer("The layout as it is kept", LogLayout),
        ...problems({
          409: "The name is taken, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const row = await insertLayout(trx, request.body.name, request.body);
        if (!row) throw nameTaken(request.body.name);
        return { status: 201, body: toLayout(row) };
      }),
  });

  app.get("/log-layouts", {
    schema: {
      operationId: "listLogLayouts",
      summary: "List the layouts",
      tags: ["imports"],
      querystring: LogLayoutQuery,
      response: { 200: answer("Layouts, oldest first", LogLayoutList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listLayouts(db, { after, limit: query.limit + 1 });
      return toPage(rows, query.limit, (row) => [row.layout_id], toLayout);
    },
  });

  app.get("/log-layouts/:layout_id", {
    schema: {
      operationId: "getLogLayout",
      summary: "Show one layout",
      tags: ["imports"],
      params: LogLayoutPath,
      response: { 200: answer("The layout", LogLayout), ...problems({ 404: "There is no such layout" }) },
    },
    handler: async ({ params }) => toLayout(await find(db, params.layout_id)),
  });

  app.put("/log-layouts/:layout_id", {
    schema: {
      operationId: "replaceLogLayout",
      summary: "Mend a layout",
      description:
        "Readings that were taken in by it stay as they are; lines that it refused can be read again: POST /v1/imports/{import_id}/retry.",
      tags: ["imports"],
      params: LogLayoutPath,
      body: LogLayoutCreate,
      response: {
        200: answer("The layout as it is kept now", LogLayout),
        ...problems({ 404: "There is no such layout", 409: "The name is taken" }),
      },
    },
    handler: ({ params, body }) =>
      transact(db, async (trx) => {
        await find(trx, params.layout_id);
        const other = await findLayoutByName(trx, body.name);
        if (other && other.layout_id !== params.layout_id) throw nameTaken(body.name);
        return toLayout((await updateLayout(trx, params.layout_id, body.name, body))!);
      }),
  });

  app.post("/log-layouts/trials", {
    schema: {
      operationId: "tryLogLayout",
      summary: "Show what a layout makes of a sample, line by line; nothing is kept",
      tags: ["imports"],
      body: LogLayoutTrialCreate,
      response: {
        200: answer("What would be read", LogLayoutTrial),
        ...problems({ 404: "There is no such layout" }),
      },
    },
    handler: async ({ body }) => {
      const layout = body.layout ?? LayoutShape.parse((await find(db, body.layout_id!)).layout);
      const sample =
        body.sample_base64 === undefined
          ? Buffer.from(body.sample!)
          : Buffer.from(body.sample_base64, "base64");
      const { lines, unreadable } = await tryLayout(layout, sample);
      const count = (becomes: string) => lines.filter((line) => line.becomes === becomes).length;
      return {
        readings: count("reading"),
        refused: count("refused"),
        not_measured: count("not_measured"),
        unreadable,
        lines,
      };
    },
  });
}

async function find(db: Db, layoutId: string): Promise<LayoutRow> {
  const row = await findLayout(db, layoutId);
  if (row) return row;
  throw new ProblemError("not-found", `There is no layout ${layoutId}: GET /v1/log-layouts lists them.`);
}

function nameTaken(name: string): ProblemError {
  return problemAt("conflict", [
    {
      pointer: "/name",
      detail: `a layout named "${name}" exists already: change that one, or choose another name`,
    },
  ]);
}

function toLayout(row: LayoutRow): z.infer<typeof LogLayout> {
  const { layout_id, version, created_at, changed_at } = row;
  return { layout_id, version, created_at, changed_at, layout: LayoutShape.parse(row.layout) };
}
