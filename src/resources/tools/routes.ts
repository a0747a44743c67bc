import type { Db } from "../../db/client.js";
import { setUpTool } from "../../decision/set-up-tool.js";
import { ToolCreate } from "../../decision/tool-wire.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showLength } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { findTool, listRegisters, listTools } from "./queries.js";
import { Tool, ToolList, ToolPath, ToolQuery } from "./schemas.js";

type ToolRow = NonNullable<Awaited<ReturnType<typeof findTool>>>;
type RegisterRow = Awaited<ReturnType<typeof listRegisters>>[number];

export async function toolRoutes(app: App, { db }: { db: Db }) {
  app.post("/tools", {
    schema: {
      operationId: "createTool",
      summary: "Set up a tool with its registers",
      tags: ["tools"],
      headers: WriteHeaders,
      body: ToolCreate,
      response: {
        201: answer("The tool as it is kept", Tool),
        ...problems({
          409: "The tool number, a register number or a label is taken, or the same request is still being worked on",
          422: "There is no such machine, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => ({ status: 201, body: await createTool(trx, request.body) })),
  });

  app.get("/tools", {
    schema: {
      operationId: "listTools",
      summary: "List the tools, with their registers",
      tags: ["tools"],
      querystring: ToolQuery,
      response: { 200: answer("Tools, oldest first", ToolList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const tools = await listTools(db, { machineId: query.machine_id, after, limit: query.limit + 1 });
      const registers =
        tools.length > 0
          ? await listRegisters(
              db,
              tools.map(({ tool_id }) => tool_id),
            )
          : [];
      const show = (tool: ToolRow) =>
        toTool(
          tool,
          registers.filter(({ tool_id }) => tool_id === tool.tool_id),
        );
      return toPage(tools, query.limit, ({ tool_id }) => [tool_id], show);
    },
  });

  app.get("/tools/:tool_id", {
    schema: {
      operationId: "getTool",
      summary: "Show one tool with its registers",
      tags: ["tools"],
      params: ToolPath,
      response: { 200: answer("The tool", Tool), ...problems({ 404: "There is no such tool" }) },
    },
    handler: ({ params }) => showTool(db, params.tool_id),
  });
}

async function createTool(trx: Db, body: ToolCreate): Promise<Tool> {
  return showTool(trx, await setUpTool(trx, body));
}

async function showTool(db: Db, toolId: string): Promise<Tool> {
  const tool = await findTool(db, toolId);
  if (!tool) throw new ProblemError("not-found", `There is no tool ${toolId}. GET /v1/tools lists them.`);
  return toTool(tool, await listRegisters(db, [toolId]));
}

function toTool(tool: ToolRow, registers: readonly RegisterRow[]): Tool {
  return {
    tool_id: tool.tool_id,
    machine_id: tool.machine_id,
    number: tool.number,
    name: tool.name,
    kind: tool.kind,
    unit: tool.unit,
    nominal_diameter: showLength(tool.nominal_diameter_mm, tool.unit),
    life_pieces: tool.life_pieces,
    registers: registers.map((register) => ({
      register_id: register.register_id,
      number: register.number,
      label: register.label,
      controls: register.controls,
      holds: register.holds,
      sign: register.sign,
      start_value: showLength(register.start_value_mm, tool.unit),
      largest_total: showLength(register.largest_total_mm, tool.unit),
    })),
    created_at: tool.created_at,
  };
}
