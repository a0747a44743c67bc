import { SaxesParser } from "saxes";
import { UnreadableSource } from "../source-record.js";
import { UndecodableBytes, XmlDecoder } from "./decode-xml.js";

/** What a document may come to before it is refused. */
export interface XmlLimits {
  /** Elements within each other. */
  depth: number;
  /** Characters of a name. */
  name: number;
  /** Characters of a tag with its attributes, of a text, of a comment. */
  length: number;
  /** Attributes of an element. */
  attributes: number;
}

export type XmlEvent =
  | {
      kind: "open";
      /** Without its prefix. */
      name: string;
      /** The namespace; empty: none. */
      uri: string;
      /** By their names as written, prefixes included. An object without prototype. */
      attributes: Readonly<Record<string, string>>;
      /** Where it begins, from 1. */
      line: number;
      column: number;
    }
  | { kind: "text"; text: string; line: number; column: number }
  | { kind: "close"; name: string; line: number; column: number };

/** The document can't be read on; `reason` begins with the place. */
export class UnreadableXml extends UnreadableSource {
  constructor(
    line: number,
    readonly column: number,
    reason: string,
  ) {
    super(line, `Line ${line}, column ${column}: ${reason}`);
  }
}

const usualLimits: XmlLimits = { depth: 128, name: 256, length: 8 * 1024 * 1024, attributes: 256 };
const noAttributes: Record<string, string> = Object.freeze(Object.create(null));
const bytesAtOnce = 32 * 1024;

/**
 * Reads an XML document as its bytes come, namespaces resolved, and gives out what has been read, in batches. Memory is bounded
 * by the limits. A document type declaration is refused, so there is no entity but the five of XML itself and nothing outside
 * the document is ever opened. Comments and processing instructions are passed over; blank text between elements, too.
 * @throws {UnreadableXml} where the document is malformed, cut off, no text in its encoding, or beyond a limit
 */
export async function* readXml(
  bytes: AsyncIterable<Uint8Array>,
  limits?: Partial<XmlLimits>,
): AsyncGenerator<XmlEvent[], void, undefined> {
  const reader = new XmlReader(limits);
  for await (const chunk of bytes) {
    for (let at = 0; at < chunk.length; at += bytesAtOnce) {
      const events = reader.read(chunk.subarray(at, at + bytesAtOnce));
      if (events.length > 0) yield events;
    }
  }
  const events = reader.end();
  if (events.length > 0) yield events;
}

/** The same for whoever hands the bytes over piece by piece. After an error it reads nothing more. */
export class XmlReader {
  private readonly parser = new SaxesParser({ xmlns: true, position: true });
  private readonly decoder = new XmlDecoder();
  private readonly limits: XmlLimits;
  private events: XmlEvent[] = [];
  private depth = 0;
  private attributes = 0;
  private tagLine = 1;
  private tagColumn = 1;
  /** Characters since the last thing that was given out. */
  private waiting = 0;

  constructor(limits: Partial<XmlLimits> = {}) {
    this.limits = { ...usualLimits, ...limits };
    const { parser } = this;
    parser.on("error", (error) => this.fail(error.message.replace(/^\d+:\d+: /, "")));
    parser.on("doctype", () => this.fail(doctypeRefused));
    parser.on("opentagstart", (tag) => {
      this.waiting = 0;
      this.attributes = 0;
      this.tagLine = parser.line;
      this.tagColumn = Math.max(parser.column - tag.name.length - 1, 1);
      if (tag.name.length > this.limits.name) {
        this.fail(`a name of ${tag.name.length} characters: at most ${this.limits.name} are read`);
      }
      this.depth += 1;
      if (this.depth > this.limits.depth) {
        this.fail(`elements lie more than ${this.limits.depth} deep in each other`);
      }
    });
    parser.on("attribute", () => {
      this.attributes += 1;
      if (this.attributes > this.limits.attributes) {
        this.fail(`an element with more than ${this.limits.attributes} attributes`);
      }
    });
    parser.on("opentag", (tag) => {
      this.waiting = 0;
      let attributes = noAttributes;
      if (this.attributes > 0) {
        attributes = Object.create(null) as Record<string, string>;
        for (const name in tag.attributes) attributes[name] = tag.attributes[name]!.value;
      }
      const { tagLine: line, tagColumn: column } = this;
      this.events.push({ kind: "open", name: tag.local, uri: tag.uri, attributes, line, column });
    });
    parser.on("closetag", (tag) => {
      this.waiting = 0;
      this.depth -= 1;
      this.events.push({ kind: "close", name: tag.local, line: parser.line, column: parser.column });
    });
    const text = (text: string) => {
      this.waiting = 0;
      if (/\S/.test(text)) this.events.push({ kind: "text", text, line: parser.line, column: parser.column });
    };
    parser.on("text", text);
    parser.on("cdata", text);
    parser.on("comment", () => {
      this.waiting = 0;
    });
  }

  /** @throws {UnreadableXml} */
  read(bytes: Uint8Array): XmlEvent[] {
    return this.take(() => this.decoder.push(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length)));
  }

  /** @throws {UnreadableXml} */
  end(): XmlEvent[] {
    const events = this.take(() => this.decoder.end());
    this.parser.close();
    return [...events, ...this.take(() => "")];
  }

  private take(decode: () => string): XmlEvent[] {
    try {
      const text = decode();
      this.waiting += text.length;
      this.parser.write(text);
    } catch (error) {
      if (!(error instanceof UndecodableBytes)) throw error;
      this.parser.write(error.before);
      this.fail(error.reason);
    }
    if (this.waiting > this.limits.length) {
      this.fail(`a tag, text or comment of more than ${this.limits.length} characters`);
    }
    const events = this.events;
    this.events = [];
    return events;
  }

  private fail(reason: string): never {
    throw new UnreadableXml(this.parser.line, Math.max(this.parser.column, 1), reason);
  }
}

const doctypeRefused =
  "a document type declaration, which is never read: no entity of it is looked up. Save the file without it";
