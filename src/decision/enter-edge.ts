import type { Trx } from "../db/client.js";
import type { Database } from "../db/schema.js";
import { lengthPm } from "../http/lengths.js";
import { type FieldError, ProblemError, problemAt } from "../http/problem.js";
import type { Length } from "../http/types.js";
import { type BatchView, valueAt } from "./batch-view.js";
import {
  findEdgeAfter,
  insertEdge,
  insertEdgesInBatches,
  listToolRegisters,
  settleToolChanges,
} from "./edge-queries.js";
import { type ChangeRequest, openChange } from "./open-change.js";
import { enterRegisters } from "./register-entries.js";
import { replan } from "./replan.js";
import { sayList, sayPm } from "./words.js";

type RegisterRow = Awaited<ReturnType<typeof listToolRegisters>>[number];

interface ToolRow {
  tool_id: string;
  number: number;
  name: string;
  machine_id: string;
  machine_name: string;
  unit: "mm" | "inch";
}

interface EdgeRequest extends ChangeRequest {
  reason: Exclude<Database["edge"]["reason"], "start">;
  /** Every register of the tool, with what the control holds in it now. */
  registers: { register_id: string; value: Length }[];
  by?: string | null | undefined;
}

/**
 * Enters a fresh edge of a tool: wear counts from zero again, in the batch named and in the machine's other open ones.
 * @throws {ProblemError} where a register is missing, the batch can't take it, or a later edge is entered already
 */
export async function enterEdge(trx: Trx, tool: ToolRow, body: EdgeRequest) {
  const registers = await listToolRegisters(trx, tool.tool_id);
  const { view, at, elsewhere, from } = await openChange(trx, tool, body);
  refuseOtherRegisters(tool, registers, body);
  refuseMissingRegisters(tool, registers, body, view, at.fromPiece);
  await refuseOvertaken(trx, tool, view, at.fromPiece);
  const edge = await insertEdge(trx, {
    tool_id: tool.tool_id,
    reason: body.reason,
    by_name: body.by ?? null,
  });
  await insertEdgesInBatches(
    trx,
    [...from].map(([batch_id, from_piece]) => ({ batch_id, edge_id: edge.edge_id, from_piece })),
  );
  const values = body.registers.map(({ register_id, value }) => ({
    registerId: register_id,
    valuePm: lengthPm(value, tool.unit),
  }));
  if (values.length > 0) {
    await enterRegisters(trx, at, elsewhere, values, {
      origin: "edge",
      reason: null,
      correction_no: null,
      edge_id: edge.edge_id,
      by_name: body.by ?? null,
    });
  }
  await settleToolChanges(trx, tool.tool_id);
  const replanned = (await replan(trx, from)).get(at.batchId);
  if (!replanned) throw new Error(`batch ${at.batchId} is not there`);
  return { edge, at, elsewhere, values, after: replanned };
}

function refuseOtherRegisters(tool: ToolRow, registers: readonly RegisterRow[], body: EdgeRequest): void {
  const known = registers.map(({ register_id, label }) => `${label} (${register_id})`);
  const errors = body.registers.flatMap(({ register_id }, i): FieldError[] =>
    registers.some((register) => register.register_id === register_id)
      ? []
      : [
          {
            pointer: `/registers/${i}/register_id`,
            detail: `register ${register_id} is not one of tool ${tool.number} ${tool.name}; ${known.length > 0 ? `it has ${sayList(known)}` : "it has none: send an empty list"}`,
          },
        ],
  );
  if (errors.length > 0) throw problemAt("unprocessable", errors);
}

function refuseMissingRegisters(
  tool: ToolRow,
  registers: readonly RegisterRow[],
  body: EdgeRequest,
  view: BatchView,
  fromPiece: number,
): void {
  const missing = registers
    .filter(({ register_id }) => !body.registers.some((given) => given.register_id === register_id))
    .map(({ register_id, label }) => {
      const held = sayPm(valueAt(view, register_id, fromPiece, 1), tool.unit);
      return `${label} (register ${register_id}, holding ${held} so far)`;
    });
  if (missing.length === 0) return;
  throw problemAt("unprocessable", [
    {
      pointer: "/registers",
      detail: `${sayList(missing)} ${missing.length > 1 ? "are" : "is"} missing: list every register of tool ${tool.number} ${tool.name} with what the control shows in it now, unchanged ones too`,
    },
  ]);
}

/** The latest edge is the one in use, so edges are entered in the order in which they were put in. */
async function refuseOvertaken(trx: Trx, tool: ToolRow, view: BatchView, fromPiece: number): Promise<void> {
  const later = await findEdgeAfter(trx, tool.tool_id, view.batchId, fromPiece);
  if (!later) return;
  throw new ProblemError(
    "conflict",
    `Edge ${later.number} of tool ${tool.number} ${tool.name} counts from piece ${later.from_piece} of batch "${view.name}" already, after piece ${fromPiece}: void it (edge_id ${later.edge_id}), then enter both in the order in which they were put in.`,
  );
}
