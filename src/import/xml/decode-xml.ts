import { isAscii, isUtf8 } from "node:buffer";

/** Why bytes are no text, with what could still be read of them. */
export class UndecodableBytes extends Error {
  constructor(
    readonly before: string,
    readonly reason: string,
  ) {
    super(reason);
  }
}

type Decode = (bytes: Buffer, isLast: boolean) => string;

const declaration = /^<\?xml\s[^>]*?encoding\s*=\s*["']([A-Za-z][\w.-]*)["']/;
const enoughForDeclaration = 512;

/**
 * Turns the bytes of an XML document into text: by its byte-order mark, else by its declaration, else as UTF-8
 * (XML 1.0, 5th edition, appendix F). What is not text in that encoding is refused, never replaced.
 */
export class XmlDecoder {
  private decode: Decode | undefined;
  private head: Buffer = Buffer.alloc(0);

  /** @throws {UndecodableBytes} */
  push(bytes: Buffer): string {
    if (this.decode) return this.decode(bytes, false);
    this.head = Buffer.concat([this.head, bytes]);
    const isDeclared = this.head.subarray(0, enoughForDeclaration).includes("?>");
    return isDeclared || this.head.length >= enoughForDeclaration ? this.start(false) : "";
  }

  /** @throws {UndecodableBytes} */
  end(): string {
    return this.decode ? this.decode(Buffer.alloc(0), true) : this.start(true);
  }

  private start(isLast: boolean): string {
    const head = this.head;
    this.head = Buffer.alloc(0);
    const [decode, mark] = choose(head);
    this.decode = decode;
    return decode(head.subarray(mark), isLast);
  }
}

function choose(head: Buffer): [decode: Decode, markLength: number] {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return [utf8(), 3];
  if (head[0] === 0xff && head[1] === 0xfe) return [utf16("utf-16le"), 2];
  if (head[0] === 0xfe && head[1] === 0xff) return [utf16("utf-16be"), 2];
  if (head[0] === 0x3c && head[1] === 0) return [utf16("utf-16le"), 0];
  if (head[0] === 0 && head[1] === 0x3c) return [utf16("utf-16be"), 0];
  const name = declaration.exec(head.subarray(0, enoughForDeclaration).toString("latin1"))?.[1];
  switch (name?.toLowerCase()) {
    case undefined:
    case "utf-8":
    case "utf8":
      return [utf8(), 0];
    case "us-ascii":
    case "ascii":
      return [ascii, 0];
    case "iso-8859-1":
    case "latin1":
      return [(bytes) => bytes.toString("latin1"), 0];
    case "windows-1252":
    case "cp1252": {
      const decoder = new TextDecoder("windows-1252");
      return [(bytes) => decoder.decode(bytes, { stream: true }), 0];
    }
    default:
      throw new UndecodableBytes(
        "",
        `the document says that it is written in ${name}, which is not read: save it as UTF-8`,
      );
  }
}

function ascii(bytes: Buffer): string {
  if (isAscii(bytes)) return bytes.toString("latin1");
  const at = bytes.findIndex((byte) => byte > 0x7f);
  throw new UndecodableBytes(
    bytes.subarray(0, at).toString("latin1"),
    "the document says that it is plain ASCII, and this byte is not",
  );
}

function utf8(): Decode {
  let carry: Buffer = Buffer.alloc(0);
  return (chunk, isLast) => {
    const bytes = carry.length > 0 ? Buffer.concat([carry, chunk]) : chunk;
    const whole = isLast ? bytes.length : wholeUtf8(bytes);
    const text = bytes.subarray(0, whole);
    carry = Buffer.from(bytes.subarray(whole));
    if (isAscii(text)) return text.toString("latin1");
    if (isUtf8(text)) return text.toString("utf8");
    const decoded = text.toString("utf8");
    const at = decoded.indexOf("\ufffd");
    throw new UndecodableBytes(
      decoded.slice(0, at),
      "these bytes are not UTF-8, which the document is to be",
    );
  };
}

/** How many bytes come before a character that is cut off at the end. */
function wholeUtf8(bytes: Buffer): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back += 1) {
    const byte = bytes[bytes.length - back]!;
    if (byte < 0x80) return bytes.length;
    if (byte < 0xc0) continue;
    const length = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
    return length > back ? bytes.length - back : bytes.length;
  }
  return bytes.length;
}

function utf16(encoding: "utf-16le" | "utf-16be"): Decode {
  const decoder = new TextDecoder(encoding, { fatal: true });
  return (bytes, isLast) => {
    try {
      return decoder.decode(bytes, { stream: !isLast });
    } catch {
      throw new UndecodableBytes("", "these bytes are not UTF-16, as which the document begins");
    }
  };
}
