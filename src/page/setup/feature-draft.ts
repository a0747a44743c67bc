import type { components } from "../../../openapi/openapi.js";
import { readNumber } from "../words.js";
import { given, numberOf } from "./use-send.js";

type FeatureSent = components["schemas"]["FeatureCreate"];
type FeatureKept = components["schemas"]["Feature"];
export type Kind = FeatureSent["kind"];

export const kindWords: Record<Kind | "", string> = {
  "": "choose …",
  external: "outside size",
  internal: "inside size",
  depth: "depth",
  height: "height",
  length: "length",
  angle: "angle",
  position: "position",
  form: "form",
  roughness: "roughness",
  count: "count",
  go_no_go: "limit gauge",
  visual: "by eye",
};
const sizeKinds = ["external", "internal", "depth", "height", "length"];

export const wayWords = {
  plus_minus: "± alike",
  deviations: "upper and lower deviation",
  limits: "limits of size",
  fit: "fit, such as H7",
  general: "general tolerance",
} as const;
export type Way = keyof typeof wayWords;

/** An offset or a tool that cuts a feature; `by` is `register:id`, `tool:id` or empty. */
export interface CutDraft {
  by: string;
  walls: "" | "1" | "2";
  plus: "" | "bigger" | "smaller";
  /** As it was entered before; a new one is worked out. */
  effect: number | null;
}

/** A feature as it stands in the form: all that is typed is text. */
export interface FeatureDraft {
  key: number;
  number: string;
  name: string;
  kind: Kind | "";
  nominal: string;
  way: Way;
  upper: string;
  lower: string;
  fit: string;
  general: string;
  target: string;
  importance: NonNullable<FeatureSent["importance"]>;
  gauge: string;
  operation: string;
  places: string;
  /** What the kind asks beside: which form, which roughness, what a limit gauge is brought to. */
  detail: string;
  cuts: CutDraft[];
  pattern: FeatureSent["pattern"];
  /** What the form does not show, of a feature that was copied. */
  rest: Partial<FeatureSent>;
}

let keys = 0;
export const noCut: CutDraft = { by: "", walls: "", plus: "", effect: null };

export function newFeature(before?: FeatureDraft): FeatureDraft {
  return {
    key: ++keys,
    number: before && /^\d+$/.test(before.number) ? String(Number(before.number) + 1) : "",
    name: "",
    kind: "",
    nominal: "",
    way: before?.way === "general" ? "general" : "plus_minus",
    upper: "",
    lower: "",
    fit: "",
    general: "",
    target: "",
    importance: "ordinary",
    gauge: before?.gauge ?? "",
    operation: before?.operation ?? "",
    places: "",
    detail: "",
    cuts: [noCut],
    pattern: null,
    rest: {},
  };
}

/** Whether anything was entered; a number that the form proposed does not count. */
export function isBlank({ kind, nominal, name, upper }: FeatureDraft): boolean {
  return kind === "" && nominal === "" && name === "" && upper === "";
}

/** Ways in which limits of this kind can be said. */
export function waysOf(kind: Kind | ""): Way[] {
  if (kind === "" || sizeKinds.includes(kind))
    return ["plus_minus", "deviations", "limits", "fit", "general"];
  if (kind === "angle") return ["plus_minus", "deviations", "limits", "general"];
  if (kind === "form") return ["limits", "general"];
  return kind === "go_no_go" || kind === "visual" ? [] : ["limits"];
}

export function hasNominal(kind: Kind | ""): boolean {
  return kind === "" || kind === "angle" || sizeKinds.includes(kind);
}

/** Members that hold what a kind asks beside. */
const detailOf: Partial<Record<Kind, keyof FeatureSent>> = {
  form: "geometric_characteristic",
  roughness: "roughness_parameter",
  go_no_go: "gauged",
};

/** Which field of the form a member of what is sent stands in. */
export const memberOf = {
  number: "characteristic",
  nominal: "nominal",
  fit: "fit",
  general: "general_tolerance",
  target: "target",
  gauge: "gauge_id",
  name: "name",
  operation: "operation",
  places: "places",
  kind: "kind",
} as const;

export function toSent(draft: FeatureDraft): FeatureSent {
  const { kind, places, importance, pattern, cuts, rest } = draft;
  const ways = waysOf(kind);
  const way = ways.includes(draft.way) ? draft.way : ways[0];
  const detail = kind === "" ? undefined : detailOf[kind];
  const listed = places
    .split(",")
    .map((place) => place.trim())
    .filter((place) => place !== "");
  return {
    ...rest,
    characteristic: draft.number.trim(),
    kind: kind as Kind,
    importance,
    ...given({ name: draft.name.trim(), operation: draft.operation.trim(), gauge_id: draft.gauge }),
    ...(draft.target !== "" && ways.length > 0 && { target: numberOf(draft.target) }),
    ...(hasNominal(kind) && draft.nominal !== "" && { nominal: numberOf(draft.nominal) }),
    ...(way && limitsOf(draft, way)),
    ...(detail && draft.detail !== "" && { [detail]: draft.detail }),
    ...(listed.length > 0 && { places: listed }),
    ...(pattern && { pattern }),
    cut_by: cuts.filter(({ by }) => by !== "").map(toCut),
  } as FeatureSent;
}

function limitsOf({ upper, lower, fit, general }: FeatureDraft, way: Way) {
  const high = numberOf(upper);
  switch (way) {
    case "plus_minus": {
      if (high === "") return {};
      const size = high.replace(/^[+-]/, "");
      return { upper_deviation: size, lower_deviation: `-${size}` };
    }
    case "deviations":
      return given({ upper_deviation: high, lower_deviation: numberOf(lower) });
    case "limits":
      return given({ upper_limit: high, lower_limit: numberOf(lower) });
    case "fit":
      return given({ fit: fit.trim() });
    case "general":
      return given({ general_tolerance: general });
  }
}

function toCut({ by, walls, plus, effect }: CutDraft) {
  const [what, id = ""] = by.split(":");
  if (what === "tool") return { tool_id: id };
  return {
    register_id: id,
    ...(walls !== "" && { walls: Number(walls) as 1 | 2 }),
    ...(plus !== "" && { plus_makes: plus }),
    ...(effect !== null && { effect }),
  };
}

/** A feature of a part as the form has it, for the next revision; nothing of it is lost. */
export function fromKept(
  feature: FeatureKept,
  part: Pick<components["schemas"]["Part"], "general_tolerance">,
): FeatureDraft {
  const { kind, limits_from, pattern, nominal, lower_deviation, upper_deviation } = feature;
  const isEqual =
    upper_deviation !== null &&
    upper_deviation > 0 &&
    lower_deviation !== null &&
    upper_deviation === -lower_deviation;
  const byWay: Record<string, Way> = {
    deviations: isEqual ? "plus_minus" : "deviations",
    limits: "limits",
    fit: "fit",
    general_tolerance: "general",
    title_block: "general",
  };
  const way = byWay[limits_from ?? ""] ?? "limits";
  const text = (value: number | null) => (value === null ? "" : plain(value));
  const detail = detailOf[kind];
  const isOwnClass =
    limits_from === "general_tolerance" &&
    feature.general_tolerance !== null &&
    !part.general_tolerance?.includes(feature.general_tolerance);
  return {
    ...newFeature(),
    number: feature.characteristic,
    name: feature.name ?? "",
    kind,
    nominal: nominal ?? "",
    way,
    upper:
      way === "limits"
        ? text(feature.upper_limit)
        : way === "fit" || way === "general"
          ? ""
          : text(upper_deviation),
    lower: way === "limits" ? text(feature.lower_limit) : way === "deviations" ? text(lower_deviation) : "",
    fit: feature.fit ?? "",
    general: isOwnClass ? feature.general_tolerance! : "",
    target: isMiddle(feature) ? "" : text(feature.target),
    importance: feature.importance,
    gauge: feature.gauge_id ?? "",
    operation: feature.operation ?? "",
    places: (feature.places ?? []).join(", "),
    detail: detail ? String(feature[detail as keyof FeatureKept] ?? "") : "",
    cuts: feature.cut_by.map(({ tool_id, register_id, walls, plus_makes, effect }) => ({
      by: register_id === null ? `tool:${tool_id}` : `register:${register_id}`,
      walls: walls === null ? "" : (String(walls) as "1"),
      plus: plus_makes ?? "",
      // An effect that nothing else tells of was entered, or is of a kind that needs neither.
      effect: walls === null && plus_makes === null ? effect : null,
    })),
    pattern: pattern && { ...pattern },
    rest: dropNull({
      broken_edge: feature.broken_edge || null,
      decision_rule: feature.decision_rule,
      guard_band_factor: feature.guard_band_factor,
      drawing_zone: feature.drawing_zone,
      reference_gauge_id: feature.reference_gauge_id,
      at: feature.at,
      axis: feature.axis,
      depth: feature.depth,
      thread_standard: feature.thread_standard,
      material_condition: feature.material_condition === "none" ? null : feature.material_condition,
      size_of: feature.size_of?.characteristic
        ? { characteristic: feature.size_of.characteristic }
        : feature.size_of && dropNull(feature.size_of),
      shorter_leg: feature.shorter_leg,
      toleranced_length: feature.toleranced_length,
      rework:
        kind === "visual" || kind === "angle" || kind === "form" || kind === "count" || kind === "roughness"
          ? feature.rework
          : null,
    }),
  };
}

function isMiddle({ lower_limit, upper_limit, target, kind }: FeatureKept): boolean {
  if (target === null) return true;
  if (lower_limit === null || upper_limit === null)
    return target === 0 && (kind === "position" || kind === "form" || kind === "roughness");
  return Math.abs((lower_limit + upper_limit) / 2 - target) < 1e-9;
}

function dropNull<T extends object>(all: T): Partial<FeatureSent> {
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== null && value !== undefined));
}

/** A decimal without an exponent; sizes come with twelve places at most. */
function plain(value: number): string {
  return /e/.test(String(value)) ? value.toFixed(12).replace(/\.?0+$/, "") : String(value);
}

/** Numbers of n like features: 12.1 to 12.10, or 12 to 21. */
export function likeNumbers(first: string, count: number, style: "dotted" | "running"): string[] | undefined {
  if (style === "running" && !/^\d+$/.test(first)) return undefined;
  return Array.from({ length: count }, (_, i) =>
    style === "dotted" ? `${first}.${i + 1}` : String(Number(first) + i),
  );
}

/** N like features in place of one, in the order in which the tool makes them. */
export function likeFeatures(one: FeatureDraft, name: string, numbers: string[]): FeatureDraft[] {
  return numbers.map((number, i) => ({
    ...one,
    key: ++keys,
    number,
    pattern: { name, order: i + 1, of: numbers.length },
  }));
}

/**
 * Rows of a spreadsheet as features: number, perhaps a name, nominal size, then ± or a fit, or upper and lower deviation. What is
 * no number stays as it stands, so that the service points at it; which column is the nominal size, most rows say. Undefined: it is no table.
 */
export function pasteRows(text: string, before: FeatureDraft | undefined): FeatureDraft[] | undefined {
  const rows = text
    .split(/\r?\n/)
    .map((row) => row.split("\t").map((cell) => cell.trim()))
    .filter((row) => row.some((cell) => cell !== ""));
  if (!rows.some((row) => row.length > 1)) return undefined;
  // A row without a figure holds titles.
  const data = rows.filter((row) => row.some((cell) => /\d/.test(cell)));
  const widest = Math.max(...rows.map((row) => row.length));
  const size = Array.from({ length: widest }, (_, i) => i).find(
    (i) => i > 0 && data.filter((row) => bareNumber(row[i] ?? "") !== undefined).length * 2 >= data.length,
  );
  return data.map((row) => {
    const name = row
      .slice(1, size)
      .filter((cell) => cell !== "")
      .join(" ");
    const feature = { ...newFeature(before), number: row[0] ?? "", name };
    if (size === undefined) return feature;
    const nominal = bareNumber(row[size] ?? "") ?? row[size] ?? "";
    const [upper = "", lower = ""] = row.slice(size + 1).flatMap(deviationCells);
    if (/^[A-Za-z]{1,2}\d{1,2}$/.test(upper)) return { ...feature, nominal, way: "fit", fit: upper };
    if (upper === "") return { ...feature, nominal, way: "general" };
    // A single deviation with a sign is half of a pair: the service asks for the other half.
    if (lower === "" && /^[+\-−]/.test(upper)) return { ...feature, nominal, way: "deviations", upper };
    if (lower === "") return { ...feature, nominal, way: "plus_minus", upper: upper.replace(/^±\s*/, "") };
    const isUnsigned = !/^[+\-−]/.test(upper) && !/^[+\-−]/.test(lower) && readNumber(lower) !== "0";
    return { ...feature, nominal, way: "deviations", upper, lower: isUnsigned ? `-${lower}` : lower };
  });
}

/** "+0.02/-0.01" is two cells. */
function deviationCells(cell: string): string[] {
  return cell.split(/\s*\/\s*/).filter((part) => part !== "");
}

/** A number, a sign of diameter or radius before it left off. */
function bareNumber(cell: string): string | undefined {
  return readNumber(cell.replace(/^[Øø⌀∅R]\s*(?=[\d.,])/, ""));
}
