import { formatMeasure, fromNumeric, mmPerInch, parseLength, toUnit } from "../../core/quantity.js";
import { explainLargeChange } from "../../decision/check-change.js";
import { sayList, sayPm } from "../../decision/words.js";
import type { MtconnectDocument } from "../../import/mtconnect/read-document.js";
import type { OffsetObservation } from "../../import/mtconnect/streams.js";
import type { ToolAsset, ToolLife, ToolMeasurement } from "../../import/mtconnect/tool-asset.js";
import type { Change, Item } from "./schemas.js";

type ShopUnit = "mm" | "inch";

interface ToolRow {
  tool_id: string;
  number: number;
  name: string;
  nominal_diameter_mm: string | null;
  life_pieces: number | null;
}
interface RegisterRow {
  register_id: string;
  tool_id: string | null;
  number: number;
  label: string;
  controls: string;
  holds: "radius" | "diameter" | null;
}

/** A machine as it stands here. */
export interface Standing {
  machine: { name: string; unit: ShopUnit; largest_change_mm: string; least_increment_mm: string };
  tools: readonly ToolRow[];
  registers: readonly RegisterRow[];
  /** What each register holds now. */
  values: ReadonlyMap<string, string>;
  /** The edge in use of each tool, and the pieces it has cut. */
  edges: ReadonlyMap<string, { number: number; pieces: number }>;
  /** Accepted assets, the latest of each tool first. */
  assets: readonly { asset_id: string; tool_id: string; serial: string | null }[];
}

/** A value this many times what the machine lets anybody change at once is a whole length or radius and no wear. */
const noWear = 10;

/**
 * Each tool and each offset of a document beside what stands here, with what would be created or changed. What the document
 * leaves open is not guessed: it is said, and nothing is proposed.
 * @param declared unit of sizes that bear none, where the sender has said it
 */
export function proposeItems(
  document: Pick<MtconnectDocument, "tools" | "offsets">,
  standing: Standing,
  declared: ShopUnit | undefined,
): Item[] {
  const matches = document.tools.map((asset) => ({ asset, ...matchTool(asset, standing) }));
  const items = [
    ...matches.map((match) => {
      const others = matches.filter(
        (other) => other !== match && isSameTool(other, match) && isLive(other.asset) && isLive(match.asset),
      );
      const rivals = others.map(({ asset }) => asset.assetId);
      return proposeTool(match, standing, declared, rivals);
    }),
    ...document.offsets.map((offset) => proposeValue(offset, standing, declared)),
  ];
  return items.map((item, i) => ({ item: i + 1, ...item }));
}

type Match = {
  asset: ToolAsset;
  tool: ToolRow | undefined;
  number: number | undefined;
  by: Item["matched_by"];
};

function matchTool(asset: ToolAsset, { tools, assets }: Standing): Omit<Match, "asset"> {
  const known = assets.find(({ asset_id }) => asset_id === asset.assetId);
  const linked = known && tools.find(({ tool_id }) => tool_id === known.tool_id);
  if (linked) return { tool: linked, number: linked.number, by: "asset" };
  const byNumber = (number: number) => tools.find((tool) => tool.number === number);
  if (asset.programNumber !== undefined) {
    return { tool: byNumber(asset.programNumber), number: asset.programNumber, by: "program_number" };
  }
  if (asset.toolId !== undefined && /^\d{1,8}$/.test(asset.toolId)) {
    return { tool: byNumber(Number(asset.toolId)), number: Number(asset.toolId), by: "tool_id" };
  }
  return { tool: undefined, number: undefined, by: null };
}

function isSameTool(a: Match, b: Match): boolean {
  return a.number !== undefined && a.number === b.number;
}

function isLive(asset: ToolAsset): boolean {
  return !asset.removed && !asset.isArchetype;
}

function proposeTool(
  { asset, tool, number, by }: Match,
  standing: Standing,
  declared: ShopUnit | undefined,
  rivals: readonly string[],
): Omit<Item, "item"> {
  const { machine } = standing;
  const cautions = [...asset.notes.map((note) => `${note[0]!.toUpperCase()}${note.slice(1)}.`)];
  const changes: Change[] = [];
  const name = asset.description ?? asset.toolId ?? asset.assetId;
  if (asset.removed) cautions.push("It is marked as removed from the machine: nothing is proposed for it.");
  else if (asset.isArchetype)
    cautions.push("It is an archetype, which says what such tools are like and is none itself.");
  else if (rivals.length > 0) {
    cautions.push(
      `${sayList(rivals)} ${rivals.length > 1 ? "say" : "says"} tool number ${number} too: nothing is proposed until one of them is tool ${number}.`,
    );
  } else {
    if (by === "tool_id") {
      cautions.push(
        `No program number is said; the number is taken from its tool id "${asset.toolId}": check that it is.`,
      );
    }
    if (number === undefined && !tool)
      cautions.push("Nothing says its tool number: name it when you accept it.");
    if (!tool) {
      const known = standing.tools.map((row) => String(row.number));
      const why =
        number === undefined
          ? "no tool here is known to be it"
          : `${machine.name} has no tool ${number} here${known.length > 0 && known.length <= 12 ? ` (it has ${sayList(known)})` : ""}`;
      changes.push({ field: "tool", from: null, to: name.slice(0, 100), unit: null, why });
      cautions.push(
        "Its wear registers are in no such document: give them when you accept it, or its size can't be corrected.",
      );
    }
    proposeDiameter(asset, tool, standing, declared, changes, cautions);
    proposeLife(asset, tool, changes, cautions);
    if (tool) proposeEdge(asset, tool, standing, changes, cautions);
    sayState(asset, cautions);
  }
  const shownNumber = tool?.number ?? number ?? null;
  return {
    about: "tool",
    line: asset.line,
    tool_id: tool?.tool_id ?? null,
    tool_number: shownNumber,
    tool_name: tool?.name ?? name.slice(0, 100),
    matched_by: by,
    register_id: null,
    register_label: null,
    says: sayAsset(asset, tool, changes),
    changes,
    cautions,
    asset: showAsset(asset),
  };
}

/** The tool's nominal cutting diameter (DC of ISO 13399), the measured one where no nominal is said. */
function proposeDiameter(
  asset: ToolAsset,
  tool: ToolRow | undefined,
  { machine }: Standing,
  declared: ShopUnit | undefined,
  changes: Change[],
  cautions: string[],
): void {
  const measured = asset.measurements.find(
    ({ code, name }) => code === "DC" || (code === undefined && /^CuttingDiameter(Max)?$/.test(name)),
  );
  const printed = measured?.nominal ?? measured?.value;
  if (!measured || printed === undefined || measured.unit === "deg") return;
  const unit = unitOf(measured, machine.unit, declared);
  if (unit === undefined) {
    cautions.push(
      `Its diameter ${printed} bears no unit: ${printed} mm, as the standard means it, or ${printed} inch? Send the document again with unit=mm or unit=inch.`,
    );
    return;
  }
  const pm = parseLength(printed, unit);
  if (pm === undefined || pm <= 0) {
    cautions.push(`Its diameter ${printed} ${unit} is none that a tool has.`);
    return;
  }
  const heldPm = tool?.nominal_diameter_mm == null ? undefined : fromNumeric(tool.nominal_diameter_mm);
  if (heldPm === pm) return;
  const ratio = heldPm === undefined ? 1 : pm / heldPm;
  if ([mmPerInch, 1 / mmPerInch].some((slip) => Math.abs(ratio / slip - 1) < 0.02)) {
    cautions.push(
      `Its diameter ${printed} ${unit} is ${formatMeasure(heldPm!, machine.unit)} with inch and mm exchanged: nothing is proposed for it. Send the document again with the other unit.`,
    );
    return;
  }
  const undeclared = measured.unit === undefined && declared === undefined;
  if (undeclared)
    cautions.push("Its sizes bear no unit; they are taken for millimetres, as the standard means them.");
  changes.push({
    field: "nominal_diameter",
    from: heldPm === undefined ? null : toUnit(heldPm, machine.unit),
    to: toUnit(pm, machine.unit),
    unit: machine.unit,
    why: `${measured.nominal === undefined ? "measured" : "nominal"} ${measured.name} ${printed} ${unit}`,
  });
}

function unitOf(
  measured: ToolMeasurement,
  machineUnit: ShopUnit,
  declared: ShopUnit | undefined,
): ShopUnit | undefined {
  if (measured.unit === "mm" || measured.unit === "inch") return measured.unit;
  return declared ?? (machineUnit === "mm" ? "mm" : undefined);
}

function proposeLife(
  asset: ToolAsset,
  tool: ToolRow | undefined,
  changes: Change[],
  cautions: string[],
): void {
  const life = asset.lives.find(({ type }) => type === "PART_COUNT");
  const printed = life?.counts === "down" ? life.initial : life?.limit;
  if (!life || printed === undefined) return;
  const pieces = Number(printed);
  if (!Number.isInteger(pieces) || pieces < 1 || pieces > 10_000_000) {
    cautions.push(`Its life of ${printed} parts is no whole number of pieces.`);
    return;
  }
  if (tool?.life_pieces === pieces) return;
  const why = `life of ${printed} parts, counted ${life.counts}`;
  changes.push({ field: "life_pieces", from: tool?.life_pieces ?? null, to: pieces, unit: null, why });
}

/** Another asset, or another serial number, under a tool's number is another tool in its place: a fresh edge. */
function proposeEdge(
  asset: ToolAsset,
  tool: ToolRow,
  { assets, edges }: Standing,
  changes: Change[],
  cautions: string[],
): void {
  const before = assets.find(({ tool_id }) => tool_id === tool.tool_id);
  const edge = edges.get(tool.tool_id);
  const counted = asset.lives.find(({ type, value }) => type === "PART_COUNT" && value !== undefined);
  const used = counted && partsCut(counted);
  const isOther =
    before !== undefined &&
    (before.asset_id !== asset.assetId || (before.serial ?? asset.serial) !== asset.serial);
  const isNew = asset.statuses.includes("NEW") && (edge?.pieces ?? 0) > 0;
  if (edge && (isOther || isNew)) {
    const why = isOther
      ? `${asset.assetId}${asset.serial ? `, serial ${asset.serial},` : ""} is in the place of ${before.asset_id}${before.serial ? `, serial ${before.serial}` : ""}`
      : `it is NEW by the machine, and edge ${edge.number} has cut ${edge.pieces} pieces here`;
    changes.push({ field: "edge", from: edge.number, to: edge.number + 1, unit: null, why });
  } else if (edge && used !== undefined && used !== edge.pieces) {
    cautions.push(`The machine counts ${used} parts on it, here edge ${edge.number} has cut ${edge.pieces}.`);
  }
}

function partsCut({ counts, value, initial }: ToolLife): number | undefined {
  if (counts === "up") return Number(value);
  return initial === undefined ? undefined : Number(initial) - Number(value);
}

const ended = new Set(["EXPIRED", "BROKEN"]);

function sayState(asset: ToolAsset, cautions: string[]): void {
  const states = asset.statuses.filter((status) => ended.has(status));
  if (states.length > 0) {
    cautions.push(
      `The machine says that it is ${sayList(states)}: change it, measure what it cut last, and enter the fresh edge.`,
    );
  }
  for (const life of asset.lives) {
    const { counts, value, limit = counts === "down" ? "0" : undefined, warning, type } = life;
    if (value === undefined) continue;
    const reached = (mark: string | undefined) =>
      mark !== undefined && (counts === "up" ? Number(value) >= Number(mark) : Number(value) <= Number(mark));
    const what = `Its life is at ${value} ${lifeUnits[type]}, counting ${counts}`;
    if (reached(limit)) cautions.push(`${what}: it has reached its end at ${limit}.`);
    else if (reached(warning)) cautions.push(`${what}: it has reached its warning at ${warning}.`);
  }
  for (const { name, value, minimum, maximum, unit, within } of asset.measurements) {
    if (within !== false) continue;
    const limits = [
      minimum !== undefined && `at least ${minimum}`,
      maximum !== undefined && `at most ${maximum}`,
    ];
    cautions.push(
      `${name} measures ${value}, which should be ${sayList(limits.filter((text) => text !== false))}${unit === undefined ? "; the document gives no unit" : ` ${unit}`}.`,
    );
  }
}

const lifeUnits = { MINUTES: "minutes", PART_COUNT: "parts", WEAR: "of wear" };

function sayAsset(asset: ToolAsset, tool: ToolRow | undefined, changes: readonly Change[]): string {
  const what = `${asset.assetId}${asset.serial ? `, serial ${asset.serial}` : ""}`;
  const here = tool ? `tool ${tool.number} ${tool.name}` : "no tool here yet";
  const would =
    changes.length === 0
      ? "nothing would change"
      : `would set ${sayList(changes.map(({ field }) => fieldNames[field]))}`;
  return `${what} is ${here}: ${would}.`;
}

const fieldNames: Record<Change["field"], string> = {
  tool: "up the tool",
  nominal_diameter: "the nominal diameter",
  life_pieces: "the life in pieces",
  edge: "a fresh edge",
  value_found: "the register",
};

/** What the control reports of an offset beside what the ledger says. */
function proposeValue(
  offset: OffsetObservation,
  standing: Standing,
  declared: ShopUnit | undefined,
): Omit<Item, "item"> {
  const { machine, tools, values } = standing;
  const cautions: string[] = [];
  const found = findRegister(offset, standing);
  const register = "register" in found ? found.register : undefined;
  if ("caution" in found) cautions.push(found.caution);
  const tool = tools.find(
    ({ tool_id, number }) => tool_id === register?.tool_id || (!register && number === offset.toolNumber),
  );
  const item: Omit<Item, "item"> = {
    about: "register",
    line: offset.line,
    tool_id: tool?.tool_id ?? null,
    tool_number: tool?.number ?? offset.toolNumber ?? null,
    tool_name: tool?.name ?? null,
    matched_by: !register ? null : offset.offsetNumber === undefined ? "tool_in_use" : "offset_number",
    register_id: register?.register_id ?? null,
    register_label: register?.label ?? null,
    says: "",
    changes: [],
    cautions,
    asset: null,
  };
  const what = `${offset.subType} offset${offset.offsetNumber === undefined ? "" : ` ${offset.offsetNumber}`}`;
  if (offset.value === undefined) {
    return { ...item, says: `The control gives no value for the ${what} (UNAVAILABLE), which is not 0.` };
  }
  const unit = declared ?? (machine.unit === "mm" ? "mm" : undefined);
  if (unit === undefined) {
    cautions.push(
      `${offset.value} mm, as the standard means it, or ${offset.value} inch? Send the document again with unit=mm or unit=inch.`,
    );
    return { ...item, says: `The control reads ${offset.value} in the ${what}.` };
  }
  const pm = parseLength(offset.value, unit);
  if (!register || pm === undefined) {
    return { ...item, says: `The control reads ${offset.value} ${unit} in the ${what}.` };
  }
  const heldPm = fromNumeric(values.get(register.register_id) ?? "0");
  const [reads, held] = [sayPm(pm, machine.unit), sayPm(heldPm, machine.unit)];
  if (pm === heldPm) {
    return { ...item, says: `The control reads ${reads} in ${register.label}, as the ledger says.` };
  }
  const says = `The control reads ${reads} in ${register.label}, the ledger says ${held}.`;
  const largestPm = fromNumeric(machine.largest_change_mm);
  if (Math.abs(pm) > noWear * largestPm) {
    cautions.push(
      `${reads} is no wear: the control seems to report a whole length or radius there, which this register does not hold.`,
    );
    return { ...item, says };
  }
  if (offset.subType === "RADIAL" && register.holds === "diameter") {
    cautions.push(
      `${register.label} holds a diameter, and a RADIAL offset is a radius: ${reads}, or twice that? Read it at the control and enter it there.`,
    );
    return { ...item, says };
  }
  const change = {
    name: machine.name,
    unit: machine.unit,
    largestChangePm: largestPm,
    leastIncrementPm: fromNumeric(machine.least_increment_mm),
  };
  const tooLarge = explainLargeChange(change, register.label, pm, heldPm);
  if (tooLarge !== undefined) cautions.push(`${tooLarge}.`);
  cautions.push("Read the register at the control before you accept it: the value counts as found there.");
  const when = offset.timestamp ? `, ${offset.timestamp}` : "";
  const inUse = offset.toolNumber === undefined ? "" : ` with tool ${offset.toolNumber} in use`;
  return {
    ...item,
    says,
    changes: [
      {
        field: "value_found",
        from: toUnit(heldPm, machine.unit),
        to: toUnit(pm, machine.unit),
        unit: machine.unit,
        why: `${what}${inUse}${when}`,
      },
    ],
  };
}

function findRegister(
  { subType, offsetNumber, toolNumber }: OffsetObservation,
  { registers, tools, machine }: Standing,
): { register: RegisterRow } | { caution: string } {
  const wanted = subType === "LENGTH" ? ["axial", "z"] : ["radial", "x"];
  const fits = registers.filter(({ controls }) => wanted.includes(controls));
  const tool = tools.find(({ number }) => number === toolNumber);
  if (offsetNumber === undefined && toolNumber === undefined) {
    return { caution: "Nothing says of which tool it is: the stream reports no tool number before it." };
  }
  if (offsetNumber === undefined && !tool) {
    return { caution: `${machine.name} has no tool ${toolNumber} here.` };
  }
  const found = fits.filter((register) =>
    offsetNumber === undefined ? register.tool_id === tool!.tool_id : register.number === offsetNumber,
  );
  const [only, second] = found;
  if (only && !second) return { register: only };
  const whose = offsetNumber === undefined ? `tool ${toolNumber}` : `number ${offsetNumber}`;
  if (!only) return { caution: `No register of ${whose} here controls ${sayList(wanted)}.` };
  return { caution: `It may be ${sayList(found.map(({ label }) => label))}: enter it where it belongs.` };
}

function showAsset(asset: ToolAsset): NonNullable<Item["asset"]> {
  const { location } = asset;
  return {
    asset_id: asset.assetId,
    tool_id: asset.toolId ?? null,
    serial: asset.serial ?? null,
    program_number: asset.programNumber ?? null,
    description: asset.description ?? null,
    timestamp: asset.timestamp ?? null,
    removed: asset.removed,
    statuses: asset.statuses,
    location: location === undefined ? null : [location.type, location.value].filter(Boolean).join(" "),
    lives: asset.lives.map(showLife),
    measurements: asset.measurements.map(showMeasured),
    edge_count: asset.itemCount ?? null,
    edges: asset.items.map((edge) => ({
      indices: edge.indices,
      item_id: edge.itemId ?? null,
      grade: edge.grade ?? null,
      locus: edge.locus ?? null,
      statuses: edge.statuses,
      lives: edge.lives.map(showLife),
      measurements: edge.measurements.map(showMeasured),
    })),
  };
}

function showLife(life: ToolLife) {
  const { type, counts, value, initial, limit, warning } = life;
  return {
    type,
    counts,
    value: value ?? null,
    initial: initial ?? null,
    limit: limit ?? null,
    warning: warning ?? null,
  };
}

function showMeasured(measured: ToolMeasurement) {
  const { name, code, value, nominal, minimum, maximum, unit, within } = measured;
  return {
    name,
    code: code ?? null,
    value: value ?? null,
    nominal: nominal ?? null,
    minimum: minimum ?? null,
    maximum: maximum ?? null,
    unit: unit ?? null,
    within: within ?? null,
  };
}
