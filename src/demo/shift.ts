import type {
  CheckPlan,
  Client,
  Correction,
  EntryAnswer,
  NextStep,
  Reading,
  ReadingsAnswer,
  Wear,
} from "./client.js";
import type { LogLine } from "./probe-log.js";
import { batches, type OpenBatch, type Place, type Shop, type ShopFeature, type ToolName } from "./shop.js";
import { type Style, sayLength, type Teller } from "./tell.js";

/** The service answered something else than the story says. */
export class StoryError extends Error {}

/** What an answer has to say: the step, and the one change that is proposed; without `change` none may be. */
export interface Expected {
  action: NextStep["action"];
  change?: { register: string; about: number };
}

/** A size as a person types it. */
export interface Typed {
  characteristic: string;
  value: string;
  unit: "mm" | "inch" | "um";
}

/** What is sent of a characteristic, whatever its kind, and how a person would say it. */
export interface Found {
  said: string;
  characteristic: string;
  [member: string]: unknown;
}

/** What an answer says of a reading that need not be a size. */
interface Inspected
  extends Pick<Reading, "feature_id" | "verdict" | "disposition" | "lower_limit" | "upper_limit"> {
  place: string | null;
  size: number | null;
  size_unit: string | null;
  result: string | null;
  why: string | null;
  arithmetic: string[];
}

/** A size that the service predicted when a change was made. */
interface Prediction {
  size: number;
  piece: number;
  cut: number;
}

const by = "shift A";
/** A change may differ from the story's by two steps of the control, a size from its prediction by this share. */
const changeLeewayMm = 0.0021;
const predictionLeeway = 0.25;

const steps: Record<NextStep["action"], [string, Style]> = {
  run_on: ["Run on", "green"],
  measure: ["Measure", "cyan"],
  set_offset: ["Set the offset", "yellow"],
  stop: ["Stop", "red"],
};

/** One shift at the shop: does things through the service, prints what it answers and holds that to the story. */
export class Shift {
  private readonly predictions = new Map<string, Prediction>();
  private proposed: Correction[] = [];

  constructor(
    readonly client: Client,
    private readonly tell: Teller,
    readonly shop: Shop,
  ) {}

  /** Sizes typed by hand. */
  async type(place: Place, piece: number, typed: readonly Typed[], expected: Expected, cut = 1) {
    const where = { batch_id: this.batch(place), piece, ...(cut > 1 ? { cut } : {}) };
    const answer = await this.client.post<ReadingsAnswer>(
      "/v1/readings",
      typed.map((one) => ({ ...where, ...one, taken_by: by })),
    );
    this.tell.line();
    this.showReadings(answer.readings, typed);
    this.compare(answer.readings);
    this.take(answer, expected);
    return answer;
  }

  /** Opens a batch on the mill. */
  async open(place: Place): Promise<void> {
    const { part, machines } = this.shop;
    const body = { ...batches[place], part_id: part.part_id, machine_id: machines.mill.machine_id };
    this.shop.batches[place] = await this.client.post<OpenBatch>("/v1/batches", body);
  }

  /** What was found of characteristics of any kind, all at once; printed with what the drawing allows. */
  async inspect(piece: number, found: readonly Found[], expected: Expected): Promise<Inspected[]> {
    const answer = await this.client.post<
      Pick<ReadingsAnswer, "next" | "corrections"> & { readings: Inspected[] }
    >(
      "/v1/readings",
      found.map(({ said: _said, ...body }) => ({
        batch_id: this.batch("bench"),
        piece,
        ...body,
        taken_by: by,
      })),
    );
    const rows = answer.readings.map((reading, i) => [
      [this.nameFeature(reading.feature_id), reading.place].filter(Boolean).join(", "),
      found[i]!.said,
      sayFound(reading),
      sayAllowed(reading),
      reading.verdict === "uncertain" ? "not decided" : sayVerdict(reading),
    ]);
    this.tell.line();
    this.tell.table(["characteristic", "found", "counts as", "allowed", "verdict"], rows);
    this.take(answer, expected);
    return answer.readings;
  }

  /** What a log printed, all of it as one array; each line is known by its file and number. */
  async send(place: Place, file: string, lines: readonly LogLine[]): Promise<ReadingsAnswer> {
    const body = lines.map(({ line, characteristic, piece, value, unit, offsets }) => ({
      batch_id: this.batch(place),
      piece,
      characteristic,
      value,
      unit,
      gauge_id: this.shop.gauges.probe!.gauge_id,
      cut_with: offsets,
      source_id: `${file} line ${line}`,
    }));
    return this.client.post<ReadingsAnswer>("/v1/readings", body);
  }

  async voidReading(reading: Reading, reason: string, expected: Expected): Promise<void> {
    const path = `/v1/readings/${reading.reading_id}/void`;
    const answer = await this.client.post<Pick<ReadingsAnswer, "next" | "corrections">>(path, { reason, by });
    const { name } = this.feature(reading.feature_id);
    this.tell.mark("voided", `${name}, ${sayLength(reading.value, reading.unit)}: ${reason}`);
    this.take(answer, expected);
  }

  /** Enters a value that was keyed without advice. */
  async enter(place: Place, label: string, value: number, reason: string): Promise<void> {
    const { register_id } = this.register(label);
    const body = { batch_id: this.batch(place), from_piece: 1, value, reason, by };
    const entry = await this.client.post<EntryAnswer>(`/v1/registers/${register_id}/entries`, body);
    const { unit, value_before } = entry;
    const values = `from ${sayLength(value_before, unit)} to ${sayLength(entry.value, unit, true)}`;
    this.tell.mark("keyed", `${label} ${values}, from piece ${entry.from_piece} on (${reason})`);
    for (const warning of entry.warnings) this.tell.mark("warning", warning, "yellow");
    this.showNext(entry.next);
  }

  /** Prints how the open change of a register was worked out, and reports it as keyed. */
  async apply(label: string, fromPiece: number, expected: Expected, fromCut = 1): Promise<void> {
    const change = this.proposed.find((one) => one.register_label === label);
    if (!change) throw new StoryError(`no change of ${label} is open that could be applied`);
    this.explain(change);
    const { unit, value_now, value_after } = change;
    const body = { from_piece: fromPiece, from_cut: fromCut, value_found: value_now, value_after, by };
    const path = `/v1/corrections/${change.correction_id}/apply`;
    const answer = await this.client.post<Pick<ReadingsAnswer, "next" | "corrections">>(path, body);
    for (const { feature_id, expected_after } of change.features) {
      this.predictions.set(feature_id, { size: expected_after, piece: fromPiece, cut: fromCut });
    }
    const from = fromCut > 1 ? `cut ${fromCut} of piece ${fromPiece}` : `piece ${fromPiece}`;
    const showed = `it showed ${sayLength(value_now!, unit)} and shows ${sayLength(value_after!, unit)} now`;
    this.tell.mark("keyed", `${label} ${sayLength(change.change, unit, true)}, from ${from} on; ${showed}`);
    this.take(answer, expected);
  }

  /** A fresh edge, with what the control now holds in every register of the tool. */
  async changeEdge(place: Place, tool: ToolName, fromPiece: number, values: Record<string, number>) {
    const { tool_id, number, name } = this.shop.tools[tool];
    const registers = Object.entries(values).map(([label, value]) => ({
      register_id: this.register(label).register_id,
      value,
    }));
    const body = { batch_id: this.batch(place), from_piece: fromPiece, reason: "chipped", by, registers };
    const answer = await this.client.post<{ next: NextStep }>(`/v1/tools/${tool_id}/edges`, body);
    const held = Object.entries(values).map(([label, value]) => `${label} ${sayLength(value, "mm", true)}`);
    const words = `new edge in tool ${number}, ${name}, from piece ${fromPiece} on; the control holds ${held.join(", ")}`;
    this.tell.mark("edge", words);
    this.take({ next: answer.next, corrections: [] }, { action: "measure" });
  }

  wear(tool: ToolName): Promise<Wear> {
    return this.client.get(`/v1/tools/${this.shop.tools[tool].tool_id}/wear`);
  }

  checks(place: Place, piece?: number): Promise<CheckPlan> {
    const query = piece === undefined ? "" : `?piece=${piece}`;
    return this.client.get(`/v1/batches/${this.batch(place)}/checks${query}`);
  }

  /** What the service holds of a batch: how many readings, and which corrections are open. */
  async kept(place: Place): Promise<{ readings: number; open: (string | null)[] }> {
    const batch = this.batch(place);
    const readings = await this.client.get<{ items: Reading[] }>(`/v1/readings?batch_id=${batch}&limit=200`);
    const open = await this.client.get<{ items: Correction[] }>(
      `/v1/corrections?batch_id=${batch}&status=proposed`,
    );
    return { readings: readings.items.length, open: open.items.map(({ correction_id }) => correction_id) };
  }

  /** @throws {StoryError} unless it holds */
  holds(condition: boolean, otherwise: string): void {
    if (!condition) throw new StoryError(otherwise);
  }

  feature(featureId: string): ShopFeature {
    return this.shop.part.features.find(({ feature_id }) => feature_id === featureId)!;
  }

  nameFeature(featureId: string): string {
    const { characteristic, name } = this.feature(featureId);
    return `${characteristic} ${name}`;
  }

  /** Prints the next step, holds the answer to the story and keeps what is proposed. */
  take({ next, corrections }: Pick<ReadingsAnswer, "next" | "corrections">, expected: Expected): void {
    this.showNext(next);
    const { action, change } = expected;
    this.holds(
      next.action === action,
      `the story needs "${action}" here, the service says "${next.action}": ${next.why}`,
    );
    this.proposed = corrections.filter(({ kind, status }) => kind === "change" && status === "proposed");
    for (const one of this.proposed) this.holdChange(one, change);
    this.holds(
      change === undefined || this.proposed.length > 0,
      `the story needs a change of ${change?.register} here, the service proposes none`,
    );
  }

  private holdChange({ register_label, change, why }: Correction, expected: Expected["change"]): void {
    this.holds(
      register_label === expected?.register,
      `no change of ${register_label} may be proposed here: ${why}`,
    );
    this.holds(
      Math.abs(change - expected!.about) <= changeLeewayMm,
      `the story needs about ${expected!.about} on ${register_label}, the service says ${change}: ${why}`,
    );
  }

  private showNext({ action, why }: NextStep): void {
    const [words, style] = steps[action];
    this.tell.mark("NEXT", why.startsWith(words) ? why : `${words}: ${why}`, style);
  }

  private showReadings(readings: readonly Reading[], typed: readonly Typed[]): void {
    const rows = readings.map((reading, i) => [
      this.nameFeature(reading.feature_id),
      reading.cut > 1 ? `${reading.piece} cut ${reading.cut}` : String(reading.piece),
      `${typed[i]!.value} ${typed[i]!.unit}`,
      sayLength(reading.size, reading.size_unit),
      sayLength(reading.from_target, reading.size_unit, true),
      sayVerdict(reading),
    ]);
    this.tell.table(["feature", "piece", ">typed", ">size", ">off target", "verdict"], rows);
    for (const { flags, slip, feature_id } of readings) {
      if (flags.length === 0) continue;
      const words = `${this.nameFeature(feature_id)} is ${flags.join(", ")}${slip === null ? "" : `: ${slip}`}`;
      this.tell.mark("flag", words, "yellow");
    }
  }

  /** Sizes predicted when a change was made, beside what was found. */
  private compare(readings: readonly Reading[]): void {
    const rows = readings.flatMap((reading) => {
      const told = this.predictions.get(reading.feature_id);
      if (!told || reading.verdict === "uncertain") return [];
      if (reading.piece < told.piece || (reading.piece === told.piece && reading.cut < told.cut)) return [];
      this.predictions.delete(reading.feature_id);
      const { size, size_unit, feature_id } = reading;
      const { lower_limit, upper_limit } = this.feature(feature_id);
      const name = this.nameFeature(feature_id);
      const off = Number((size - told.size).toFixed(4));
      this.holds(
        Math.abs(off) <= (predictionLeeway * (upper_limit! - lower_limit!)) / 2,
        `${name} was predicted at ${told.size} and found at ${size}`,
      );
      return [
        [name, ...[told.size, size].map((one) => sayLength(one, size_unit)), sayLength(off, size_unit, true)],
      ];
    });
    if (rows.length === 0) return;
    this.tell.line();
    this.tell.table(["after the change", ">predicted", ">found", ">difference"], rows);
  }

  private explain({ arithmetic, line, cautions }: Correction): void {
    this.tell.line();
    this.tell.line("    How the service worked that out:");
    this.tell.list(arithmetic);
    if (line !== null) this.tell.mark("control", `the line for this control: ${line}`);
    cautions.forEach((caution, i) => {
      this.tell.mark(i === 0 ? "CAUTION" : "", caution, "yellow");
    });
    this.tell.line();
  }

  private batch(place: Place): string {
    const open = this.shop.batches[place];
    if (!open) throw new StoryError(`batch ${batches[place].name} is not open yet`);
    return open.batch_id;
  }

  private register(label: string) {
    return this.shop.registers.get(label)!;
  }
}

export function sayVerdict({ verdict, disposition }: Pick<Reading, "verdict" | "disposition">): string {
  if (verdict === "uncertain") return "not believed yet";
  const fates = {
    accept: "",
    rework: "metal left: rework",
    scrap: "too much gone: scrap",
    remeasure: "measure again",
  };
  return [verdict === "conforming" ? "in tolerance" : "OUT", fates[disposition]].filter(Boolean).join(", ");
}

function sayFound({ size, size_unit, result }: Inspected): string {
  return size === null ? (result ?? "") : saySize(size, size_unit);
}

function sayAllowed({ lower_limit, upper_limit, size_unit }: Inspected): string {
  if (lower_limit === null) return upper_limit === null ? "pass" : `up to ${saySize(upper_limit, size_unit)}`;
  if (lower_limit === upper_limit) return `exactly ${saySize(lower_limit, size_unit)}`;
  const unit = ` ${size_unit}`;
  return `${saySize(lower_limit, size_unit).replace(unit, "")} to ${saySize(upper_limit!, size_unit)}`;
}

/** Angles with two places, counts and roughness as they are. */
function saySize(size: number, unit: string | null): string {
  if (unit === "mm" || unit === "inch") return sayLength(size, unit);
  return unit === "deg"
    ? `${size.toFixed(2)} deg`
    : [String(size), unit].filter((text) => text !== null).join(" ");
}
