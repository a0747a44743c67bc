import { compileLayout } from "../../src/import/compile-layout.js";
import { openReader } from "../../src/import/formats.js";
import { createInterpreter, type Interpreted } from "../../src/import/interpret-record.js";
import type { Layout } from "../../src/import/layout.js";
import type { Found, SourceRecord } from "../../src/import/source-record.js";

export interface ReadFile {
  found: Found[];
  readings: (Extract<Interpreted, { kind: "reading" }> & { record: SourceRecord })[];
  refused: { line: number; reason: string }[];
  unmeasured: { line: number; reason: string }[];
}

/** Reads a source in the pieces given, as an import does. */
export function readAll(layout: Layout, pieces: readonly Buffer[]): ReadFile {
  const compiled = compileLayout(layout);
  if (compiled.faults.length > 0) throw new Error(JSON.stringify(compiled.faults));
  const reader = openReader(compiled);
  return interpretAll(layout, [...pieces.flatMap((piece) => reader.read(piece)), ...reader.end()]);
}

function interpretAll(layout: Layout, found: Found[]): ReadFile {
  const interpret = createInterpreter(compileLayout(layout));
  const file: ReadFile = { found, readings: [], refused: [], unmeasured: [] };
  for (const item of found) {
    if (item.kind === "unreadable") file.refused.push({ line: item.line, reason: item.reason });
    else if (item.kind === "unmeasured") file.unmeasured.push({ line: item.line, reason: item.reason });
    else if (item.kind === "record") {
      const read = interpret(item);
      if (read.kind === "reading") file.readings.push({ ...read, record: item });
      else
        file[read.kind === "refused" ? "refused" : "unmeasured"].push({
          line: item.line,
          reason: read.reason,
        });
    }
  }
  return file;
}
