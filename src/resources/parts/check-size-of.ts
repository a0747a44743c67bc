import { formatLength, toNumeric } from "../../core/quantity.js";
import { lengthPm } from "../../http/lengths.js";
import type { FieldError } from "../../http/problem.js";
import type { checkLimits } from "./check-limits.js";
import type { FeatureCreate, PartCreate } from "./schemas.js";

/** Columns of the feature whose size earns a position its bonus. */
export interface SizeColumns {
  material_condition?: "maximum" | "least";
  size_characteristic?: string;
  size_kind?: "internal" | "external";
  size_lower_limit_mm?: string;
  size_upper_limit_mm?: string;
}

interface Checked {
  feature: FeatureCreate;
  limits: ReturnType<typeof checkLimits>;
}

/** The size that a position at maximum or least material goes by, or what cannot be about it. */
export function checkSizeOf(
  { material_condition, size_of }: FeatureCreate,
  features: readonly Checked[],
  unit: PartCreate["unit"],
  pointer: string,
): SizeColumns | FieldError[] {
  if (!size_of || (material_condition !== "maximum" && material_condition !== "least")) return {};
  const { characteristic, kind, lower_limit, upper_limit } = size_of;
  if (!characteristic) {
    const [lowerPm, upperPm] = [lengthPm(lower_limit!, unit), lengthPm(upper_limit!, unit)];
    if (upperPm <= lowerPm || lowerPm <= 0) {
      return [
        {
          pointer: `${pointer}/size_of/${upperPm <= lowerPm ? "upper" : "lower"}_limit`,
          detail: `${formatLength(lowerPm, unit)} to ${formatLength(upperPm, unit)} are no limits of a size: check sign and order`,
        },
      ];
    }
    return {
      material_condition,
      size_kind: kind!,
      size_lower_limit_mm: toNumeric(lowerPm),
      size_upper_limit_mm: toNumeric(upperPm),
    };
  }
  const at = `${pointer}/size_of/characteristic`;
  const named = features.find(({ feature }) => feature.characteristic === characteristic);
  if (!named) return [{ pointer: at, detail: `there is no characteristic "${characteristic}" in this part` }];
  const { feature, limits } = named;
  if (feature.kind !== "internal" && feature.kind !== "external") {
    return [
      {
        pointer: at,
        detail: `characteristic "${characteristic}" is a ${feature.kind}: name the internal or external feature whose position it is`,
      },
    ];
  }
  if (Array.isArray(limits)) return {}; // its own faults are told
  if (limits.lower_limit_mm === null || limits.upper_limit_mm === null) {
    return [
      {
        pointer: at,
        detail: `characteristic "${characteristic}" has one limit only: how large the bonus may grow is not known`,
      },
    ];
  }
  return {
    material_condition,
    size_characteristic: characteristic,
    size_kind: feature.kind,
    size_lower_limit_mm: limits.lower_limit_mm,
    size_upper_limit_mm: limits.upper_limit_mm,
  };
}
