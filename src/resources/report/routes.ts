import { Readable } from "node:stream";
import type { Db } from "../../db/client.js";
import { loadContainment } from "../../decision/containment.js";
import { ViewReader } from "../../decision/view-reader.js";
import { documentHeaders } from "../../http/document-headers.js";
import { ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { renderCsv } from "../../report/csv.js";
import { renderHtml } from "../../report/html.js";
import { printReport } from "../../report/inspection.js";
import { renderJson } from "../../report/json.js";
import { renderPdf } from "../../report/pdf.js";
import { renderQif } from "../../report/qif.js";
import type { Report } from "../../report/report.js";
import { assembleHead, assemblePieces } from "./assemble.js";
import { assessBatch } from "./capability.js";
import { findBatch } from "./queries.js";
import { describeReport, ReportPath, ReportQuery } from "./schemas.js";

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
      if (query.piece !== undefined && query.format !== "qif") {
        throw problemAt("validation", [
          {
            pointer: "piece",
            detail: 'goes with format "qif" alone: of one piece GET …/pieces/{piece} tells all',
          },
        ]);
      }
      const [view, batch] = await Promise.all([views.read(batch_id), findBatch(db, batch_id)]);
      if (!view || !batch) {
        throw new ProblemError("not-found", `There is no batch ${batch_id}: GET /v1/batches lists them.`);
      }
      const containment = await loadContainment(db, view);
      const { capability, pictures } =
        query.format === "csv" || query.format === "qif" ? nothing : await assessBatch(db, view);
      const head = await assembleHead(db, view, batch, containment, capability);
      const names = new Map(head.gauges.map(({ gauge_id, name }) => [gauge_id, name]));
      const report: Report = { head, pictures, bands: () => assemblePieces(db, view, containment, names) };
      reply.headers(documentHeaders(query.format, `report ${batch.name}`));
      return reply.send(render(report, query) as never);
    },
  });
}

/** What neither a table of readings nor an exchange of results holds. */
const nothing = { capability: [], pictures: [] };

function render(report: Report, { format, paper, piece }: ReportQuery): Readable {
  switch (format) {
    case "json":
      return Readable.from(renderJson(report), { objectMode: false });
    case "html":
      return Readable.from(renderHtml(printReport(report)), { objectMode: false });
    case "csv":
      return Readable.from(renderCsv(report), { objectMode: false });
    case "qif":
      return Readable.from(renderQif(report, piece), { objectMode: false });
    case "pdf":
      return renderPdf(printReport(report), paper);
  }
}
