import { createHash } from "node:crypto";
import type { Db } from "../../db/client.js";
import { transact } from "../../db/transact.js";
import { listCurrentEdges, listCurrentValues, listEdgeUse } from "../../decision/register-queries.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { type MtconnectDocument, MtconnectReader } from "../../import/mtconnect/read-document.js";
import { UnreadableSource } from "../../import/source-record.js";
import { acceptChoices } from "./accept.js";
import { proposeItems, type Standing } from "./propose.js";
import {
  decideProposal,
  findMachine,
  findProposal,
  insertProposal,
  listAssets,
  listProposals,
  listToolRegisters,
  listTools,
  lockProposal,
  type ProposalRow,
  updateWaiting,
} from "./queries.js";
import {
  type Item,
  ToolDocumentPath,
  ToolDocumentQuery,
  ToolProposal,
  ToolProposalAccept,
  ToolProposalDecline,
  ToolProposalList,
  ToolProposalPath,
  ToolProposalQuery,
} from "./schemas.js";

const bytesAtOnce = 64 * 1024;

export async function toolProposalRoutes(app: App, { db }: { db: Db }) {
  // Only here the body is a document of any kind and length, which is read as it comes.
  app.register(async (scope: App) => {
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser("*", (_request, payload, done) => done(null, payload));
    uploadRoute(scope, db);
  });

  app.get("/tool-proposals", {
    schema: {
      operationId: "listToolProposals",
      summary: "List what documents of machines propose for tools and registers",
      tags: ["tools"],
      querystring: ToolProposalQuery,
      response: { 200: answer("Proposals, newest first", ToolProposalList) },
    },
    handler: async ({ query }) => {
      const [before = "0"] = readCursor(query.cursor, 1);
      const { machine_id: machineId, status, limit } = query;
      const rows = await listProposals(db, { machineId, status, before, limit: limit + 1 });
      return toPage(rows, limit, ({ proposal_id }) => [proposal_id], show);
    },
  });

  app.get("/tool-proposals/:proposal_id", {
    schema: {
      operationId: "getToolProposal",
      summary: "Show a proposal for tools and registers",
      tags: ["tools"],
      params: ToolProposalPath,
      response: {
        200: answer("The proposal", ToolProposal),
        ...problems({ 404: "There is no such proposal" }),
      },
    },
    handler: async ({ params }) =>
      show((await findProposal(db, params.proposal_id)) ?? refuse(params.proposal_id)),
  });

  app.post("/tool-proposals/:proposal_id/accept", {
    schema: {
      operationId: "acceptToolProposal",
      summary: "Accept changes of a proposal, each one chosen",
      description:
        "All that is chosen is made, or nothing of it; the rest is let go. What has changed since the proposal was made is not overwritten. Sent again the same way it is answered as the first time.",
      tags: ["tools"],
      params: ToolProposalPath,
      headers: WriteHeaders,
      body: ToolProposalAccept,
      response: {
        200: answer("The proposal as it is kept, with what was made", ToolProposal),
        ...problems({
          404: "There is no such proposal",
          409: "It is decided already, something has changed since it was made, or the same request is still being worked on",
          422: "A choice is not among what is proposed or lacks something, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { params, body } = request;
        const row = (await lockProposal(trx, params.proposal_id)) ?? refuse(params.proposal_id);
        if (isSameAccept(row, body)) return { status: 200, body: show(row) };
        refuseDecided(row);
        const { done, next } = await acceptChoices(trx, row, body);
        const decided = await decideProposal(trx, row.proposal_id, {
          status: "accepted",
          by: body.by,
          choices: JSON.stringify(body.choices),
          outcome: JSON.stringify({ done, next }),
        });
        return { status: 200, body: show(decided) };
      }),
  });

  app.post("/tool-proposals/:proposal_id/decline", {
    schema: {
      operationId: "declineToolProposal",
      summary: "Take nothing of a proposal",
      tags: ["tools"],
      params: ToolProposalPath,
      headers: WriteHeaders,
      body: ToolProposalDecline,
      response: {
        200: answer("The proposal as it is kept", ToolProposal),
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
        const row = (await lockProposal(trx, params.proposal_id)) ?? refuse(params.proposal_id);
        refuseDecided(row);
        const decided = await decideProposal(trx, row.proposal_id, { status: "declined", ...body });
        return { status: 200, body: show(decided) };
      }),
  });
}

function uploadRoute(app: App, db: Db): void {
  app.post("/machines/:machine_id/tool-documents", {
    schema: {
      operationId: "createToolProposal",
      summary: "Read what a machine publishes of its tools and offsets, as a proposal",
      description:
        "The body is the document as it is: MTConnect assets or streams of any version, one cutting tool, or an adapter's lines. Nothing is changed by it: the answer shows for each tool and register what would be created or changed, from what to what, for a person to accept. The same document sent again while it waits is the same proposal, brought up to date.",
      tags: ["tools"],
      params: ToolDocumentPath,
      querystring: ToolDocumentQuery,
      response: {
        200: answer("The same document is waiting already: its proposal, as things stand now", ToolProposal),
        201: answer("The proposal", ToolProposal),
        ...problems({
          404: "There is no such machine",
          415: "The body is encoded, as by gzip",
          422: "The document can't be read, with line and column, or says nothing of tools and offsets",
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
      const { machine_id: machineId } = request.params;
      const { unit, source = null } = request.query;
      if (!(await findMachine(db, machineId))) {
        throw new ProblemError("not-found", `There is no machine ${machineId}. GET /v1/machines lists them.`);
      }
      const { document, print } = await readDocument((request.body ?? []) as AsyncIterable<Buffer>);
      if (document.tools.length + document.offsets.length === 0) {
        throw new ProblemError(
          "unprocessable",
          `This ${document.kind} says nothing of cutting tools or offsets${document.measurements.length > 0 ? "; its measured features are readings: POST /v1/readings/imports with a layout of format mtconnect" : ""}.`,
        );
      }
      return await transact(db, async (trx) => {
        const items = JSON.stringify(proposeItems(document, await findStanding(trx, machineId), unit));
        const fingerprint = `${print} ${unit ?? ""}`;
        const { kind, others } = document;
        const added = await insertProposal(trx, {
          machine_id: machineId,
          kind,
          source,
          unit: unit ?? null,
          fingerprint,
          items,
          others,
        });
        reply.code(added ? 201 : 200);
        const row = added ?? (await updateWaiting(trx, { machine_id: machineId, fingerprint, items }));
        if (!row) throw new ProblemError("conflict", "It was being decided just now. Send it again.");
        return show(row);
      });
    },
  });
}

async function readDocument(
  body: AsyncIterable<Buffer>,
): Promise<{ document: MtconnectDocument; print: string }> {
  const hash = createHash("sha256");
  const reader = new MtconnectReader();
  let fault: UnreadableSource | undefined;
  const guarded = <T>(read: () => T): T | undefined => {
    try {
      return fault ? undefined : read();
    } catch (error) {
      if (!(error instanceof UnreadableSource)) throw error;
      fault = error;
      return undefined;
    }
  };
  for await (const chunk of body) {
    hash.update(chunk);
    for (let at = 0; at < chunk.length; at += bytesAtOnce) {
      guarded(() => reader.read(chunk.subarray(at, at + bytesAtOnce)));
    }
  }
  const document = guarded(() => reader.end());
  if (fault || !document) {
    throw new ProblemError(
      "unprocessable",
      `${fault!.reason} Nothing of it was taken: send the whole document again.`,
    );
  }
  return { document, print: hash.digest("base64") };
}

async function findStanding(db: Db, machineId: string): Promise<Standing> {
  const [machine, tools, registers, values, edges, use, assets] = [
    (await findMachine(db, machineId))!,
    await listTools(db, machineId),
    await listToolRegisters(db, machineId),
    await listCurrentValues(db, machineId),
    await listCurrentEdges(db, machineId),
    await listEdgeUse(db, machineId),
    await listAssets(db, machineId),
  ];
  const pieces = new Map<string, number>();
  for (const row of use) pieces.set(row.edge_id, (pieces.get(row.edge_id) ?? 0) + row.pieces);
  return {
    machine,
    tools,
    registers,
    values: new Map(values.map((row) => [row.register_id, row.value_mm])),
    edges: new Map(
      edges.map((row) => [row.tool_id, { number: row.number, pieces: pieces.get(row.edge_id) ?? 0 }]),
    ),
    assets,
  };
}

function refuse(proposalId: string): never {
  throw new ProblemError(
    "not-found",
    `There is no proposal ${proposalId}. GET /v1/tool-proposals lists them.`,
  );
}

function isSameAccept(row: ProposalRow, body: ToolProposalAccept): boolean {
  return (
    row.status === "accepted" &&
    row.by_name === body.by &&
    JSON.stringify(row.choices) === JSON.stringify(body.choices)
  );
}

function refuseDecided(row: ProposalRow): void {
  if (row.status === "open") return;
  throw new ProblemError(
    "conflict",
    `Proposal ${row.proposal_id} was ${row.status} by ${row.by_name} at ${row.decided_at}: send the document again to have what it says now proposed.`,
  );
}

function show(row: ProposalRow): ToolProposal {
  const { done = [], next = [] } = (row.outcome ?? {}) as Partial<Pick<ToolProposal, "done" | "next">>;
  return {
    proposal_id: row.proposal_id,
    machine_id: row.machine_id,
    status: row.status,
    document: row.kind,
    source: row.source,
    unit: row.unit,
    others: row.others,
    items: row.items as Item[],
    done,
    next,
    by: row.by_name,
    reason: row.reason,
    created_at: row.created_at,
    decided_at: row.decided_at,
  };
}
