import type { z } from "zod";
import type { LengthUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { findBatchIds, updateLastPieceCut } from "../../decision/batch-queries.js";
import { showNamed } from "../../decision/correction-row.js";
import { earlyLimits, ruledFeature } from "../../decision/feature-view.js";
import { showReading } from "../../decision/judge-reading.js";
import { readPoints, showFit } from "../../decision/measured-points.js";
import { nextStep } from "../../decision/next-step.js";
import type { ReadingRecorder } from "../../decision/reading-recorder.js";
import { Reading } from "../../decision/reading-wire.js";
import { lockMachinesOf } from "../../decision/register-entries.js";
import { replan } from "../../decision/replan.js";
import type { ReadingInput } from "../../decision/resolve-reading.js";
import { fingerprint, WriteHeaders, write } from "../../http/idempotency.js";
import { showVoided, VoidCreate } from "../../http/journal.js";
import { eachPage, readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import { listOrTable, sendTable } from "../../http/table.js";
import type { App } from "../../http/types.js";
import { findPoints, findReading, listReadings, listReadingsOfGauge, voidReading } from "./queries.js";
import {
  type ReadingCreate,
  ReadingList,
  ReadingPath,
  ReadingPoints,
  ReadingQuery,
  ReadingsAnswer,
  ReadingsCreate,
  VoidAnswer,
} from "./schemas.js";
import { readingColumns, tabulateReading } from "./table.js";

export async function readingRoutes(app: App, { db, recorder }: { db: Db; recorder: ReadingRecorder }) {
  app.post("/readings", {
    schema: {
      operationId: "createReadings",
      summary: "Take in one reading or many; answers verdicts, corrections and the next check",
      tags: ["readings"],
      headers: WriteHeaders,
      body: ReadingsCreate,
      response: {
        201: answer("What follows from the readings, the one thing to do next first", ReadingsAnswer),
        ...problems({
          409: "The same request is still being worked on",
          422: "Something is named that there isn't, or cannot be; a temperature without the gauge's or without a coefficient of expansion; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: async (request, reply) => {
      const { body } = request;
      const key = request.headers["idempotency-key"];
      const isArray = Array.isArray(body);
      const outcome = await recorder.post({
        readings: (isArray ? body : [body]).map((reading) => toInput(reading, request.keyHolder?.name)),
        isArray,
        key,
        fingerprint: key === undefined ? undefined : fingerprint(request),
      });
      if (outcome.replayed) reply.header("idempotency-replayed", "true");
      reply.code(201).type("application/json; charset=utf-8").serializer(keptAsText);
      return outcome.body as never;
    },
  });

  app.get("/readings", {
    schema: {
      operationId: "listReadings",
      summary:
        "List the readings of a batch, in the order they came, or those by a gauge, in the order they were taken",
      description:
        "A voided reading still says what it said, with who voided it, when and why. The table is written as it is read: one that breaks off was not finished.",
      tags: ["readings"],
      querystring: ReadingQuery,
      response: { 200: listOrTable("Readings, oldest first; voided ones among them", ReadingList) },
    },
    handler: async ({ query }, reply) => {
      const { batch_id: batchId, gauge_id: gaugeId, feature_id: featureId, piece, from, to } = query;
      const voided = query.voided === undefined ? undefined : query.voided === "true";
      const filter = { featureId, gaugeId, piece, from, to, voided };
      const read = async (cursor: string | undefined, limit: number) => {
        if (batchId !== undefined) {
          const [after = "0"] = readCursor(cursor, 1);
          const rows = await listReadings(db, { ...filter, batchId, limit: limit + 1 }, Number(after));
          return toPage(rows, limit, ({ reading_no }) => [reading_no], asItIs);
        }
        const [at = "0", ofBatch = "0", readingNo = "0"] = readCursor(cursor, 3);
        // The schema asks for a gauge where there is no batch.
        const ofGauge = { ...filter, gaugeId: gaugeId ?? "0", limit: limit + 1 };
        const rows = await listReadingsOfGauge(db, ofGauge, { at, batchId: ofBatch, readingNo });
        return toPage(rows, limit, (row) => [Date.parse(row.taken_at), row.batch_id, row.reading_no], asItIs);
      };
      if (query.format === "csv") {
        const rows = eachPage(query.cursor, read, (row) => tabulateReading(showRow(row), row));
        return sendTable(reply, "readings", readingColumns, rows);
      }
      const { items, next_cursor } = await read(query.cursor, query.limit);
      return { items: items.map(showRow), next_cursor };
    },
  });

  app.get("/readings/:reading_id", {
    schema: {
      operationId: "getReading",
      summary: "Show one reading",
      tags: ["readings"],
      params: ReadingPath,
      response: { 200: answer("The reading", Reading), ...problems({ 404: "There is no such reading" }) },
    },
    handler: async ({ params }) => showRow(await find(db, params.reading_id)),
  });

  app.get("/readings/:reading_id/points", {
    schema: {
      operationId: "getReadingPoints",
      summary: "Show the points that a reading was worked out from, and evaluate them afresh",
      tags: ["readings"],
      params: ReadingPath,
      response: {
        200: answer("The points", ReadingPoints),
        ...problems({ 404: "There is no such reading, or it came without points" }),
      },
    },
    handler: async ({ params: { reading_id } }) => {
      const row = await find(db, reading_id);
      const kept = await findPoints(db, row.batch_id, row.reading_no);
      if (!kept)
        throw new ProblemError("not-found", `Reading ${reading_id} came as a value, without points.`);
      const { points, unit, ball_diameter, true_position } = kept;
      const feature = ruledFeature(row);
      const optional = {
        ball_diameter: ball_diameter ?? undefined,
        true_position: true_position ?? undefined,
      };
      const found = readPoints({ points, unit, ...optional }, feature);
      const fit = "fit" in found ? showFit(found.fit, feature.unit as LengthUnit) : null;
      return { reading_id, points, unit, ball_diameter, true_position, fit };
    },
  });

  app.post("/readings/:reading_id/void", {
    schema: {
      operationId: "voidReading",
      summary: "Take a reading out of all that is decided",
      tags: ["readings"],
      params: ReadingPath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("What would have been without it", VoidAnswer),
        ...problems({
          404: "There is no such reading",
          409: "It is voided already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { reading_id } = request.params;
        const row = await find(trx, reading_id);
        await lockMachinesOf(trx, await findBatchIds(trx, [row.batch_id]));
        const { reason, by = null } = request.body;
        if (!(await voidReading(trx, row.batch_id, row.reading_no, { reason, by }))) {
          throw new ProblemError("conflict", `Reading ${reading_id} is voided already.`);
        }
        await updateLastPieceCut(trx, row.batch_id);
        const { view, open } = (await replan(trx, new Map([[row.batch_id, row.piece]]))).get(row.batch_id)!;
        const body = {
          reading: showRow(await find(trx, reading_id)),
          next: nextStep(view, open, view.lastPieceCut, []),
          corrections: open.map((correction) => showNamed(correction, view)),
        };
        return { status: 200, body };
      }),
  });
}

const units = {
  mm: "mm",
  inch: "inch",
  in: "inch",
  um: "µm",
  "\u00b5m": "µm",
  "\u03bcm": "µm",
  nm: "nm",
  uin: "µin",
  "\u00b5in": "µin",
  "\u03bcin": "µin",
  deg: "deg",
  arcmin: "arcmin",
  arcsec: "arcsec",
  rad: "rad",
} as const;

/** One spelling for each unit, and instants in UTC. */
function toInput(reading: z.output<typeof ReadingCreate>, keyName: string | undefined): ReadingInput {
  const { unit, measured_at } = reading;
  return {
    ...reading,
    key_name: keyName,
    unit: unit === undefined ? undefined : units[unit],
    measured_at: measured_at === undefined ? undefined : new Date(measured_at).toISOString(),
  };
}

/** The recorder keeps its answer as text, so that a repeated request gets the very same. */
function keptAsText(payload: unknown): string {
  return typeof payload === "string" ? payload : JSON.stringify(payload);
}

const asItIs = <Item>(item: Item): Item => item;

type Row = NonNullable<Awaited<ReturnType<typeof findReading>>>;

async function find(db: Db, readingId: string): Promise<Row> {
  const [batchId = "0", readingNo = "0"] = readingId.split("-");
  const row = await findReading(db, batchId, Number(readingNo));
  if (!row)
    throw new ProblemError(
      "not-found",
      `There is no reading ${readingId}: GET /v1/readings?batch_id=… lists them.`,
    );
  return row;
}

function showRow(row: Row) {
  const { early_operation: operation, early_reason: reason, growth_mm } = row;
  if (operation === null) return { ...showReading(row, ruledFeature(row)), voided: showVoided(row) };
  const inOperation = {
    ...row,
    nominal_mm: row.early_nominal_mm ?? row.nominal_mm,
    lower_limit_mm: row.early_lower_limit_mm,
    upper_limit_mm: row.early_upper_limit_mm,
  };
  const feature = ruledFeature(inOperation, earlyLimits(row, { operation, reason, growth_mm }));
  return { ...showReading(row, feature), voided: showVoided(row) };
}
