import { fromNumeric, toNumeric, toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { listEdgeSpans } from "../../decision/edge-queries.js";
import { lengthPm } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
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

export async function traceabilityRoutes(app: App, { db }: { db: Db }) {
  app.get("/tools/:tool_id/edges/:edge_id/pieces", {
    schema: {
      operationId: "listEdgePieces",
      summary: "Which pieces were cut with an edge",
      tags: ["traceability"],
      params: EdgePath,
      querystring: RangeQuery,
      response: {
        200: answer("Ranges of pieces by batch; none of an edge that was voided", EdgePiecesList),
        ...problems({ 404: "There is no such tool, or no such edge of it" }),
      },
    },
    handler: async ({ params, query }) => {
      const { tool_id, edge_id } = params;
      const edge = await findEdge(db, tool_id, edge_id);
      if (!edge)
        throw new ProblemError(
          "not-found",
          `Tool ${tool_id} has no edge ${edge_id}. GET /v1/tools/${tool_id}/edges lists them.`,
        );
      const [batchId = "0"] = readCursor(query.cursor, 1);
      const page = { after: [edge_id, batchId] as [string, string], limit: query.limit + 1 };
      const spans = await listEdgeSpans(db, edge, [edge_id], page);
      return toPage(
        spans,
        query.limit,
        ({ batch_id }) => [batch_id],
        ({ edge_id: _, ...span }) => span,
      );
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
        200: answer("Ranges of pieces by batch, in cutting order", ValuePiecesList),
        ...problems({ 404: "There is no such register" }),
      },
    },
    handler: async ({ params, query }) => {
      const register = await findRegister(db, params.register_id);
      if (!register)
        throw new ProblemError(
          "not-found",
          `There is no register ${params.register_id}: GET /v1/machines/{machine_id}/registers lists those of a machine.`,
        );
      const value = query.value === undefined ? undefined : toNumeric(lengthPm(query.value, register.unit));
      const page = { after: afterOf(query.cursor), limit: query.limit + 1 };
      const spans = await listRegisterSpans(db, register, value, query.batch_id, page);
      return toPage(spans, query.limit, keysOf, (span) => showSpan(span, register.unit));
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
        200: answer("Ranges of pieces by batch; none of one that was not applied", ValuePiecesList),
        ...problems({ 404: "There is no such correction" }),
      },
    },
    handler: async ({ params, query }) => {
      const [batchId = "0", no = "0"] = params.correction_id.split("-");
      const correction = await findCorrection(db, batchId, Number(no));
      if (!correction)
        throw new ProblemError(
          "not-found",
          `There is no correction ${params.correction_id}: GET /v1/corrections lists them.`,
        );
      const page = { after: afterOf(query.cursor), limit: query.limit + 1 };
      const { register_id: registerId, unit } = correction;
      const about = { batchId, correctionNo: Number(no), registerId: registerId ?? "0" };
      const spans = await listCorrectionSpans(db, about, page);
      return toPage(spans, query.limit, keysOf, (span) => showSpan(span, unit));
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
        200: answer("What was measured, by batch and feature", GaugePiecesList),
        ...problems({ 404: "There is no such gauge" }),
      },
    },
    handler: async ({ params, query }) => {
      if (!(await findGauge(db, params.gauge_id)))
        throw new ProblemError(
          "not-found",
          `There is no gauge ${params.gauge_id}: GET /v1/gauges lists them.`,
        );
      const [at = "0", batchId = "0", readingNo = "0"] = readCursor(query.cursor, 3);
      const between = { from: query.from ?? "-infinity", to: query.to ?? "infinity" };
      const page = { at, batchId, readingNo, most: readingsPerPage };
      const spans = await listGaugeSpans(db, params.gauge_id, between, page);
      const last = spans.at(-1);
      const more = last !== undefined && last.page_size === readingsPerPage;
      const cursor = more ? [Date.parse(last.page_at), last.page_batch, last.page_reading].join(".") : null;
      return {
        items: spans.map(
          ({ page_at: _, page_batch: __, page_reading: ___, page_size: ____, ...span }) => span,
        ),
        next_cursor: cursor === null ? null : Buffer.from(cursor).toString("base64url"),
      };
    },
  });
}

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
