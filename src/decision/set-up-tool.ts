import type { Db } from "../db/client.js";
import { storeLength } from "../http/lengths.js";
import { problemAt } from "../http/problem.js";
import { findMachine, insertFirstEdge, insertRegisters, insertTool } from "./tool-queries.js";
import type { ToolCreate } from "./tool-wire.js";

/**
 * Sets a tool up with its registers and its first edge.
 * @param at where in the request the tool stands, for pointers
 * @returns its identity
 * @throws {ProblemError} where there is no such machine, or a number or label is taken
 */
export async function setUpTool(trx: Db, body: ToolCreate, at = ""): Promise<string> {
  const machine = await findMachine(trx, body.machine_id);
  if (!machine) {
    throw problemAt("unprocessable", [
      {
        pointer: `${at}/machine_id`,
        detail: `there is no machine ${body.machine_id}: GET /v1/machines lists them`,
      },
    ]);
  }
  const tool = await insertTool(trx, {
    machine_id: body.machine_id,
    number: body.number,
    name: body.name,
    kind: body.kind,
    nominal_diameter_mm: storeLength(body.nominal_diameter, machine.unit),
    life_pieces: body.life_pieces ?? null,
  });
  if (!tool) {
    throw problemAt("conflict", [
      {
        pointer: `${at}/number`,
        detail: `machine "${machine.name}" has a tool ${body.number} already: use that one (GET /v1/tools?machine_id=${body.machine_id}) or send another number`,
      },
    ]);
  }
  await insertFirstEdge(trx, tool.tool_id);
  if (body.registers.length > 0) await createRegisters(trx, body, at, { ...machine, ...tool });
  return tool.tool_id;
}

async function createRegisters(
  trx: Db,
  { machine_id, registers }: ToolCreate,
  at: string,
  { tool_id, name, unit }: { tool_id: string; name: string; unit: "mm" | "inch" },
): Promise<void> {
  const stored = await insertRegisters(
    trx,
    registers.map(({ value, largest_total, holds, ...register }) => ({
      ...register,
      machine_id,
      tool_id,
      holds: holds ?? null,
      start_value_mm: storeLength(value, unit),
      largest_total_mm: storeLength(largest_total, unit),
    })),
  );
  const free = new Set(stored.map(({ number, controls, label }) => `${number} ${controls} ${label}`));
  // Of two alike in one request the first is stored, so a register that came in before is no longer free.
  const taken = registers.flatMap(({ number, controls, label }, i) =>
    free.delete(`${number} ${controls} ${label}`)
      ? []
      : [
          {
            pointer: `${at}/registers/${i}`,
            detail: `machine "${name}" has a ${controls} register ${number} or one labelled "${label}" already: every register of a control is set up once, with its own number and label`,
          },
        ],
  );
  if (taken.length > 0) throw problemAt("conflict", taken);
}
