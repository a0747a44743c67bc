import { type Line, LineDecoder } from "../decode-lines.js";
import { UnreadableXml, type XmlEvent, XmlReader } from "../xml/read-xml.js";
import { attributeOf, type Element, ElementTree, textOf } from "./element-tree.js";
import {
  type FeatureMeasurement,
  latestOffsets,
  measurementsOf,
  type Observed,
  type OffsetObservation,
  observations,
  offsetsOf,
} from "./streams.js";
import { type ToolAsset, toToolAsset } from "./tool-asset.js";

/** What an MTConnect document (ANSI/MTC1.4) says of tools, offsets and features. */
export interface MtconnectDocument {
  /** "MTConnectAssets 1.2", "asset lines" ... */
  kind: string;
  /** Of each asset the latest. */
  tools: ToolAsset[];
  offsets: OffsetObservation[];
  measurements: FeatureMeasurement[];
  /** Elements or lines of other kinds, passed over. */
  others: number;
}

const mostTools = 2000;
const mostObservations = 20_000;
const mostBlank = 64 * 1024;
const namespace = /^urn:mtconnect\.org:(MTConnectAssets|MTConnectStreams):(\d{1,2}\.\d{1,2})$/;
const tools = new Set(["CuttingTool", "CuttingToolArchetype"]);

/**
 * Reads an MTConnect document as its bytes come: assets, streams, a cutting tool by itself, or an adapter's lines with assets in
 * them. Nothing of it is given out before its end, so that a malformed one gives nothing; of what does not matter here nothing
 * is kept, and of what does at most 2000 tools and 20 000 observations.
 */
export class MtconnectReader {
  private reader: { read(bytes: Uint8Array): void; end(): void } | undefined;
  private readonly collected = new Collected();
  private begin: Buffer = Buffer.alloc(0);

  /** @throws {UnreadableXml} where it can't be read on, with line and column */
  read(bytes: Uint8Array): void {
    if (this.reader) {
      this.reader.read(bytes);
      return;
    }
    this.begin = Buffer.concat([this.begin, bytes]);
    if (/[^\s\0\xef\xbb\xbf\xff\xfe]/.test(this.begin.toString("latin1")) || this.begin.length > mostBlank)
      this.start();
  }

  /** @throws {UnreadableXml} */
  end(): MtconnectDocument {
    if (!this.reader) throw new UnreadableXml(1, 1, "there is nothing in it");
    this.reader.end();
    return this.collected.end();
  }

  /** Begins as soon as the first character shows what it is. */
  private start(): void {
    const { begin } = this;
    this.begin = Buffer.alloc(0);
    this.reader = isXml(begin) ? new XmlDocument(this.collected) : new AssetLines(this.collected);
    this.reader.read(begin);
  }
}

/** Whether bytes begin as XML does, in UTF-8 or UTF-16. */
function isXml(bytes: Uint8Array): boolean {
  return /^[\s\0\xef\xbb\xbf\xff\xfe]*</.test(Buffer.from(bytes).toString("latin1"));
}

/** What has been found so far. */
class Collected {
  kind = "";
  others = 0;
  private readonly tools = new Map<string, ToolAsset>();
  private readonly offsets: OffsetObservation[] = [];
  private readonly toolNumbers: (Observed & { tool?: number })[] = [];
  private readonly measurements: FeatureMeasurement[] = [];

  addTool(element: Element): void {
    const asset = toToolAsset(element);
    if (asset.assetId === "") {
      throw new UnreadableXml(
        element.line,
        element.column,
        "a cutting tool without an assetId, by which it would be known",
      );
    }
    const before = this.tools.get(asset.assetId);
    const isOlder =
      before?.timestamp !== undefined && asset.timestamp !== undefined && asset.timestamp < before.timestamp;
    if (!isOlder) this.tools.set(asset.assetId, asset);
    if (this.tools.size > mostTools) {
      throw new UnreadableXml(
        element.line,
        element.column,
        `more than ${mostTools} tools: send them in several documents`,
      );
    }
  }

  addObservation(element: Element, component: string): void {
    const timestamp = attributeOf(element, "timestamp");
    const sequence = Number(element.attributes.sequence);
    const observed: Observed = {
      component,
      dataItemId: attributeOf(element, "dataItemId") ?? "",
      ...(timestamp !== undefined && { timestamp }),
      sequence: Number.isSafeInteger(sequence) ? sequence : 0,
      line: element.line,
    };
    if (element.name === "ToolNumber") {
      const text = textOf(element) ?? "";
      this.toolNumbers.push({ ...observed, ...(/^\d{1,8}$/.test(text) && { tool: Number(text) }) });
    } else if (element.name === "FeatureMeasurementTable") {
      this.measurements.push(...measurementsOf(element, observed));
    } else this.offsets.push(...offsetsOf(element, observed));
    const kept = this.offsets.length + this.toolNumbers.length + this.measurements.length;
    if (kept > mostObservations) {
      throw new UnreadableXml(
        element.line,
        element.column,
        `more than ${mostObservations} observations of tools and features: ask the agent for fewer at a time (count)`,
      );
    }
  }

  end(): MtconnectDocument {
    const { kind, others, measurements } = this;
    const offsets = latestOffsets(this.offsets, this.toolNumbers);
    return { kind, tools: [...this.tools.values()], offsets, measurements, others };
  }
}

/** A document, or a cutting tool by itself. */
class XmlDocument {
  private readonly reader = new XmlReader();
  private depth = 0;
  private tree: ElementTree | undefined;
  private isStream = false;
  private device = "";
  private component = "";

  constructor(private readonly collected: Collected) {}

  read(bytes: Uint8Array): void {
    this.take(this.reader.read(bytes));
  }

  end(): void {
    this.take(this.reader.end());
  }

  private take(events: readonly XmlEvent[]): void {
    for (const event of events) {
      if (this.tree) this.finish(this.tree.take(event));
      else if (event.kind === "open") this.enter(event);
      else if (event.kind === "close") this.depth -= 1;
    }
  }

  private enter(event: Extract<XmlEvent, { kind: "open" }>): void {
    const { name, attributes } = event;
    if (this.depth === 0) this.begin(event);
    if (name === "DeviceStream") this.device = attributes.uuid ?? attributes.name ?? "";
    if (name === "ComponentStream")
      this.component = `${this.device} ${attributes.componentId ?? attributes.name ?? ""}`;
    const isWanted = this.isStream ? observations.has(name) : tools.has(name);
    if (isWanted) {
      this.tree = new ElementTree();
      this.tree.take(event);
      return;
    }
    this.depth += 1;
    if (this.depth > 2) this.collected.others += 1;
  }

  private begin({ name, uri, line, column }: Extract<XmlEvent, { kind: "open" }>): void {
    const [, kind, version] = namespace.exec(uri) ?? [];
    if (tools.has(name) && (uri === "" || kind === "MTConnectAssets")) {
      this.collected.kind = "cutting tool";
    } else if (kind !== undefined && name === kind) {
      this.collected.kind = `${kind} ${version}`;
      this.isStream = kind === "MTConnectStreams";
    } else {
      const what =
        name === "MTConnectError"
          ? "an agent's error, which has no tools in it"
          : "no MTConnect document of assets or streams";
      throw new UnreadableXml(
        line,
        column,
        `this is ${what}: "${name.slice(0, 100)}" of ${uri.slice(0, 100) || "no namespace"}`,
      );
    }
  }

  private finish(element: Element | undefined): void {
    if (!element) return;
    this.tree = undefined;
    if (this.isStream) this.collected.addObservation(element, this.component);
    else this.collected.addTool(element);
  }
}

const assetLine = /^(?:[^|]*\|)?@(?:UPDATE_)?ASSET@\|([^|]{0,200})\|([^|]{0,100})\|/;
const removedLine = /^(?:[^|]*\|)?@REMOVE_ASSET@\|/;
const multiline = /^--multiline--(\S{0,100})/;

/** Lines of an adapter with bars between, of which some carry an asset as XML, on one line or on several. */
class AssetLines {
  private readonly decoder = new LineDecoder({ encoding: "detect", control_characters: "refuse" });
  /** An asset of several lines that has begun. */
  private open:
    | {
        end: string;
        first: number;
        /** Lines and columns before the asset's own first ones. */
        before: { line: number; column: number };
        reader: XmlReader;
        trees: AssetTrees;
      }
    | undefined;

  constructor(private readonly collected: Collected) {
    collected.kind = "asset lines";
  }

  read(bytes: Uint8Array): void {
    this.takeAll(this.decoder.push(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length)));
  }

  end(): void {
    this.takeAll(this.decoder.end());
    if (this.open) {
      const { first, end } = this.open;
      throw new UnreadableXml(first, 1, `an asset of several lines without its end, --multiline--${end}`);
    }
  }

  private takeAll(lines: readonly Line[]): void {
    for (const line of lines) this.take(line);
  }

  private take(line: Line): void {
    if (line.fault !== undefined) throw new UnreadableXml(line.no, 1, `this line ${line.fault}`);
    if (this.open) {
      if (line.text.trim() === `--multiline--${this.open.end}`) this.close();
      else this.feed(`${line.text}\n`);
      return;
    }
    const match = assetLine.exec(line.text);
    if (!match) {
      if (line.text.trim() !== "") this.collected.others += 1;
      if (!/\|/.test(line.text) && line.text.trim() !== "" && !/^\*/.test(line.text)) {
        throw new UnreadableXml(line.no, 1, "this is neither XML nor an adapter's line with bars between");
      }
      return;
    }
    const [head, , type = ""] = match;
    if (!tools.has(type) || removedLine.test(line.text)) {
      this.collected.others += 1;
      return;
    }
    const rest = line.text.slice(head.length);
    const [, end] = multiline.exec(rest) ?? [];
    const before =
      end === undefined ? { line: line.no - 1, column: head.length } : { line: line.no, column: 0 };
    const trees = new AssetTrees(this.collected, line.no);
    this.open = { end: end ?? "", first: line.no, before, reader: new XmlReader(), trees };
    if (end !== undefined) return;
    this.feed(rest);
    this.close();
  }

  private close(): void {
    const { reader, trees } = this.open!;
    this.place(() => trees.take(reader.end()));
    this.open = undefined;
  }

  private feed(text: string): void {
    const { reader, trees } = this.open!;
    this.place(() => trees.take(reader.read(Buffer.from(text))));
  }

  /** Says where in the whole a fault of an asset lies. */
  private place(take: () => void): void {
    const { before } = this.open!;
    try {
      take();
    } catch (error) {
      if (!(error instanceof UnreadableXml)) throw error;
      const reason = error.reason.replace(/^Line \d+, column \d+: /, "");
      throw new UnreadableXml(error.line + before.line, error.column + before.column, reason);
    }
  }
}

/** Cutting tools among the events of an asset line. */
class AssetTrees {
  private tree: ElementTree | undefined;

  constructor(
    private readonly collected: Collected,
    private readonly line: number,
  ) {}

  take(events: readonly XmlEvent[]): void {
    for (const event of events) {
      if (!this.tree && event.kind === "open") {
        if (!tools.has(event.name)) {
          throw new UnreadableXml(
            event.line,
            event.column,
            `"${event.name.slice(0, 100)}" is no cutting tool`,
          );
        }
        this.tree = new ElementTree();
      }
      const element = this.tree?.take(event);
      if (element) {
        this.collected.addTool({ ...element, line: this.line });
        this.tree = undefined;
      }
    }
  }
}
