import type { Db } from "../../db/client.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { lengthPm, showLength, storeLength } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, type FieldError, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { findMachine, insertMachine, listMachines } from "./queries.js";
import { Machine, MachineCreate, MachineList, MachinePath, MachineQuery } from "./schemas.js";

type MachineRow = NonNullable<Awaited<ReturnType<typeof findMachine>>>;

export async function machineRoutes(app: App, { db }: { db: Db }) {
  app.post("/machines", {
    schema: {
      operationId: "createMachine",
      summary: "Set up a machine",
      tags: ["machines"],
      headers: WriteHeaders,
      body: MachineCreate,
      response: {
        201: answer("The machine as it is kept", Machine),
        ...problems({
          409: "The name is taken, or the same request is still being worked on",
          422: "Its steps contradict each other, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { body } = request;
        refuseUnevenSteps(body);
        const row = await insertMachine(trx, {
          name: body.name,
          kind: body.kind,
          unit: body.unit,
          least_increment_mm: storeLength(body.least_increment, body.unit),
          largest_change_mm: storeLength(body.largest_change, body.unit),
          largest_change_towards_work_mm: storeLength(body.largest_change_towards_work, body.unit),
          line_template: body.line_template ?? null,
        });
        if (!row) {
          throw problemAt("conflict", [
            {
              pointer: "/name",
              detail: `a machine named "${body.name}" exists already: use that one (GET /v1/machines lists it) or choose another name`,
            },
          ]);
        }
        return { status: 201, body: toMachine(row) };
      }),
  });

  app.get("/machines", {
    schema: {
      operationId: "listMachines",
      summary: "List the machines",
      tags: ["machines"],
      querystring: MachineQuery,
      response: { 200: answer("Machines, oldest first", MachineList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listMachines(db, { after, limit: query.limit + 1 });
      return toPage(rows, query.limit, (row) => [row.machine_id], toMachine);
    },
  });

  app.get("/machines/:machine_id", {
    schema: {
      operationId: "getMachine",
      summary: "Show one machine",
      tags: ["machines"],
      params: MachinePath,
      response: { 200: answer("The machine", Machine), ...problems({ 404: "There is no such machine" }) },
    },
    handler: async ({ params }) => {
      const row = await findMachine(db, params.machine_id);
      if (!row)
        throw new ProblemError(
          "not-found",
          `There is no machine ${params.machine_id}. GET /v1/machines lists them.`,
        );
      return toMachine(row);
    },
  });
}

function refuseUnevenSteps(machine: MachineCreate): void {
  const { unit, least_increment, largest_change, largest_change_towards_work } = machine;
  const largest = lengthPm(largest_change, unit);
  const errors: FieldError[] = [];
  if (lengthPm(least_increment, unit) > largest) {
    errors.push({
      pointer: "/least_increment",
      detail: `${least_increment} ${unit} is above largest_change, ${largest_change} ${unit}: no correction could ever be made`,
    });
  }
  if (lengthPm(largest_change_towards_work ?? 0, unit) > largest) {
    errors.push({
      pointer: "/largest_change_towards_work",
      detail: `${largest_change_towards_work} ${unit} is above largest_change, ${largest_change} ${unit}: send at most that`,
    });
  }
  if (errors.length > 0) throw problemAt("unprocessable", errors);
}

function toMachine(row: MachineRow): Machine {
  return {
    machine_id: row.machine_id,
    name: row.name,
    kind: row.kind,
    unit: row.unit,
    least_increment: showLength(row.least_increment_mm, row.unit),
    largest_change: showLength(row.largest_change_mm, row.unit),
    largest_change_towards_work: showLength(row.largest_change_towards_work_mm, row.unit),
    line_template: row.line_template,
    created_at: row.created_at,
  };
}
