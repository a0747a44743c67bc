import { fromNumeric, toNumeric, toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { listEdgeSpans } from "../../decision/edge-queries.js";
import { lengthPm } from "../../http/lengths.js";
import { eachPage, readCursor, toPage } from "../../http/pagination.js";
import { ProblemError, problems } from "../../http/problem.js";
import { listOrTable, sendTable } from "../../http/table.js";
import type { App } from "../../http/types.js";
import { joinPages } from "./join-pages.js";
import {
  findCorrection,
  findEdge,
  findGauge,
  findRegister,
  listCorrectionSpans,
  listGaugeSpans,
  listRegisterSpans,
  type ValueSpan,
} from "./queries.js";
import {
  CorrectionPath,
  EdgePath,
  EdgePiecesList,
  GaugePath,
  GaugePiecesList,
  GaugeQuery,
  RangeQuery,
  RegisterPath,
  RegisterQuery,
  ValuePiecesList,
} from "./schemas.js";

const readingsPerPage = 5000;

const inBatch = ["batch_id", "batch", "part_number", "revision"] as const;
const edgeColumns = [...inBatch, "from_piece", "to_piece"] as const;
const valueColumns = [
  ...inBatch,
  "value",
  "unit",
  "from_piece",
  "from_cut",
  "to_piece",
  "to_cut",
  "entry_id",
  "correction_id",
  "by",
  "entered_at",
] as const;
const gaugeColumns = [
  ...inBatch,
  "feature_id",
  "characteristic",
  "from_piece",
  "to_piece",
  "readings",
  "first_at",
  "last_at",
] as const;

export async function traceabilityRoutes(app: App, { db }: { db: Db }) {
  app.get("/tools/:tool_id/edges/:edge_id/pieces", {
    schema: {
      operationId: "listEdgePieces",
      summary: "Which pieces were cut with an edge",
      tags: ["traceability"],
      params: EdgePath,
      querystring: RangeQuery,
      response: {
        200: listOrTable("Ranges of pieces by batch; none of an edge that was voided", EdgePiecesList),
        ...problems({ 404: "There is no such tool, or no such edge of it" }),
      },
    },
    handler: async ({ params, query }, reply) => {
      const { tool_id, edge_id } = params;
      const edge = await findEdge(db, tool_id, edge_id);
      if (!edge)
        throw new ProblemError(
          "not-found",
          `Tool ${tool_id} has no edge ${edge_id}. GET /v1/tools/${tool_id}/edges lists them.`,
        );
      const read = async (cursor: string | undefined, limit: number) => {
        const [batchId = "0"] = readCursor(cursor, 1);
        const spans = await listEdgeSpans(db, edge, [edge_id], {
          after: [edge_id, batchId],
          limit: limit + 1,
        });
        return toPage(
          spans,
          limit,
          ({ batch_id }) => [batch_id],
          ({ edge_id: _, ...span }) => span,
        );
      };
      if (query.format === "json") return read(query.cursor, query.limit);
      return sendTable(reply, `pieces of edge ${edge_id}`, edgeColumns, eachPage(query.cursor, read, asItIs));
    },
  });

  app.get("/registers/:register_id/pieces", {
    schema: {
      operationId: "listRegisterPieces",
      summary: "Which pieces were cut with what a register held",
      tags: ["traceability"],
      params: RegisterPath,
      querystring: RegisterQuery,
      response: {
        200: listOrTable("Ranges of pieces by batch, in cutting order", ValuePiecesList),
        ...problems({ 404: "There is no such register" }),
      },
    },
    handler: async ({ params, query }, reply) => {
      const register = await findRegister(db, params.register_id);
      if (!register)
        throw new ProblemError(
          "not-found",
          `There is no register ${params.register_id}: GET /v1/machines/{machine_id}/registers lists those of a machine.`,
        );
      const value = query.value === undefined ? undefined : toNumeric(lengthPm(query.value, register.unit));
      const read = async (cursor: string | undefined, limit: number) => {
        const page = { after: afterOf(cursor), limit: limit + 1 };
        const spans = await listRegisterSpans(db, register, value, query.batch_id, page);
        return toPage(spans, limit, keysOf, (span) => showSpan(span, register.unit));
      };
      if (query.format === "json") return read(query.cursor, query.limit);
      const name = `pieces of register ${params.register_id}`;
      return sendTable(reply, name, valueColumns, eachPage(query.cursor, read, asItIs));
    },
  });

  app.get("/corrections/:correction_id/pieces", {
    schema: {
      operationId: "listCorrectionPieces",
      summary: "Which pieces were cut with the value that a correction set",
      tags: ["traceability"],
      params: CorrectionPath,
      querystring: RangeQuery,
      response: {
        200: listOrTable("Ranges of pieces by batch; none of one that was not applied", ValuePiecesList),
        ...problems({ 404: "There is no such correction" }),
      },
    },
    handler: async ({ params, query }, reply) => {
      const [batchId = "0", no = "0"] = params.correction_id.split("-");
      const correction = await findCorrection(db, batchId, Number(no));
      if (!correction)
        throw new ProblemError(
          "not-found",
          `There is no correction ${params.correction_id}: GET /v1/corrections lists them.`,
        );
      const { register_id: registerId, unit } = correction;
      const about = { batchId, correctionNo: Number(no), registerId: registerId ?? "0" };
      const read = async (cursor: string | undefined, limit: number) => {
        const spans = await listCorrectionSpans(db, about, { after: afterOf(cursor), limit: limit + 1 });
        return toPage(spans, limit, keysOf, (span) => showSpan(span, unit));
      };
      if (query.format === "json") return read(query.cursor, query.limit);
      const name = `pieces of correction ${params.correction_id}`;
      return sendTable(reply, name, valueColumns, eachPage(query.cursor, read, asItIs));
    },
  });

  app.get("/gauges/:gauge_id/pieces", {
    schema: {
      operationId: "listGaugePieces",
      summary: "Which pieces were measured with a gauge between two instants",
      description: "GET /v1/readings with gauge_id and batch_id lists the readings themselves.",
      tags: ["traceability"],
      params: GaugePath,
      querystring: GaugeQuery,
      response: {
        200: listOrTable("What was measured, by batch and feature", GaugePiecesList),
        ...problems({ 404: "There is no such gauge" }),
      },
    },
    handler: async ({ params, query }, reply) => {
      if (!(await findGauge(db, params.gauge_id)))
        throw new ProblemError(
          "not-found",
          `There is no gauge ${params.gauge_id}: GET /v1/gauges lists them.`,
        );
      const between = { from: query.from ?? "-infinity", to: query.to ?? "infinity" };
      const read = async (cursor: string | undefined) => {
        const [at = "0", batchId = "0", readingNo = "0"] = readCursor(cursor, 3);
        const page = { at, batchId, readingNo, most: readingsPerPage };
        const spans = await listGaugeSpans(db, params.gauge_id, between, page);
        const last = spans.at(-1);
        const more = last !== undefined && last.page_size === readingsPerPage;
        const next = more ? [Date.parse(last.page_at), last.page_batch, last.page_reading].join(".") : null;
        return {
          items: spans.map(
            ({ page_at: _, page_batch: __, page_reading: ___, page_size: ____, ...span }) => span,
          ),
          next_cursor: next === null ? null : Buffer.from(next).toString("base64url"),
        };
      };
      if (query.format === "json") return read(query.cursor);
      const pages = joinPages(eachPage(query.cursor, read, asItIs));
      return sendTable(reply, `pieces of gauge ${params.gauge_id}`, gaugeColumns, pages);
    },
  });
}

const asItIs = <Span>(span: Span): Span => span;

function afterOf(cursor: string | undefined): [string, string, string, string] {
  const [batchId = "0", piece = "0", cut = "0", entryId = "0"] = readCursor(cursor, 4);
  return [batchId, piece, cut, entryId];
}

function keysOf(span: ValueSpan): (string | number)[] {
  return [span.batch_id, span.from_piece, span.from_cut, span.entry_id ?? "0"];
}

function showSpan(span: ValueSpan, unit: "mm" | "inch") {
  const { value_mm, correction_no, correction_batch, by_name, created_at, ...rest } = span;
  return {
    ...rest,
    value: toUnit(fromNumeric(value_mm), unit),
    unit,
    correction_id: correction_no === null ? null : `${correction_batch}-${correction_no}`,
    by: by_name,
    entered_at: created_at,
  };
}
