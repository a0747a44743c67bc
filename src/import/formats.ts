import type { CompiledLayout } from "./compile-layout.js";
import { DmisParser } from "./dmis/read-dmis.js";
import type { Layout } from "./layout.js";
import { readMeasurements } from "./mtconnect/read-measurements.js";
import { readKeptMeasurement } from "./qif/qif-records.js";
import { GaugeLineParser } from "./read-gauge-lines.js";
import { JsonLineParser } from "./read-json-lines.js";
import { readLines } from "./read-lines.js";
import { TableParser } from "./read-table.js";
import { TextLogParser } from "./read-text-log.js";
import type { Checkpoint, RecordReader } from "./source-record.js";

type Format = (compiled: CompiledLayout, from: Checkpoint | undefined) => RecordReader;

/** Every format that can be read. A new one is a reader and a line here. */
const formats: Record<Layout["format"], Format> = {
  text: (compiled, from) => readLines(compiled.layout, (state) => new TextLogParser(compiled, state), from),
  table: (compiled, from) => readLines(compiled.layout, (state) => new TableParser(compiled, state), from),
  json_lines: (compiled, from) => readLines(compiled.layout, () => new JsonLineParser(compiled), from),
  gauge_lines: (compiled, from) => readLines(compiled.layout, () => new GaugeLineParser(compiled), from),
  dmis: (compiled, from) => readLines(compiled.layout, (state) => new DmisParser(compiled, state), from),
  mtconnect: (_compiled, from) => readMeasurements(from),
  // The document itself is read twice, so not from here: what its values are of stands behind some of them.
  qif: (compiled, from) => readKeptMeasurement(from, compiled.layout),
};

/** A reader of what a layout describes, from the beginning or from where another one has stopped. */
export function openReader(compiled: CompiledLayout, from?: Checkpoint): RecordReader {
  return formats[compiled.layout.format](compiled, from);
}
