import { type DecodeState, type Line, LineDecoder } from "./decode-lines.js";
import type { Layout } from "./layout.js";
import { type Checkpoint, type Found, type RecordReader, shown } from "./source-record.js";

/** What makes records of lines; the part in which formats of lines differ. */
export interface LineParser {
  take(lines: readonly Line[]): Found[];
  end(): Found[];
  /** The first line that is waiting for others, and the state before it; undefined: none is. */
  waiting(): { line: Line; state: unknown } | undefined;
  state(): unknown;
}

interface LineState {
  decode: DecodeState;
  parser: unknown;
}

/** A reader of a format whose records are lines of text. */
export function readLines(
  layout: Layout,
  create: (state: unknown) => LineParser,
  from: Checkpoint | undefined,
): RecordReader {
  const before = from?.state as LineState | undefined;
  const decoder = new LineDecoder(layout, before?.decode);
  const parser = create(before?.parser);
  const take = (lines: Line[]): Found[] => {
    const first = lines.findIndex(({ no }) => no > layout.skip_lines);
    if (first === 0) return parser.take(lines);
    const before = first < 0 ? lines : lines.slice(0, first);
    const skipped = before.map(({ no, text }): Found => {
      return {
        kind: "skipped",
        line: no,
        text: shown(text),
        why: "is one of the first lines, which the layout skips",
      };
    });
    return first < 0 ? skipped : [...skipped, ...parser.take(lines.slice(first))];
  };
  return {
    read: (bytes) => take(decoder.push(bytes)),
    pause: () => take(decoder.pause()),
    end: () => [...take(decoder.end()), ...parser.end()],
    checkpoint() {
      const decode = decoder.state();
      const waiting = parser.waiting();
      if (!waiting) return { offset: decode.offset, state: { decode, parser: parser.state() } };
      const { line, state } = waiting;
      return {
        offset: line.start,
        state: {
          decode: { ...decode, offset: line.start, line: line.no - 1, afterCr: false },
          parser: state,
        },
      };
    },
  };
}

/** The place before a single record, for reading it again by itself. */
export function checkpointBefore(line: number, parser: unknown): Checkpoint {
  const decode: DecodeState = { offset: 1, line: line - 1, afterCr: false, encoding: "utf-8" };
  return { offset: 1, state: { decode, parser } };
}
