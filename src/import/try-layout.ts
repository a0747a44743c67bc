import type { z } from "zod";
import { compileLayout } from "./compile-layout.js";
import { openReader } from "./formats.js";
import { createInterpreter } from "./interpret-record.js";
import type { Layout } from "./layout.js";
import { createQifRecords } from "./qif/qif-records.js";
import { readDefinitions } from "./qif/read-definitions.js";
import { readMeasurements } from "./qif/read-measurements.js";
import { type Found, shown, UnreadableSource } from "./source-record.js";
import { type SaidByFile, showSaid, showUnderstood, type UnderstoodReading } from "./wire.js";

export interface TriedLine {
  line: number;
  last_line: number;
  column: string | null;
  text: string;
  becomes: "reading" | "skipped" | "refused" | "not_measured";
  why: string | null;
  reading: z.infer<typeof UnderstoodReading> | null;
  said: z.infer<typeof SaidByFile> | null;
}

/** What a layout makes of a sample, line by line. */
export async function tryLayout(
  layout: Layout,
  sample: Buffer,
): Promise<{ lines: TriedLine[]; unreadable: string | null }> {
  const compiled = compileLayout(layout);
  const interpret = createInterpreter(compiled);
  const found: Found[] = [];
  let unreadable: string | null = null;
  try {
    if (layout.format === "qif") {
      const document = await readDefinitions(whole(sample));
      const toFound = createQifRecords(document, layout);
      for await (const values of readMeasurements(whole(sample), document))
        found.push(...values.map(toFound));
    } else {
      const reader = openReader(compiled);
      found.push(...reader.read(sample));
      found.push(...reader.end());
    }
  } catch (error) {
    if (!(error instanceof UnreadableSource)) throw error;
    unreadable = error.reason;
  }
  return { lines: found.map((item) => tried(item, interpret)), unreadable };
}

async function* whole(sample: Buffer): AsyncGenerator<Buffer> {
  yield sample;
}

function tried(item: Found, interpret: ReturnType<typeof createInterpreter>): TriedLine {
  const line = {
    line: item.line,
    last_line: item.kind === "skipped" ? item.line : item.lastLine,
    column: item.kind === "record" || item.kind === "unmeasured" ? (item.column ?? null) : null,
    text: shown(item.text),
    reading: null,
    said: null,
  };
  if (item.kind === "skipped") return { ...line, becomes: "skipped", why: item.why };
  if (item.kind === "unreadable") return { ...line, becomes: "refused", why: item.reason };
  if (item.kind === "unmeasured") return { ...line, becomes: "not_measured", why: item.reason };
  const read = interpret(item);
  if (read.kind === "refused") return { ...line, becomes: "refused", why: read.reason };
  if (read.kind === "unmeasured") return { ...line, becomes: "not_measured", why: read.reason };
  return {
    ...line,
    becomes: "reading",
    why: null,
    reading: showUnderstood(read.reading),
    said: showSaid(read.said),
  };
}
