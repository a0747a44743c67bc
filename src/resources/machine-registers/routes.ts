import type { Db, Trx } from "../../db/client.js";
import { listCurrentValues } from "../../decision/register-queries.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showLength, storeLength } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { findMachine, insertRegister, listRegisters } from "./queries.js";
import {
  MachineRegister,
  MachineRegisterList,
  MachineRegisterPath,
  MachineRegisterQuery,
  WorkOffsetCreate,
} from "./schemas.js";

type MachineRow = NonNullable<Awaited<ReturnType<typeof findMachine>>>;
type RegisterRow = Awaited<ReturnType<typeof listRegisters>>[number];

export async function machineRegisterRoutes(app: App, { db }: { db: Db }) {
  app.post("/machines/:machine_id/registers", {
    schema: {
      operationId: "createWorkOffset",
      summary: "Set up a work offset as a register of the machine",
      description:
        "Features name it in `cut_by`, with `effect` or `plus_makes`. What is keyed into it later goes to POST /v1/registers/{register_id}/entries. Wear offsets are set up with their tool.",
      tags: ["registers"],
      params: MachineRegisterPath,
      headers: WriteHeaders,
      body: WorkOffsetCreate,
      response: {
        201: answer("The register as it is kept", MachineRegister),
        ...problems({
          404: "There is no such machine",
          409: "The number or the label is taken, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const machine = await findMachineOrRefuse(trx, request.params.machine_id);
        return { status: 201, body: await createWorkOffset(trx, machine, request.body) };
      }),
  });

  app.get("/machines/:machine_id/registers", {
    schema: {
      operationId: "listMachineRegisters",
      summary: "List the registers of a machine: its tools' and its work offsets",
      tags: ["registers"],
      params: MachineRegisterPath,
      querystring: MachineRegisterQuery,
      response: {
        200: answer("Registers in the order they were set up", MachineRegisterList),
        ...problems({ 404: "There is no such machine" }),
      },
    },
    handler: async ({ params, query }) => {
      const machine = await findMachineOrRefuse(db, params.machine_id);
      const [after = "0"] = readCursor(query.cursor, 1);
      const { machine_id: machineId } = machine;
      const rows = await listRegisters(db, { machineId, after, limit: query.limit + 1 });
      const values = await listCurrentValues(db, machineId);
      const held = new Map(values.map(({ register_id, value_mm }) => [register_id, value_mm]));
      return toPage(
        rows,
        query.limit,
        ({ register_id }) => [register_id],
        (row) => toRegister(row, machine, held.get(row.register_id)),
      );
    },
  });
}

async function createWorkOffset(
  trx: Trx,
  machine: MachineRow,
  body: WorkOffsetCreate,
): Promise<MachineRegister> {
  const { machine_id, name, unit } = machine;
  const { number, label, controls, seat = null, value, largest_total } = body;
  const row = await insertRegister(trx, {
    machine_id,
    tool_id: null,
    number,
    label,
    controls,
    holds: null,
    sign: "normal",
    seat,
    start_value_mm: storeLength(value, unit),
    largest_total_mm: storeLength(largest_total, unit),
  });
  if (!row) {
    throw problemAt("conflict", [
      {
        pointer: "/label",
        detail: `machine "${name}" has a ${controls} register ${number} or one labelled "${label}" already: every register of a control is set up once, with its own number and label`,
      },
    ]);
  }
  return toRegister(row, machine, undefined);
}

async function findMachineOrRefuse(db: Db, machineId: string): Promise<MachineRow> {
  const row = await findMachine(db, machineId);
  if (row) return row;
  throw new ProblemError("not-found", `There is no machine ${machineId}. GET /v1/machines lists them.`);
}

function toRegister(row: RegisterRow, { unit }: MachineRow, heldMm: string | undefined): MachineRegister {
  return {
    register_id: row.register_id,
    machine_id: row.machine_id,
    tool_id: row.tool_id,
    number: row.number,
    label: row.label,
    controls: row.controls,
    holds: row.holds,
    sign: row.sign,
    seat: row.seat,
    unit,
    start_value: showLength(row.start_value_mm, unit),
    value_now: showLength(heldMm ?? row.start_value_mm, unit),
    largest_total: showLength(row.largest_total_mm, unit),
  };
}
