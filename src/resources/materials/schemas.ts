import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { strict } from "../../http/types.js";

const unit = "µm per metre and kelvin";

const Material = z
  .strictObject({
    name: z.string().describe("What to send as `material` of a part or a gauge"),
    aliases: z
      .array(z.string())
      .describe("Other ways to write it; capitals, spaces, brackets and dashes make no difference"),
    expansion_coefficient: z
      .number()
      .describe(`Customary coefficient of linear expansion near 20 °C, ${unit}`),
    lowest: z.number().describe("Lowest that handbooks give, in the same unit"),
    highest: z.number().describe("Highest that handbooks give, in the same unit"),
    expansion_uncertainty: z
      .number()
      .describe("Standard uncertainty that follows from the range, in the same unit"),
  })
  .meta({
    id: "Material",
    description: "A material by name, with how far it grows with heat",
    examples: [
      {
        name: "steel",
        aliases: ["carbon or alloy steel", "mild steel"],
        expansion_coefficient: 11.5,
        lowest: 11,
        highest: 12.6,
        expansion_uncertainty: 0.5508,
      },
    ],
  });

export const MaterialQuery = strict(pageQuery);
export const MaterialList = pageOf("MaterialList", Material);
