import { z } from "zod";
import { parseDecimal } from "../core/quantity.js";
import { type Expansion, givenExpansion, thermalPlaces } from "../core/temperature/expansion.js";
import { expansionOf, findMaterial } from "../core/temperature/materials.js";
import { type Decimal, decimalBetween } from "./types.js";

const micro = 10 ** thermalPlaces;
const leastCoefficient = -5;
const largestCoefficient = 300;
const coefficientUnit = "µm per metre and kelvin";

/** What a part or a gauge is made of, as columns. */
interface ExpansionColumns {
  material: string | null;
  expansion_coefficient: string | null;
  expansion_uncertainty: string | null;
}

/** Request members that say how far a thing grows with heat; to be spread into its own. */
export const expansionCreate = {
  expansion_coefficient: decimalBetween(leastCoefficient, largestCoefficient, coefficientUnit, 11.5)
    .refine((value) => Number(value) === 0 || !(Math.abs(Number(value)) < 0.01), {
      error: ({ input }) =>
        `${input} is next to nothing in ${coefficientUnit}: for 11.5 · 10⁻⁶ per kelvin send 11.5`,
    })
    .nullish()
    .describe(
      `Its coefficient of linear expansion near 20 °C, ${coefficientUnit} (10⁻⁶ per kelvin): steel 11.5. Absent: that of \`material\`, where GET /v1/materials lists it`,
    ),
  expansion_uncertainty: decimalBetween(0, 100, coefficientUnit, 0.5)
    .nullish()
    .describe(
      "Standard uncertainty of that coefficient; one known to ± a counts as a / √3. Absent: a tenth of the coefficient counts as that a",
    ),
};

/** Refuses an uncertainty of a coefficient that was not given. */
export function refuseLoneUncertainty(
  body: { expansion_coefficient?: unknown; expansion_uncertainty?: unknown },
  context: z.core.$RefinementCtx,
): void {
  if ((body.expansion_uncertainty ?? null) === null || (body.expansion_coefficient ?? null) !== null) return;
  context.addIssue({
    code: "custom",
    path: ["expansion_uncertainty"],
    message: "belongs to an expansion_coefficient: send that too, or leave it out",
  });
}

/** Response members to go with them. */
export const expansionShown = {
  expansion_coefficient: z
    .number()
    .nullable()
    .describe(
      `Coefficient of linear expansion that counts, ${coefficientUnit}: the one given, else that of the material; null: not known`,
    ),
  expansion_uncertainty: z.number().nullable().describe("Its standard uncertainty, in the same unit"),
  expansion_from: z
    .enum(["given", "material"])
    .nullable()
    .describe("Where it comes from: `given` as a number, or known of the `material`"),
};

/** The members of a request as columns. */
export function storeExpansion(body: {
  expansion_coefficient?: Decimal | null | undefined;
  expansion_uncertainty?: Decimal | null | undefined;
}) {
  return {
    expansion_coefficient: storeMicro(body.expansion_coefficient),
    expansion_uncertainty: storeMicro(body.expansion_uncertainty),
  };
}

function storeMicro(value: Decimal | null | undefined): string | null {
  return value === null || value === undefined ? null : toThermalNumeric(parseDecimal(value, thermalPlaces)!);
}

/** Millionths of °C or of µm/(m·K) as the decimal that the database takes. */
export function toThermalNumeric(millionths: number): string {
  return (millionths / micro).toFixed(thermalPlaces);
}

/** What counts for a part or a gauge: the coefficient given, else that of its material; undefined: not known. */
export function knownExpansion(row: ExpansionColumns): Expansion | undefined {
  if (row.expansion_coefficient !== null) {
    return givenExpansion(
      parseDecimal(row.expansion_coefficient, thermalPlaces)!,
      row.expansion_uncertainty === null ? undefined : Number(row.expansion_uncertainty) * micro,
    );
  }
  const material = row.material === null ? undefined : findMaterial(row.material);
  return material && expansionOf(material);
}

/** The same for the wire. */
export function showExpansion(row: ExpansionColumns) {
  const known = knownExpansion(row);
  if (!known) return { expansion_coefficient: null, expansion_uncertainty: null, expansion_from: null };
  return {
    expansion_coefficient: known.coefficientPicoPerK / micro,
    expansion_uncertainty: Number((known.standardPicoPerK / micro).toFixed(4)),
    expansion_from: row.expansion_coefficient === null ? ("material" as const) : ("given" as const),
  };
}
