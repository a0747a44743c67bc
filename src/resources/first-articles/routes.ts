import { Readable } from "node:stream";
import type { Db, Trx } from "../../db/client.js";
import { ViewReader } from "../../decision/view-reader.js";
import { documentHeaders } from "../../http/document-headers.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showVoided, VoidCreate } from "../../http/journal.js";
import { nearMatches } from "../../http/near-matches.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, type FieldError, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { printFirstArticle, tabulateFirstArticle } from "../../report/first-article.js";
import { renderHtml } from "../../report/html.js";
import { renderPdf } from "../../report/pdf.js";
import { showFirstArticle } from "./assemble.js";
import { whatIsDue } from "./due.js";
import {
  type FirstArticleRow,
  findFirstArticle,
  findPart,
  insertFirstArticle,
  listBatches,
  listDrawn,
  listFirstArticles,
  voidFirstArticle,
} from "./queries.js";
import {
  Due,
  DuePath,
  DueQuery,
  describeFirstArticle,
  FirstArticle,
  FirstArticleCreate,
  FirstArticleList,
  FirstArticlePath,
  FirstArticleQuery,
  FirstArticlesQuery,
} from "./schemas.js";

export async function firstArticleRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.post("/first-articles", {
    schema: {
      operationId: "createFirstArticle",
      summary: "Enter a first article: which piece it is, and what is to be said beyond what was measured",
      description:
        "Results, limits and verdicts come from the readings. What it lacks is listed in the answer, never left out.",
      tags: ["reports"],
      headers: WriteHeaders,
      body: FirstArticleCreate,
      response: {
        201: answer("The first article as it stands", FirstArticle),
        ...problems({
          409: "The report number is taken, or the same request is still being worked on",
          422: "A part, batch, piece, characteristic or first article that there is not; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const row = await create(trx, request.body);
        return { status: 201, body: await showFirstArticle(trx, new ViewReader(trx), row) };
      }),
  });

  app.get("/first-articles", {
    schema: {
      operationId: "listFirstArticles",
      summary: "List first articles, voided ones among them",
      tags: ["reports"],
      querystring: FirstArticlesQuery,
      response: { 200: answer("First articles, oldest first", FirstArticleList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listFirstArticles(db, { partId: query.part_id, after, limit: query.limit + 1 });
      return toPage(
        rows,
        query.limit,
        ({ first_article_id }) => [first_article_id],
        (row) => ({
          first_article_id: row.first_article_id,
          part_id: row.part_id,
          report_number: row.report_number,
          extent: row.extent,
          reason: row.reason,
          baseline_id: row.baseline_id,
          by: row.by_name,
          created_at: row.created_at,
          voided: showVoided(row),
        }),
      );
    },
  });

  app.get("/first-articles/:first_article_id", {
    schema: {
      operationId: "getFirstArticle",
      summary: "The first-article report, in the fields that SAE AS9102 asks for",
      description: "The forms themselves are SAE's; whoever has to deliver on them needs the standard.",
      tags: ["reports"],
      params: FirstArticlePath,
      querystring: FirstArticleQuery,
      response: {
        200: describeFirstArticle,
        ...problems({ 404: "There is no such first article" }),
      },
    },
    handler: async ({ params, query }, reply) => {
      const row = await find(db, params.first_article_id);
      const shown = await showFirstArticle(db, views, row);
      const { format, edition, paper } = query;
      reply.headers(documentHeaders(format, `first article ${row.report_number}`));
      switch (format) {
        case "json":
          return shown;
        case "html":
          return reply.send(Readable.from(renderHtml(printFirstArticle(shown, edition))) as never);
        case "pdf":
          return reply.send(renderPdf(printFirstArticle(shown, edition), paper) as never);
        case "csv":
          return reply.send(Readable.from(tabulateFirstArticle(shown)) as never);
      }
    },
  });

  app.post("/first-articles/:first_article_id/void", {
    schema: {
      operationId: "voidFirstArticle",
      summary: "Void a first article: it is kept, and counts no more",
      tags: ["reports"],
      params: FirstArticlePath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("The first article as it is kept now", FirstArticle),
        ...problems({
          404: "There is no such first article",
          409: "It is voided already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const found = await find(trx, request.params.first_article_id);
        const { reason, by = null } = request.body;
        const row = await voidFirstArticle(trx, found.first_article_id, { reason, by });
        if (!row) {
          throw new ProblemError("conflict", `First article ${found.report_number} was voided already.`);
        }
        return { status: 200, body: await showFirstArticle(trx, new ViewReader(trx), row) };
      }),
  });

  app.get("/parts/:part_id/first-article-due", {
    schema: {
      operationId: "getFirstArticleDue",
      summary: "Whether a first article is due before parts are delivered, and why",
      tags: ["reports"],
      params: DuePath,
      querystring: DueQuery,
      response: { 200: answer("What is due", Due), ...problems({ 404: "There is no such part" }) },
    },
    handler: async ({ params, query }) => {
      const part = await findPart(db, params.part_id);
      if (!part) {
        throw new ProblemError("not-found", `There is no part ${params.part_id}. GET /v1/parts lists them.`);
      }
      return whatIsDue(db, views, part, query.at ?? new Date().toISOString());
    },
  });
}

async function find(db: Db, id: string): Promise<FirstArticleRow> {
  const row = await findFirstArticle(db, id);
  if (row) return row;
  throw new ProblemError("not-found", `There is no first article ${id}. GET /v1/first-articles lists them.`);
}

async function create(trx: Trx, body: FirstArticleCreate): Promise<FirstArticleRow> {
  const errors: FieldError[] = [];
  const part = await findPart(trx, body.part_id);
  if (!part) {
    throw problemAt("unprocessable", [
      { pointer: "/part_id", detail: `there is no part ${body.part_id}: GET /v1/parts lists them` },
    ]);
  }
  const known = (await listDrawn(trx, part.part_id)).map(({ characteristic }) => characteristic);
  const named = [
    ...(body.characteristics ?? []).map((name, i) => ({ name, pointer: `/characteristics/${i}` })),
    ...body.remarks.map((remark, i) => ({
      name: remark.characteristic,
      pointer: `/remarks/${i}/characteristic`,
    })),
  ];
  for (const { name, pointer } of named) {
    if (known.includes(name)) continue;
    const near = nearMatches(name, known).map((one) => `"${one}"`);
    errors.push({
      pointer,
      detail: `the part has no characteristic "${name}"${near.length > 0 ? `; near: ${near.join(", ")}` : ""}`,
    });
  }
  errors.push(...(await checkPieces(trx, body)));
  if (body.baseline_id) {
    const baseline = await findFirstArticle(trx, body.baseline_id);
    if (!baseline || baseline.voided_at !== null) {
      errors.push({
        pointer: "/baseline_id",
        detail: `there is no first article ${body.baseline_id} that stands`,
      });
    } else if (baseline.part_id !== part.part_id) {
      errors.push({
        pointer: "/baseline_id",
        detail: "is of another part or revision: name that in fields.baseline_part, and leave this out",
      });
    }
  }
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  const row = await insertFirstArticle(trx, {
    part_id: part.part_id,
    report_number: body.report_number,
    extent: body.extent,
    reason: body.reason,
    note: body.note ?? null,
    baseline_id: body.baseline_id ?? null,
    pieces: JSON.stringify(body.pieces),
    characteristics: body.characteristics ?? null,
    remarks: JSON.stringify(
      Object.fromEntries(body.remarks.map(({ characteristic, ...rest }) => [characteristic, rest])),
    ),
    fields: JSON.stringify(body.fields),
    by_name: body.by ?? null,
  });
  if (row) return row;
  throw problemAt("conflict", [
    { pointer: "/report_number", detail: `"${body.report_number}" is taken: give it a number of its own` },
  ]);
}

async function checkPieces(trx: Trx, { pieces, part_id }: FirstArticleCreate): Promise<FieldError[]> {
  const batches = await listBatches(
    trx,
    pieces.map(({ batch_id }) => batch_id),
  );
  const seen = new Set<string>();
  return pieces.flatMap(({ batch_id, piece }, i): FieldError[] => {
    const batch = batches.find((one) => one.batch_id === batch_id);
    const at = (field: string, detail: string) => [{ pointer: `/pieces/${i}/${field}`, detail }];
    if (!batch) return at("batch_id", `there is no batch ${batch_id}: GET /v1/batches lists them`);
    if (batch.part_id !== part_id)
      return at("batch_id", `batch "${batch.name}" is of another part or revision`);
    if (seen.has(batch_id))
      return at("batch_id", "stands here twice: a first article is one piece of each batch");
    seen.add(batch_id);
    if (piece <= batch.last_piece_cut) return [];
    return at(
      "piece",
      `piece ${piece} of batch "${batch.name}" is not known to be cut; the last one is ${batch.last_piece_cut}`,
    );
  });
}
