import { Readable } from "node:stream";
import type { Db } from "../../db/client.js";
import { loadContainment } from "../../decision/containment.js";
import { ViewReader } from "../../decision/view-reader.js";
import { ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { renderCsv } from "../../report/csv.js";
import { renderHtml } from "../../report/html.js";
import { renderJson } from "../../report/json.js";
import { renderPdf } from "../../report/pdf.js";
import type { Report } from "../../report/report.js";
import { assembleHead, assemblePieces } from "./assemble.js";
import { findBatch } from "./queries.js";
import { describeReport, ReportPath, ReportQuery } from "./schemas.js";

const types = {
  json: "application/json; charset=utf-8",
  html: "text/html; charset=utf-8",
  csv: "text/csv; charset=utf-8",
  pdf: "application/pdf",
} as const;

export async function reportRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.get("/batches/:batch_id/report", {
    schema: {
      operationId: "getReport",
      summary: "The inspection report of a batch: to read, to print, for a spreadsheet or a program",
      description:
        "Every piece with its results as they were measured, what was not measured and what proves it instead, gauges, offsets, holds and decisions. It is written as it is worked out: one that breaks off was not finished.",
      tags: ["reports"],
      params: ReportPath,
      querystring: ReportQuery,
      response: {
        200: describeReport,
        ...problems({ 404: "There is no such batch" }),
      },
    },
    handler: async ({ params, query }, reply) => {
      const { batch_id } = params;
      const [view, batch] = await Promise.all([views.read(batch_id), findBatch(db, batch_id)]);
      if (!view || !batch) {
        throw new ProblemError("not-found", `There is no batch ${batch_id}: GET /v1/batches lists them.`);
      }
      const containment = await loadContainment(db, view);
      const head = await assembleHead(db, view, batch, containment);
      const names = new Map(head.gauges.map(({ gauge_id, name }) => [gauge_id, name]));
      const report: Report = { head, bands: () => assemblePieces(db, view, containment, names) };
      const { format } = query;
      reply.type(types[format]);
      reply.header("x-content-type-options", "nosniff");
      if (format !== "json") {
        reply.header(
          "content-disposition",
          `${format === "html" ? "inline" : "attachment"}; ${fileName(batch.name, format)}`,
        );
      }
      if (format === "html") {
        reply.header("content-security-policy", "default-src 'none'; style-src 'unsafe-inline'");
      }
      return reply.send(render(report, query) as never);
    },
  });
}

function render(report: Report, { format, paper }: ReportQuery): Readable {
  switch (format) {
    case "json":
      return Readable.from(renderJson(report), { objectMode: false });
    case "html":
      return Readable.from(renderHtml(report), { objectMode: false });
    case "csv":
      return Readable.from(renderCsv(report), { objectMode: false });
    case "pdf":
      return renderPdf(report, paper);
  }
}

/** RFC 6266: a plain name for old clients, the true one for all others. */
function fileName(batch: string, format: string): string {
  const plain = batch.replace(/[^\w.-]+/g, "-").slice(0, 60);
  return `filename="report-${plain}.${format}"; filename*=UTF-8''${encodeURIComponent(`report ${batch}.${format}`).replace(/['()*]/g, (c) => `%${c.charCodeAt(0).toString(16)}`)}`;
}
