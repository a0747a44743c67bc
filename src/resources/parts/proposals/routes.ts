import { createHash } from "node:crypto";
import { parseMeasure } from "../../../core/quantity.js";
import type { Db } from "../../../db/client.js";
import { transact } from "../../../db/transact.js";
import { WriteHeaders, write } from "../../../http/idempotency.js";
import { readCursor, toPage } from "../../../http/pagination.js";
import { answer, type FieldError, ProblemError, problemAt, problems } from "../../../http/problem.js";
import type { App } from "../../../http/types.js";
import { type Layout, LayoutShape } from "../../../import/layout.js";
import { proposeFromReadings } from "../../../import/propose-from-readings.js";
import { type ProposedFeature, type ProposedPart, proposePart } from "../../../import/qif/propose-part.js";
import { readDefinitions } from "../../../import/qif/read-definitions.js";
import { UnreadableSource } from "../../../import/source-record.js";
import { createPart, showPart } from "../routes.js";
import { type Part, PartCreate } from "../schemas.js";
import {
  decidePartProposal,
  findLayout,
  findPartByNumber,
  findPartOfEarlier,
  findPartProposal,
  findWaiting,
  insertPartProposal,
  listPartProposals,
  lockPartProposal,
  type PartProposalRow,
} from "./queries.js";
import {
  PartAccepted,
  PartDocumentQuery,
  PartProposal,
  PartProposalAccept,
  PartProposalDecline,
  PartProposalList,
  PartProposalPath,
  PartProposalQuery,
} from "./schemas.js";

export async function partProposalRoutes(app: App, { db }: { db: Db }) {
  // Only here the body is a document of any kind and length, which is read as it comes.
  app.register(async (scope: App) => {
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser("*", (_request, payload, done) => done(null, payload));
    uploadRoute(scope, db);
  });

  app.get("/part-proposals", {
    schema: {
      operationId: "listPartProposals",
      summary: "List what documents propose as parts",
      tags: ["parts"],
      querystring: PartProposalQuery,
      response: { 200: answer("Proposals, newest first", PartProposalList) },
    },
    handler: async ({ query }) => {
      const [before = "0"] = readCursor(query.cursor, 1);
      const rows = await listPartProposals(db, { status: query.status, before, limit: query.limit + 1 });
      const page = toPage(
        rows,
        query.limit,
        ({ proposal_id }) => [proposal_id],
        (row) => row,
      );
      return { ...page, items: await Promise.all(page.items.map((row) => show(db, row))) };
    },
  });

  app.get("/part-proposals/:proposal_id", {
    schema: {
      operationId: "getPartProposal",
      summary: "Show a proposed part, beside the one that is known now",
      tags: ["parts"],
      params: PartProposalPath,
      response: {
        200: answer("The proposal", PartProposal),
        ...problems({ 404: "There is no such proposal" }),
      },
    },
    handler: async ({ params }) =>
      show(db, (await findPartProposal(db, params.proposal_id)) ?? refuse(params.proposal_id)),
  });

  app.post("/part-proposals/:proposal_id/accept", {
    schema: {
      operationId: "acceptPartProposal",
      summary: "Make the proposed part, with what the document leaves open",
      description:
        "The whole part is made, or nothing. Nothing that the document leaves open is guessed: the kind of a diameter (outside or inside) has to be named, limits that it lacks given, or the feature left out.",
      tags: ["parts"],
      params: PartProposalPath,
      headers: WriteHeaders,
      body: PartProposalAccept,
      response: {
        201: answer("The part, and the proposal as it is kept", PartAccepted),
        ...problems({
          404: "There is no such proposal",
          409: "It is decided already, this revision of the number exists, or the same request is still being worked on",
          422: "Something is still open, or the part can't be so; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { params, body } = request;
        const row = (await lockPartProposal(trx, params.proposal_id)) ?? refuse(params.proposal_id);
        refuseDecided(row);
        const part = await createPart(trx, partOf(row.proposed as ProposedPart, body));
        const decided = await decidePartProposal(trx, row.proposal_id, {
          status: "accepted",
          part_id: part.part_id,
          by_name: body.by,
          decided_at: new Date().toISOString(),
        });
        return { status: 201, body: { proposal: await show(trx, decided), part } };
      }),
  });

  app.post("/part-proposals/:proposal_id/decline", {
    schema: {
      operationId: "declinePartProposal",
      summary: "Make no part of a proposal",
      tags: ["parts"],
      params: PartProposalPath,
      headers: WriteHeaders,
      body: PartProposalDecline,
      response: {
        200: answer("The proposal as it is kept", PartProposal),
        ...problems({
          404: "There is no such proposal",
          409: "It is decided already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { params, body } = request;
        const row = (await lockPartProposal(trx, params.proposal_id)) ?? refuse(params.proposal_id);
        refuseDecided(row);
        const decided = await decidePartProposal(trx, row.proposal_id, {
          status: "declined",
          reason: body.reason,
          by_name: body.by ?? null,
          decided_at: new Date().toISOString(),
        });
        return { status: 200, body: await show(trx, decided) };
      }),
  });
}

function uploadRoute(app: App, db: Db): void {
  app.post("/part-proposals", {
    schema: {
      operationId: "createPartProposal",
      summary: "Read the part that a document of results or a plan describes, as a proposal",
      description:
        "The body is a QIF document (ISO 23952) as it is, with or without results; or, with a layout, any file that the layout reads (DMIS output, a table, a log) and that says nominal sizes and limits beside its values, or without values. Nothing is changed by it: the answer shows the features that its characteristics would make, for a person to accept, and what differs from the part where it is known already. The same document sent again while it waits is the same proposal.",
      tags: ["parts"],
      querystring: PartDocumentQuery,
      response: {
        200: answer("The same document is waiting already: its proposal", PartProposal),
        201: answer("The proposal", PartProposal),
        ...problems({
          415: "The body is encoded, as by gzip",
          422: "The document can't be read, with line and column; it says no unit; it has no characteristics; or there is no such layout",
        }),
      },
    },
    handler: async (request, reply) => {
      const encoding = request.headers["content-encoding"];
      if (encoding !== undefined && encoding !== "identity") {
        throw new ProblemError(
          "unsupported-media-type",
          `A body in the encoding "${encoding.slice(0, 40)}" is not read here. Send the document as it is.`,
        );
      }
      const { unit, angle_unit, source = null } = request.query;
      const layout = await findLayoutOf(db, request.query);
      const hash = createHash("sha256").update(
        `${unit ?? ""} ${angle_unit ?? ""} ${layout ? JSON.stringify(layout) : ""}`,
      );
      const body = hashed((request.body ?? []) as AsyncIterable<Buffer>, hash);
      const proposed = await proposeFrom(body, layout, { unit, angle_unit }).catch((error) => {
        if (!(error instanceof UnreadableSource)) throw error;
        throw new ProblemError("unprocessable", `${error.reason} Nothing of it was taken.`);
      });
      if ("asks" in proposed)
        throw problemAt("unprocessable", [{ pointer: proposed.asks, detail: proposed.reason }]);
      if (proposed.features.length === 0) {
        const [first] = proposed.left_out;
        const why = first ? `: of ${first.name} it says ${first.type}, but ${first.reason}` : "";
        throw new ProblemError(
          "unprocessable",
          `The document has no characteristic that could be a feature${why}.`,
        );
      }
      const fingerprint = hash.digest("base64");
      const row = await transact(db, async (trx) => {
        const added = await insertPartProposal(trx, {
          source,
          fingerprint,
          characteristics: printOf(proposed.features),
          proposed: JSON.stringify(proposed),
          part_qpid: proposed.qpid,
        });
        reply.code(added ? 201 : 200);
        return added ?? (await findWaiting(trx, fingerprint));
      });
      if (!row) throw new ProblemError("conflict", "It was being decided just now. Send it again.");
      return show(db, row);
    },
  });
}

async function findLayoutOf(
  db: Db,
  by: { layout_id?: string | undefined; layout?: string | undefined },
): Promise<Layout | undefined> {
  const { layout_id, layout } = by;
  if (layout_id === undefined && layout === undefined) return undefined;
  const row = await findLayout(db, by);
  if (row) return LayoutShape.parse(row.layout);
  const pointer = layout_id === undefined ? "layout" : "layout_id";
  const detail = `there is no layout ${layout_id ?? `"${layout}"`}: GET /v1/log-layouts lists them`;
  throw problemAt("unprocessable", [{ pointer, detail }]);
}

async function proposeFrom(
  body: AsyncIterable<Buffer>,
  layout: Layout | undefined,
  declared: Parameters<typeof proposePart>[1] & object,
) {
  if (layout && layout.format !== "qif") return proposeFromReadings(body, layout, declared.unit);
  return proposePart(await readDefinitions(body), {
    unit: declared.unit ?? layout?.unit ?? undefined,
    angle_unit: declared.angle_unit ?? layout?.qif?.angle_unit ?? undefined,
  });
}

async function* hashed(body: AsyncIterable<Buffer>, hash: ReturnType<typeof createHash>) {
  for await (const chunk of body) {
    hash.update(chunk);
    yield chunk;
  }
}

/** By which a part without a number is known again. */
function printOf(features: readonly ProposedFeature[]): string {
  const names = features.map(({ type, characteristic }) => `${type} ${characteristic}`).sort();
  return createHash("sha256").update(JSON.stringify(names)).digest("base64");
}

/** The part as it would be posted, what a person says before what the document says. */
function partOf(proposed: ProposedPart, accept: PartProposalAccept): PartCreate {
  const { features: choices, by: _, ...said } = accept;
  const faults: FieldError[] = [];
  const known = new Set(proposed.features.map(({ item }) => item));
  const byItem = new Map<string, number>();
  for (const [i, { item }] of choices.entries()) {
    if (!known.has(item))
      faults.push({ pointer: `/features/${i}/item`, detail: `"${item}" is not proposed here` });
    else if (byItem.has(item))
      faults.push({ pointer: `/features/${i}/item`, detail: "stands here twice: leave one out" });
    byItem.set(item, i);
  }
  const pointerOf = (item: string, field: string) =>
    byItem.has(item) ? `/features/${byItem.get(item)}/${field}` : "/features";
  const kept: ProposedFeature[] = [];
  const features = proposed.features.flatMap((feature) => {
    const said = choices[byItem.get(feature.item) ?? -1];
    const { item: __, leave_out = false, ...choice }: Record<string, unknown> = said ?? {};
    if (leave_out) return [];
    if (feature.missing.includes("kind") && choice.kind === undefined) {
      const kinds = feature.kinds.join(" or ");
      faults.push({
        pointer: pointerOf(feature.item, "kind"),
        detail: `of ${feature.characteristic} (item ${feature.item}) is missing: ${kinds}? The document does not say; or leave it out (leave_out)`,
      });
    }
    kept.push(feature);
    return [{ ...drawnFrom(feature, choice), ...choice }];
  });
  if (faults.length > 0) throw problemAt("unprocessable", faults);
  const body = {
    number: said.number ?? proposed.number ?? undefined,
    revision: said.revision ?? proposed.revision ?? undefined,
    name: said.name ?? proposed.name,
    unit: proposed.unit,
    decision_rule: said.decision_rule,
    general_tolerance: said.general_tolerance,
    material: said.material,
    features,
  };
  const parsed = PartCreate.safeParse(body);
  if (parsed.success) return parsed.data;
  throw problemAt(
    "unprocessable",
    parsed.error.issues.map(({ path, message }) => {
      const [first, index, ...rest] = path;
      const feature = first === "features" && typeof index === "number" ? kept[index] : undefined;
      if (!feature) return { pointer: `/${path.join("/")}`, detail: message };
      return {
        pointer: pointerOf(feature.item, rest.join("/")),
        detail: `of ${feature.characteristic} (item ${feature.item}): ${rest.join("/")} ${message}`,
      };
    }),
  );
}

const waysOfLimits = [
  "lower_deviation",
  "upper_deviation",
  "lower_limit",
  "upper_limit",
  "fit",
  "general_tolerance",
];

const sizeless: ReadonlySet<string> = new Set(["position", "form", "roughness"]);

function drawnFrom(feature: ProposedFeature, choice: Record<string, unknown>): Record<string, unknown> {
  const { characteristic, name, kind, geometric_characteristic, nominal, lower_limit, upper_limit, places } =
    feature;
  // A person may know it for a form or a position, which has no nominal size.
  const isSized = choice.kind === undefined || !sizeless.has(String(choice.kind));
  const isLimited = waysOfLimits.some((way) => choice[way] !== undefined);
  const isOneSided = (lower_limit === null) !== (upper_limit === null) && nominal !== null && isSized;
  return {
    characteristic,
    name,
    ...(kind !== null && { kind }),
    ...(geometric_characteristic !== null && { geometric_characteristic }),
    ...(places !== undefined && { places }),
    ...(nominal !== null && isSized && { nominal }),
    ...(!isLimited && isSized && lower_limit !== null && { lower_limit }),
    ...(!isLimited && upper_limit !== null && { upper_limit }),
    ...(!isLimited && isOneSided && { target: nominal }),
  };
}

async function show(db: Db, row: PartProposalRow): Promise<PartProposal> {
  const proposed = row.proposed as ProposedPart;
  const byNumber =
    proposed.number === null ? undefined : await findPartByNumber(db, proposed.number, proposed.revision);
  const byEarlier = await findPartOfEarlier(db, {
    qpid: proposed.qpid,
    characteristics: row.characteristics,
  });
  const known = byNumber ?? byEarlier;
  const { qpid: _, ...part } = proposed;
  return {
    proposal_id: row.proposal_id,
    status: row.status,
    source: row.source,
    ...part,
    known_part: known
      ? {
          part_id: known.part_id,
          number: known.number,
          revision: known.revision,
          found_by: byNumber ? "number" : "earlier_document",
          differs: compare(proposed, await showPart(db, known.part_id)),
        }
      : null,
    part_id: row.part_id,
    by: row.by_name,
    reason: row.reason,
    created_at: row.created_at,
    decided_at: row.decided_at,
  };
}

/** In what a document differs from the part that is known: features that one of them lacks, and limits. */
function compare(proposed: ProposedPart, part: Part): { characteristic: string; what: string }[] {
  const differs: { characteristic: string; what: string }[] = [];
  const ours = new Map(part.features.map((feature) => [feature.characteristic, feature]));
  const theirs = new Set(proposed.features.map(({ characteristic }) => characteristic));
  for (const feature of proposed.features) {
    const { characteristic } = feature;
    const own = ours.get(characteristic) ?? ours.get(feature.name ?? "");
    if (!own) {
      differs.push({ characteristic, what: "the part has no such feature" });
      continue;
    }
    for (const side of ["nominal", "lower_limit", "upper_limit"] as const) {
      const [said, kept] = [feature[side], own[side]];
      if (side === "nominal" && (said === null || own.kind === "form" || own.kind === "position")) continue;
      if (own.kind === "form" && side === "lower_limit") continue;
      const unit = own.kind === "angle" ? "deg" : proposed.unit;
      const ourUnit = own.kind === "angle" ? "deg" : part.unit;
      const same =
        said === null
          ? kept === null
          : kept !== null && parseMeasure(said, unit) === parseMeasure(String(kept), ourUnit);
      if (!same)
        differs.push({
          characteristic,
          what: `${side} ${said ?? "none"} ${said === null ? "" : unit} in the document, ${kept ?? "none"} ${kept === null ? "" : ourUnit} in the part: limits change with a new revision`.replaceAll(
            "  ",
            " ",
          ),
        });
    }
  }
  for (const characteristic of ours.keys())
    if (!theirs.has(characteristic))
      differs.push({ characteristic, what: "the document has no such characteristic" });
  return differs;
}

function refuse(proposalId: string): never {
  throw new ProblemError(
    "not-found",
    `There is no proposal ${proposalId}. GET /v1/part-proposals lists them.`,
  );
}

function refuseDecided(row: PartProposalRow): void {
  if (row.status === "open") return;
  throw new ProblemError(
    "conflict",
    `Proposal ${row.proposal_id} was ${row.status} by ${row.by_name ?? "somebody"} at ${row.decided_at}: send the document again to have it proposed once more.`,
  );
}
