import { isAscii, isUtf8 } from "node:buffer";
import type { Layout } from "./layout.js";
import { UnreadableSource } from "./source-record.js";
import { LineSplitter, longestLine, type RawLine, type SplitState } from "./split-lines.js";

/** A line as text. */
export interface Line {
  no: number;
  text: string;
  start: number;
  end: number;
  /** Why it can't be read. */
  fault?: string;
  /** Control characters were left out. */
  dropped: boolean;
}

type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

export interface DecodeState extends SplitState {
  encoding: Encoding | undefined;
}

const sniffLength = 4096;
const windows1252 = new TextDecoder("windows-1252");
const utf16le = new TextDecoder("utf-16le", { fatal: true });
const utf16be = new TextDecoder("utf-16be", { fatal: true });

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const controls = /[\u0000-\u0008\u000e-\u001f\u007f]/;
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is left out
const allControls = /[\u0000-\u0008\u000e-\u001f\u007f]/g;

const signatures: [bytes: number[], what: string][] = [
  [[0x50, 0x4b, 0x03, 0x04], "an archive or a workbook of a spreadsheet: export the sheet as text (CSV)"],
  [[0x1f, 0x8b], "a compressed file: unpack it first"],
  [[0xd0, 0xcf, 0x11, 0xe0], "a workbook or document: export it as text (CSV)"],
  [[0x25, 0x50, 0x44, 0x46], "a PDF document: have the measuring program write text or a table"],
  [[0x89, 0x50, 0x4e, 0x47], "a picture"],
  [[0xff, 0xd8, 0xff], "a picture"],
];

/** Turns bytes into lines of text; memory is bounded by the longest line. */
export class LineDecoder {
  private splitter: LineSplitter | undefined;
  private encoding: Encoding | undefined;
  private begin: Buffer[] = [];
  private beginLength = 0;

  constructor(
    private readonly layout: Pick<Layout, "encoding" | "control_characters">,
    from?: DecodeState,
  ) {
    if (!from || from.offset === 0) return;
    this.encoding = from.encoding;
    this.splitter = new LineSplitter(splitUnit(from.encoding), from);
  }

  push(chunk: Buffer): Line[] {
    if (this.splitter) return this.splitter.push(chunk).map((raw) => this.decode(raw));
    this.begin.push(chunk);
    this.beginLength += chunk.length;
    return this.beginLength < sniffLength ? [] : this.start();
  }

  /** There is nothing more for now: what stands in whole lines is sure. */
  pause(): Line[] {
    const isStarted = this.splitter !== undefined;
    return isStarted || !this.begin.some((part) => part.includes(0x0a) || part.includes(0x0d))
      ? []
      : this.start();
  }

  end(): Line[] {
    const lines = this.splitter ? [] : this.start();
    return [...lines, ...this.splitter!.end().map((raw) => this.decode(raw))];
  }

  state(): DecodeState {
    const split = this.splitter?.state() ?? { offset: 0, line: 0, afterCr: false };
    return { ...split, encoding: this.encoding };
  }

  /** Looks at how the source begins, once. */
  private start(): Line[] {
    const head = Buffer.concat(this.begin);
    this.begin = [];
    const mark = markOf(head);
    const declared = this.layout.encoding;
    this.encoding = mark?.encoding ?? (declared === "detect" ? unmarkedUtf16(head) : declared);
    const width = mark?.length ?? 0;
    this.refuseBinary(head.subarray(width, sniffLength));
    this.splitter = new LineSplitter(splitUnit(this.encoding), { offset: width, line: 0, afterCr: false });
    return this.splitter.push(head.subarray(width)).map((raw) => this.decode(raw));
  }

  private refuseBinary(head: Buffer): void {
    const known = signatures.find(([bytes]) => bytes.every((byte, i) => head[i] === byte));
    if (known) throw new UnreadableSource(1, `This is no text but ${known[1]}.`);
    const text = head.toString("latin1").replaceAll("\0", "").trimStart();
    if (/^<(\?xml|!DOCTYPE|[A-Za-z][\w:.-]*[\s>/])/.test(text)) {
      throw new UnreadableSource(
        1,
        /<!DOCTYPE/i.test(text)
          ? "This is XML with a document type declaration, which is never read: no entity of it is looked up."
          : "This is XML, which is no text log and no table.",
      );
    }
    if (this.encoding === "utf-16le" || this.encoding === "utf-16be" || head.length < 32) return;
    let strange = 0;
    for (const byte of head) {
      const isUsual = byte >= 0x20 || (byte >= 0x09 && byte <= 0x0d);
      if (!isUsual || byte === 0x7f) strange += 1;
    }
    const allowed = this.layout.control_characters === "drop" ? 0.4 : 0.1;
    if (strange / head.length > allowed) {
      throw new UnreadableSource(
        1,
        `This is no text: ${strange} of its first ${head.length} bytes are control characters.` +
          (allowed > 0.1
            ? ""
            : ' If a cable or a punch left them there, let the layout drop them (control_characters "drop").'),
      );
    }
  }

  private decode(raw: RawLine): Line {
    const { no, start, end, bytes, tooLong } = raw;
    if (tooLong) {
      const text = bytes.subarray(0, 200).toString("latin1").replace(allControls, "");
      const fault = `is longer than ${longestLine} bytes, which no line of a log is`;
      return { no, start, end, text, fault, dropped: false };
    }
    const decoded = this.toText(bytes);
    if (typeof decoded !== "string") {
      const text = windows1252.decode(bytes).replace(allControls, "");
      return { no, start, end, text, fault: decoded.fault, dropped: false };
    }
    const text = decoded.includes("\f") ? decoded.replaceAll("\f", " ").replaceAll("\v", " ") : decoded;
    if (!controls.test(text)) return { no, start, end, text, dropped: false };
    const without = text.replace(allControls, "");
    if (this.layout.control_characters === "drop") return { no, start, end, text: without, dropped: true };
    const fault =
      'holds NUL or another control character: let the layout drop them (control_characters "drop") if a cable left them there';
    return { no, start, end, text: without, fault, dropped: false };
  }

  private toText(bytes: Buffer): string | { fault: string } {
    if (this.encoding === "utf-16le" || this.encoding === "utf-16be") {
      try {
        return (this.encoding === "utf-16le" ? utf16le : utf16be).decode(bytes);
      } catch {
        return { fault: "is no UTF-16: a unit is cut in half" };
      }
    }
    if (isAscii(bytes)) return bytes.toString("latin1");
    // The first line with an accented letter decides for the whole source: half of it in each would be garbled.
    this.encoding ??= isUtf8(bytes) ? "utf-8" : "windows-1252";
    if (this.encoding === "windows-1252") return windows1252.decode(bytes);
    return isUtf8(bytes)
      ? bytes.toString("utf8")
      : { fault: "is no UTF-8: say in the layout which encoding it has" };
  }
}

function splitUnit(encoding: Encoding | undefined) {
  return encoding === "utf-16le" || encoding === "utf-16be" ? encoding : "byte";
}

function markOf(head: Buffer): { encoding: Encoding; length: number } | undefined {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return { encoding: "utf-8", length: 3 };
  if (head[0] === 0xff && head[1] === 0xfe) return { encoding: "utf-16le", length: 2 };
  if (head[0] === 0xfe && head[1] === 0xff) return { encoding: "utf-16be", length: 2 };
  return undefined;
}

/** Text in UTF-16 without a mark has a NUL in every other byte. */
function unmarkedUtf16(head: Buffer): Encoding | undefined {
  const pairs = head.length >> 1;
  if (pairs < 8) return undefined;
  let [even, odd] = [0, 0];
  for (let i = 0; i < 2 * pairs; i += 2) {
    if (head[i] === 0) even += 1;
    if (head[i + 1] === 0) odd += 1;
  }
  if (odd > 0.6 * pairs && even === 0) return "utf-16le";
  return even > 0.6 * pairs && odd === 0 ? "utf-16be" : undefined;
}
