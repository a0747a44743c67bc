import { Readable } from "node:stream";
import type { Db } from "../../db/client.js";
import { endWith, Snapshots } from "../../db/snapshots.js";
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

/** Each holds a connection while it is written. */
const mostAtOnce = 4;

export async function reportRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);
  const snapshots = new Snapshots(db, mostAtOnce);

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
        ...problems({ 404: "There is no such batch", 503: "As many reports as at once are being written" }),
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
      const snapshot = await snapshots.take();
      if (!snapshot) {
        throw new ProblemError(
          "unavailable",
          `${mostAtOnce} reports are being written, as many as at once: ask again in a moment.`,
        );
      }
      try {
        const report = await assemble(snapshot.db, batch_id, query.format);
        reply.headers(documentHeaders(query.format, `report ${report.head.batch.name}`));
        return reply.send(endWith(render(report, query), snapshot) as never);
      } catch (error) {
        await snapshot.end();
        throw error;
      }
    },
  });

  /** All of it as it stands at one moment, so that the outcome on its first page is that of the pieces on the last. */
  async function assemble(at: Db, batchId: string, format: ReportQuery["format"]): Promise<Report> {
    const view = await views.read(batchId, at);
    const batch = await findBatch(at, batchId);
    if (!view || !batch)
      throw new ProblemError("not-found", `There is no batch ${batchId}: GET /v1/batches lists them.`);
    const containment = await loadContainment(at, view);
    const { capability, pictures } =
      format === "csv" || format === "qif" ? nothing : await assessBatch(at, view);
    const head = await assembleHead(at, view, batch, containment, capability);
    const names = new Map(head.gauges.map(({ gauge_id, name }) => [gauge_id, name]));
    return { head, pictures, bands: () => assemblePieces(at, view, containment, names) };
  }
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
