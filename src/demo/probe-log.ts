import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";

/** One line of the log that the probe of the mill writes: a size, and what the wear registers held when it was cut. */
export interface LogLine {
  line: string;
  piece: number;
  characteristic: string;
  value: string;
  unit: string;
  offsets: { register_number: number; value: string }[];
}

export const probeLog = "probe-log.txt";
const registers = [7, 57];

/** The log as it stands in the file, and what its lines say. */
export async function readProbeLog(): Promise<{ rows: string[]; lines: LogLine[] }> {
  const text = await readFile(fileURLToPath(new URL(probeLog, import.meta.url)), "utf8");
  const rows = text.trimEnd().split("\n");
  return { rows, lines: rows.filter((row) => /^\d/.test(row)).map(readLine) };
}

function readLine(row: string): LogLine {
  const [line = "", piece, characteristic = "", value = "", unit = "", ...held] = row.trim().split(/ +/);
  const offsets = registers.map((register_number, i) => ({ register_number, value: held[i] ?? "" }));
  return { line, piece: Number(piece), characteristic, value, unit, offsets };
}
