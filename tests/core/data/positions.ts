import { parseLength } from "../../../src/core/quantity.js";
import { readData } from "./read-data.js";

/** Published positions and bonus tolerances: ASME Y14.5-2018, ISO 1101 and ISO 2692; each case names its source. */
export interface PositionCase {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: Record<string, string> & { size_limits?: [string, string] };
  expected: Record<string, string> & { size_ok?: boolean };
}

export function ofKind(kind: string): [string, PositionCase][] {
  return readData<PositionCase[]>("geometry.json")
    .filter((entry) => entry.kind === kind)
    .map((entry) => [`${entry.what} (${entry.source})`, entry]);
}

/** All cases are of one unit, taken as mm. */
export function pm(text: string | number | undefined): number {
  const length = parseLength(text ?? "", "mm");
  if (length === undefined) throw new Error(`no length: ${text}`);
  return length;
}
