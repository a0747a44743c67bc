import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import type { Client, NextStep } from "./client.js";
import type { Shift } from "./shift.js";
import type { Teller } from "./tell.js";

/** What this program reads of an import's answer. */
interface ImportAnswer {
  accepted: number;
  duplicates: number;
  not_measured: number;
  results_differ: number;
  refused: { line: number; text: string; reason: string }[];
  verdicts: Record<string, number>;
  next: NextStep;
}

const batch = "M-74";

/** How the probe of mill 1 prints: told once, then every file of it is read so. */
const probePrint = {
  name: "probe of mill 1",
  format: "text",
  unit: "mm",
  rules: [
    { kind: "skip", pattern: "^(%|END|\\()" },
    { kind: "context", pattern: "^PROGRAM \\S+ +BATCH (?P<batch>\\S+)" },
    { kind: "context", pattern: "^PIECE (?P<piece>\\d+)" },
    { kind: "not_measured", pattern: "NO TRIGGER" },
    { kind: "record", pattern: "^ *\\d+ +F(?P<characteristic>\\d+) +(?P<value>\\S+)$" },
  ],
};

const roomTable = {
  name: "table of the measuring room",
  format: "table",
  decimal_sign: ",",
  translate: { result: { OK: "pass", NOK: "fail" } },
  table: {
    separator: ";",
    columns: { piece: "Piece", characteristic: "Characteristic", value: "Actual [mm]", result: "Result" },
  },
};

/** Takes a probe's log and a measuring room's table in, the log twice. */
export async function readFiles(client: Client, shift: Shift, tell: Teller): Promise<void> {
  const { part, machines } = shift.shop;
  const place = { part_id: part.part_id, machine_id: machines.mill.machine_id, operation: "20" };
  await client.post("/v1/batches", { name: batch, quantity: 10, ...place });
  for (const layout of [probePrint, roomTable]) await client.post("/v1/log-layouts", layout);

  const log = await takeIn(client, tell, "run-log.txt", probePrint.name, { gauge: "probe of mill 1" });
  shift.holds(log.accepted === 7, `seven lines of the log have to be read, ${log.accepted} were`);
  shift.holds(log.refused.length === 1, "the line with a comma has to be refused, not guessed");
  const again = await takeIn(client, tell, "run-log.txt", probePrint.name, { gauge: "probe of mill 1" });
  shift.holds(again.accepted === 0 && again.duplicates === 7, "the same log again may bring nothing new");

  const room = await takeIn(client, tell, "measuring-room.csv", roomTable.name, {
    gauge: "coordinate machine",
  });
  shift.holds(room.results_differ === 1, "the measuring room's OK above the limit has to be noticed");
  tell.say("One size that the table calls OK is outside its limits: both are kept, side by side.");
  tell.say(room.next.why);
}

async function takeIn(
  client: Client,
  tell: Teller,
  file: string,
  layout: string,
  more: Record<string, string>,
): Promise<ImportAnswer> {
  const text = await readFile(fileURLToPath(new URL(file, import.meta.url)), "utf8");
  const query = new URLSearchParams({ layout, batch, ...more });
  const answer = await client.upload<ImportAnswer>(`/v1/readings/imports?${query}`, text);
  const { accepted, duplicates, not_measured, verdicts, refused } = answer;
  tell.mark(
    "file",
    `${file}: ${accepted} readings taken, ${duplicates} known already, ${not_measured} not measured, ${refused.length} ` +
      `refused; of those taken ${verdicts.conforming ?? 0} conform and ${verdicts.nonconforming ?? 0} do not`,
  );
  for (const { line, text, reason } of refused) tell.say(`Line ${line}, "${text.trim()}": ${reason}`);
  return answer;
}
