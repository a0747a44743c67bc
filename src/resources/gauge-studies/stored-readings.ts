import { quantityOf } from "../../core/feature-kind.js";
import { fromNumeric } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { type FieldError, problemAt } from "../../http/problem.js";
import { listStoredReadings } from "./queries.js";
import type { GaugeStudyCreate } from "./schemas.js";

type Gauge = { gauge_id: string; name: string; unit: "mm" | "inch" | "deg" };

/** A reading that a study takes from a batch. */
export interface StudiedReading {
  pm: number;
  /** Piece and feature, so that two pieces are two parts. */
  part: string;
  operator: string | null;
}

/**
 * Readings that a study names by their ids, as they were kept.
 * @throws {ProblemError} `unprocessable` with a pointer for each that there is not, or that does not belong in the study
 */
export async function resolveStored(
  db: Db,
  gauge: Gauge,
  { readings }: Pick<GaugeStudyCreate, "readings">,
): Promise<Map<string, StudiedReading>> {
  const ids = readings.flatMap(({ reading_id }) => reading_id ?? []);
  if (ids.length === 0) return new Map();
  const rows = await listStoredReadings(db, ids);
  const found = new Map(rows.map((row) => [`${row.batch_id}-${row.reading_no}`, row]));
  const errors = readings.flatMap(({ reading_id }, i): FieldError[] => {
    if (reading_id === undefined) return [];
    const detail = refuse(gauge, found.get(reading_id), reading_id);
    return detail === undefined ? [] : [{ pointer: `/readings/${i}/reading_id`, detail }];
  });
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  return new Map(
    rows.map((row) => [
      `${row.batch_id}-${row.reading_no}`,
      {
        pm: fromNumeric(row.value_mm!),
        part: [`batch ${row.batch}`, `piece ${row.piece}`, `cut ${row.cut}`, row.characteristic, row.place]
          .filter((text) => text !== null)
          .join(", "),
        operator: row.taken_by,
      },
    ]),
  );
}

type Row = Awaited<ReturnType<typeof listStoredReadings>>[number];

function refuse(gauge: Gauge, row: Row | undefined, id: string): string | undefined {
  if (!row) return `there is no reading ${id}: GET /v1/readings?gauge_id=${gauge.gauge_id} lists them`;
  if (row.gauge_id !== gauge.gauge_id) return `reading ${id} was not taken with ${gauge.name}`;
  if (row.voided_at !== null) return `reading ${id} is voided`;
  const quantity = quantityOf(row.kind);
  if (quantity !== "length" && quantity !== "angle")
    return `feature ${row.characteristic} has no size: a study rests on sizes`;
  if (row.value_mm === null) return `reading ${id} gave no number`;
  if (row.piece_within !== null)
    return `nobody knows which piece reading ${id} was taken of: a study has to know its parts`;
  return undefined;
}
