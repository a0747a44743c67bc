/** A line as bytes, without its end. */
export interface RawLine {
  no: number;
  bytes: Buffer;
  /** Bytes from the beginning of the source up to the line, and behind its end. */
  start: number;
  end: number;
  /** It is longer than any line may be, and `bytes` is only how it begins. */
  tooLong: boolean;
}

export interface SplitState {
  offset: number;
  line: number;
  afterCr: boolean;
}

export const longestLine = 1024 * 1024;
const keptOfTooLong = 1000;
const lf = 0x0a;
const cr = 0x0d;

/**
 * Cuts bytes into lines at LF, CR LF or CR, wherever the pieces are cut that they come in. UTF-16 has two bytes to a unit.
 * Of a line beyond 1 MiB only the beginning is kept.
 */
export class LineSplitter {
  private held: Buffer[] = [];
  private heldLength = 0;
  private lineStart: number;
  private line: number;
  private afterCr: boolean;
  private odd: Buffer | undefined;

  constructor(
    private readonly unit: "byte" | "utf-16le" | "utf-16be",
    from: SplitState = { offset: 0, line: 0, afterCr: false },
  ) {
    this.lineStart = from.offset;
    this.line = from.line;
    this.afterCr = from.afterCr;
  }

  push(chunk: Buffer): RawLine[] {
    let bytes = chunk;
    if (this.odd) {
      bytes = Buffer.concat([this.odd, chunk]);
      this.odd = undefined;
    }
    const width = this.unit === "byte" ? 1 : 2;
    if (width === 2 && bytes.length % 2 === 1) {
      this.odd = bytes.subarray(bytes.length - 1);
      bytes = bytes.subarray(0, bytes.length - 1);
    }
    const lines: RawLine[] = [];
    let from = 0;
    for (let at = 0; at < bytes.length; at += width) {
      const code = this.unitAt(bytes, at);
      if (code !== lf && code !== cr) {
        this.afterCr = false;
        continue;
      }
      if (code === lf && this.afterCr) {
        // The second half of CR LF: the line was given out at the first.
        this.afterCr = false;
        this.lineStart += width;
        const last = lines.at(-1);
        if (last) last.end = this.lineStart;
        from = at + width;
        continue;
      }
      this.hold(bytes.subarray(from, at));
      lines.push(this.take(width));
      this.afterCr = code === cr;
      from = at + width;
    }
    this.hold(bytes.subarray(from));
    return lines;
  }

  /** What stands behind the last end of a line, if anything does. */
  end(): RawLine[] {
    const odd = this.odd ? [this.odd] : [];
    if (this.heldLength === 0 && odd.length === 0) return [];
    for (const part of odd) this.hold(part);
    this.odd = undefined;
    return [this.take(0)];
  }

  /** Where the next line begins, and its number less 1. */
  state(): SplitState {
    return { offset: this.lineStart, line: this.line, afterCr: this.afterCr && this.heldLength === 0 };
  }

  private unitAt(bytes: Buffer, at: number): number {
    if (this.unit === "byte") return bytes[at]!;
    return this.unit === "utf-16le" ? bytes.readUInt16LE(at) : bytes.readUInt16BE(at);
  }

  private hold(bytes: Buffer): void {
    if (bytes.length === 0) return;
    this.heldLength += bytes.length;
    if (this.heldLength <= longestLine) this.held.push(bytes);
    else if (this.held.length > 0) this.held = [Buffer.concat(this.held).subarray(0, keptOfTooLong)];
    else this.held = [Buffer.from(bytes.subarray(0, keptOfTooLong))];
  }

  private take(endWidth: number): RawLine {
    const [only] = this.held;
    const bytes = this.held.length === 1 ? only! : Buffer.concat(this.held);
    const start = this.lineStart;
    this.line += 1;
    this.lineStart += this.heldLength + endWidth;
    const tooLong = this.heldLength > longestLine;
    this.held = [];
    this.heldLength = 0;
    return { no: this.line, bytes, start, end: this.lineStart, tooLong };
  }
}
