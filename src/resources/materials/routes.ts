import { expansionOf, type Material, materials } from "../../core/temperature/materials.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { MaterialList, MaterialQuery } from "./schemas.js";

export async function materialRoutes(app: App) {
  app.get("/materials", {
    schema: {
      operationId: "listMaterials",
      summary: "List the materials known by name, with their coefficients of expansion",
      tags: ["materials"],
      querystring: MaterialQuery,
      response: { 200: answer("Materials, metals first", MaterialList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = materials.slice(Number(after), Number(after) + query.limit + 1);
      return toPage(rows, query.limit, () => [Number(after) + query.limit], show);
    },
  });
}

function show(material: Material) {
  const { name, aliases, typical, low, high } = material;
  return {
    name,
    aliases: [...aliases],
    expansion_coefficient: typical,
    lowest: low,
    highest: high,
    expansion_uncertainty: Number((expansionOf(material).standardPicoPerK / 1e6).toFixed(4)),
  };
}
