import type { Db } from "../../db/client.js";
import { planPiece } from "../../decision/plan.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { draftBatch } from "./draft-batch.js";
import { expectEdges } from "./expect-edges.js";
import { expectDoubt, expectReadings } from "./expect-from-history.js";
import { showFeatures, showRegisters } from "./expect-start.js";
import { findMachine, findPart, listEarlierBatches } from "./queries.js";
import { Outlook, OutlookPath, OutlookQuery } from "./schemas.js";

const mostBatches = 20;

export async function outlookRoutes(app: App, { db }: { db: Db }) {
  app.get("/parts/:part_id/outlook", {
    schema: {
      operationId: "getOutlook",
      summary: "What a new batch will take: start values, edges, readings, minutes, pieces in doubt",
      description:
        "From the latest 20 batches of the part on this machine. What nobody knows is said, and not assumed; asking changes nothing.",
      tags: ["batches"],
      params: OutlookPath,
      querystring: OutlookQuery,
      response: {
        200: answer("What is to be expected, and what it rests on", Outlook),
        ...problems({
          404: "There is no such part",
          422: "There is no such machine, or the part has no feature in this operation",
        }),
      },
    },
    handler: async ({ params, query }) => {
      const { part_id: partId } = params;
      const { machine_id: machineId, quantity, operation } = query;
      const [part, machine] = await Promise.all([findPart(db, partId), findMachine(db, machineId)]);
      if (!part) throw new ProblemError("not-found", `There is no part ${partId}. GET /v1/parts lists them.`);
      if (!machine)
        throw refuse("machine_id", `there is no machine ${machineId}: GET /v1/machines lists them`);
      const view = await draftBatch(db, { partId, machineId, quantity, operation });
      if (view.features.length === 0) {
        throw refuse("operation", `part ${part.number} has no feature in operation "${operation}"`);
      }
      const batches = await listEarlierBatches(db, { partId, machineId, operation, limit: mostBatches });
      const edges = await expectEdges(db, view, quantity);
      const measuring = await expectReadings(db, view, {
        quantity,
        batches,
        freshEdges: edges.freshEdges,
        assumedMinutes: query.minutes_per_reading,
      });
      const doubt = await expectDoubt(db, batches, quantity);
      return {
        part_id: partId,
        machine_id: machineId,
        quantity,
        rests_on: {
          batches: batches.map(({ batch_id }) => batch_id),
          pieces: batches.reduce((sum, batch) => sum + batch.last_piece_cut, 0),
          readings: batches.reduce((sum, batch) => sum + batch.reading_count, 0),
          edges_ended: edges.tools.reduce((sum, tool) => sum + tool.edges_ended, 0),
        },
        unknown: [
          ...(batches.length === 0 ? [`Part ${part.number} has not run on ${machine.name} before.`] : []),
          ...edges.unknown,
          ...measuring.unknown,
        ],
        first_check: planPiece(view, 1),
        intervals: { first: 1, largest: part.largest_interval, usual: measuring.usualInterval },
        tools: edges.tools,
        registers: showRegisters(view),
        features: showFeatures(view),
        measuring: measuring.shown,
        in_doubt: doubt,
      };
    },
  });
}

function refuse(pointer: string, detail: string) {
  return problemAt("unprocessable", [{ pointer, detail }]);
}
