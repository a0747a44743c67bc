import { readFile } from "node:fs/promises";
import type { NextStep } from "./client.js";
import type { Shift } from "./shift.js";
import type { Teller } from "./tell.js";

/** What this program reads of an import's answer. */
interface ImportAnswer {
  import_id: string;
  accepted: number;
  results_differ: number;
  refused: { reason: string }[];
  next: NextStep;
}

/** What this program reads of a proposed part. */
interface Proposal {
  proposal_id: string;
  features: { characteristic: string }[];
  known_part: {
    number: string;
    revision: string;
    differs: { characteristic: string; what: string }[];
  } | null;
}

const batch = "M-75";
const layout = {
  name: "results of the measuring room",
  format: "qif",
  piece_from: "serial",
  translate: { gauge: { "CMM 2": "coordinate machine" } },
};

/** Takes a results document in that forgot its unit, and sends one out that comes back as the part that it is of. */
export async function exchangeResults(shift: Shift, tell: Teller): Promise<void> {
  const { client } = shift;
  const { part, machines } = shift.shop;
  const place = { part_id: part.part_id, machine_id: machines.mill.machine_id, operation: "20" };
  const { batch_id } = await client.post<{ batch_id: string }>("/v1/batches", {
    name: batch,
    quantity: 10,
    ...place,
  });
  const { layout_id } = await client.post<{ layout_id: string }>("/v1/log-layouts", layout);
  const document = await readFile(new URL("room-results.qif", import.meta.url), "utf8");

  const asked = await client.upload<ImportAnswer>(
    `/v1/readings/imports?layout_id=${layout_id}&batch_id=${batch_id}`,
    document,
  );
  shift.holds(
    asked.accepted === 0 && asked.refused.length === 4,
    "sizes without a unit have to be asked about, not guessed",
  );
  tell.mark("file", `room-results.qif: 4 sizes, and none is taken: ${asked.refused[0]?.reason}`);
  await client.put(`/v1/log-layouts/${layout_id}`, { ...layout, unit: "mm" });
  const taken = await client.post<ImportAnswer>(`/v1/imports/${asked.import_id}/retry`, {});
  shift.holds(
    taken.accepted === 4,
    `four sizes have to be read once their unit is known, ${taken.accepted} were`,
  );
  tell.say(
    `Millimetres, says the measuring room: ${taken.accepted} readings are taken now. ${taken.next.why}`,
  );

  const results = await client.download(`/v1/batches/${batch_id}/report?format=qif`);
  const proposal = await client.upload<Proposal>("/v1/part-proposals?source=our%20own%20results", results);
  shift.holds(proposal.known_part?.number === part.number, "our own document has to be known as of our part");
  tell.mark(
    "file",
    `The results of ${batch} go out as a document of the same standard (${results.length} characters). Sent back, it is known as of part ` +
      `${proposal.known_part?.number} revision ${proposal.known_part?.revision} by its number; a document of a part that nobody has entered would propose ` +
      "it with its features, for a person to accept.",
  );
}
