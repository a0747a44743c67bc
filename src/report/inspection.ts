import {
  type Block,
  type Cell,
  type Column,
  left,
  type Printed,
  right,
  sayInstant,
  table,
} from "./blocks.js";
import {
  type Characteristic,
  type Range,
  type Report,
  type ReportCapability,
  type ReportEnd,
  type ReportHead,
  type ReportPiece,
  type ReportResult,
  Tally,
} from "./report.js";

/** Characteristics side by side in one table of results. */
const columnsPerTable = 10;
/** Measured pieces in one table: as many as a printed page holds. */
const piecesPerTable = 34;
/** Pieces, measured or not, that one table and its notes speak of at most. */
const mostWaiting = 1000;

/** An inspection report, ready to be printed. */
export function printReport(report: Report): Printed {
  const { part, batch, ...head } = report.head;
  const title = `Inspection report ${part.number} revision ${part.revision}, batch ${batch.name}`;
  return { title, madeAt: head.made_at, blocks: layOut(report) };
}

async function* layOut({ head, bands, pictures }: Report): AsyncGenerator<Block> {
  // Gone through twice: who reads a report wants to know the outcome first.
  const tally = new Tally();
  for await (const pieces of bands()) for (const piece of pieces) tally.take(piece);
  yield* layOutHead(head, tally.end());
  yield* layOutCapability(head.capability, pictures);
  const columns = resultColumns(head.characteristics);
  yield { kind: "heading", text: "Results" };
  yield {
    kind: "paragraph",
    text: `As measured, in ${head.part.unit} unless the column says otherwise, at 20 °C where temperatures were given. N: nonconforming. U: uncertain. A piece without a row, or an empty cell, was not measured; what proves it instead stands below the table. [ ]: more readings than one, see there.`,
  };
  let waiting: ReportPiece[] = [];
  let measured = 0;
  for await (const pieces of bands()) {
    for (const piece of pieces) {
      waiting.push(piece);
      if (piece.results.length > 0) measured += 1;
      if (measured < piecesPerTable && waiting.length < mostWaiting) continue;
      yield* layOutPieces(waiting, columns);
      waiting = [];
      measured = 0;
    }
  }
  if (waiting.length > 0) yield* layOutPieces(waiting, columns);
  yield { kind: "signatures", roles: ["Measured by", "Inspected by", "Released by"] };
}

function* layOutCapability(
  rows: readonly ReportCapability[],
  pictures: Report["pictures"],
): Generator<Block> {
  if (rows.length === 0) return;
  yield { kind: "heading", text: "Capability and performance" };
  yield {
    kind: "paragraph",
    text: "Words of ISO 22514-2; in brackets confidence limits at 95 %, two-sided. Cpk: spread from piece to piece, between corrections. Ppk: of all first cuts together. Ppk shipped: of the pieces as they left the machine. Indices carry no more decimals than the number of readings bears; they hold for normal readings of a process that stays as it is.",
  };
  const formed = rows.filter(({ ppk }) => ppk !== null);
  const few = rows.filter(({ ppk }) => ppk === null);
  if (formed.length > 0)
    yield table(
      [
        left("No.", 6),
        left("Place", 8),
        right("Pieces", 6),
        left("Cpk", 14),
        left("Ppk", 14),
        left("Ppk shipped", 14),
        left("In words", 38),
      ],
      formed.map(({ characteristic, place, pieces, cpk, ppk, shipped_ppk, says }) => [
        characteristic,
        place ?? "",
        String(pieces),
        ...[cpk, ppk, shipped_ppk].map((index) =>
          index === null ? "none" : `${index.value} (${index.low} to ${index.high})`,
        ),
        says,
      ]),
    );
  if (few.length > 0) {
    const told = [...new Set(few.map(({ pieces }) => pieces))].map((pieces) => {
      const names = few
        .filter((row) => row.pieces === pieces)
        .map(({ characteristic, place }) => (place === null ? characteristic : `${characteristic} ${place}`));
      return `${names.join(", ")} (${pieces} ${pieces === 1 ? "piece" : "pieces"} read)`;
    });
    yield {
      kind: "paragraph",
      text: `No index: ${told.join("; ")}. From 10 pieces that are not all alike there is one with its limits, from 50 on two decimals mean something.`,
    };
  }
  for (let i = 0; i < pictures.length; i += 2) yield { kind: "pictures", pictures: pictures.slice(i, i + 2) };
}

function* layOutHead(head: ReportHead, outcome: ReportEnd): Generator<Block> {
  const { batch, part } = head;
  yield {
    kind: "title",
    text: `Inspection report: ${part.number} revision ${part.revision}`,
    below: part.name ?? "",
  };
  yield {
    kind: "facts",
    items: [
      ["Batch", batch.name],
      ["Operation", batch.operation ?? "not given"],
      ["Machine", batch.machine],
      ["Material", part.material ?? "not given"],
      [
        "Pieces",
        batch.quantity === null ? `${batch.pieces_cut} cut` : `${batch.pieces_cut} cut of ${batch.quantity}`,
      ],
      ["Begun", sayInstant(batch.begun_at)],
      [
        "Closed",
        batch.closed_at === null
          ? "no: the batch is open, and this report is preliminary"
          : `${sayInstant(batch.closed_at)}${batch.closed_by === null ? "" : ` by ${batch.closed_by}`}`,
      ],
      [
        "Readings",
        `${head.readings.counted}${head.readings.voided > 0 ? `, and ${head.readings.voided} voided` : ""}`,
      ],
      ["On hold", head.on_hold.length === 0 ? "nothing" : `pieces ${sayRanges(head.on_hold)}`],
      ["Report made", sayInstant(head.made_at)],
    ],
  };
  yield* layOutOutcome(outcome, head);
  yield { kind: "heading", text: "Decision rule" };
  for (const text of [...head.decision_rules, ...head.cautions]) yield { kind: "paragraph", text };
  yield { kind: "heading", text: "Characteristics" };
  yield table(
    [
      left("No.", 5),
      left("Name", 16),
      left("Requirement", 26),
      right("Lower limit", 9),
      right("Upper limit", 9),
      left("Unit", 5),
      left("Importance", 8),
    ],
    head.characteristics.map((one) => [
      one.characteristic,
      one.name ?? "",
      one.requirement,
      one.lower_limit ?? "",
      one.upper_limit ?? "",
      one.unit ?? "",
      one.importance,
    ]),
  );
  yield { kind: "heading", text: "Gauges" };
  yield table(
    [
      left("Gauge", 20),
      left("Kind", 12),
      right("Uncertainty U", 9),
      right("k", 4),
      left("Calibration due", 12),
      left("May prove a size", 8),
      right("Readings", 8),
      left("Last check on a standard", 22),
    ],
    head.gauges.map((gauge) => [
      gauge.name,
      gauge.kind.replaceAll("_", " "),
      gauge.expanded_uncertainty === null ? "not known" : `${gauge.expanded_uncertainty} ${gauge.unit}`,
      String(gauge.coverage_factor),
      sayDue(gauge),
      gauge.reference ? "yes" : "no",
      String(gauge.readings),
      gauge.checked_at === null
        ? "none before the last reading"
        : `${sayInstant(gauge.checked_at)}, error ${gauge.check_error} ${gauge.unit}`,
    ]),
  );
  yield { kind: "heading", text: "What was measured when" };
  for (const text of head.check_plan) yield { kind: "paragraph", text };
  yield* layOutHistory(head);
}

function* layOutHistory(head: ReportHead): Generator<Block> {
  yield { kind: "heading", text: "Offsets in the control" };
  if (head.registers.length === 0) yield { kind: "paragraph", text: "No offset moves these features." };
  else
    yield table(
      [
        left("Register", 14),
        left("Tool", 16),
        left("From piece", 8),
        right("Change", 8),
        right("Value", 8),
        left("Why", 24),
        left("By", 10),
        left("Entered", 14),
      ],
      head.registers.flatMap((register) => [
        [
          register.label,
          register.tool ?? "work offset",
          "start",
          "",
          `${register.at_start} ${register.unit}`,
          "",
          "",
          "",
        ],
        ...register.entries.map((entry) => [
          register.label,
          "",
          entry.from_cut === 1 ? String(entry.from_piece) : `${entry.from_piece}, cut ${entry.from_cut}`,
          entry.change,
          `${entry.value} ${register.unit}`,
          entry.reason ?? entry.origin.replaceAll("_", " "),
          entry.by ?? "",
          sayInstant(entry.at),
        ]),
      ]),
    );
  const events = [
    ...head.edges.map(
      (edge) =>
        [
          edge.from_piece,
          `${edge.tool}: edge ${edge.edge}, ${edge.reason.replaceAll("_", " ")}`,
          edge.by ?? "",
        ] as const,
    ),
    ...head.interruptions.map(
      (one) =>
        [
          one.from_piece,
          [one.kind.replaceAll("_", " "), one.note].filter(Boolean).join(": "),
          one.by ?? "",
        ] as const,
    ),
  ].sort((a, b) => a[0] - b[0]);
  if (events.length > 0) {
    yield { kind: "heading", text: "Edges and interruptions" };
    yield table(
      [left("From piece", 8), left("What", 40), left("By", 12)],
      events.map(([piece, what, by]) => [String(piece), what, by]),
    );
  }
  yield { kind: "heading", text: "Holds" };
  if (head.holds.length === 0) yield { kind: "paragraph", text: "No piece was on hold." };
  else {
    yield table(
      [left("Characteristic", 10), left("Pieces", 10), left("Why", 42), left("How it stands", 24)],
      head.holds.map((hold) => [
        [hold.characteristic, hold.place, hold.seat].filter((part) => part !== null).join(" "),
        sayRanges([hold]),
        hold.why,
        hold.state === "released"
          ? "released: every piece of it was measured good or is cleared by good pieces"
          : hold.state === "decided"
            ? "what readings did not release was decided, see below"
            : `open: pieces ${sayRanges(hold.open)}`,
      ]),
    );
  }
  if (head.decisions.length > 0) {
    yield { kind: "heading", text: "Decisions about pieces" };
    yield table(
      [
        left("Pieces", 8),
        left("Decision", 10),
        left("Authority", 22),
        left("Nonconformance", 12),
        left("Note", 22),
        left("By", 10),
        left("Decided", 14),
      ],
      head.decisions.map((one) => [
        sayRanges([one]),
        one.decision.replaceAll("_", " ") + (one.voided === null ? "" : ` (voided: ${one.voided})`),
        one.authority ?? "",
        one.nonconformance ?? "",
        one.note ?? "",
        one.by ?? "",
        sayInstant(one.decided_at),
      ]),
    );
  }
}

interface ResultColumn {
  of: number;
  place: string | null;
  column: Column;
}

function resultColumns(characteristics: readonly Characteristic[]): ResultColumn[] {
  return characteristics.flatMap(({ characteristic, name, places, lower_limit, upper_limit, unit }, of) =>
    (places ?? [null]).map((place) => ({
      of,
      place,
      column: {
        title: [
          place === null ? characteristic : `${characteristic} ${place}`,
          ...(name === null ? [] : [name]),
          [lower_limit ?? "", upper_limit ?? ""].filter(Boolean).join(" / ") +
            (unit === null || unit === "mm" || unit === "inch" ? "" : ` ${unit}`),
        ].filter((line) => line !== ""),
        width: 8,
        align: "right" as const,
      },
    })),
  );
}

/** Those of the pieces that were measured as tables side by side, and what has to be said about all of them. */
function* layOutPieces(pieces: readonly ReportPiece[], columns: readonly ResultColumn[]): Generator<Block> {
  const measured = pieces.flatMap((piece) => {
    const cells = deciding(piece);
    return cells.size > 0 ? [{ piece, cells }] : [];
  });
  for (let from = 0; from < columns.length && measured.length > 0; from += columnsPerTable) {
    const some = columns.slice(from, from + columnsPerTable);
    yield {
      kind: "table",
      dense: true,
      columns: [left("Piece", 7), left("Outcome", 9), ...some.map(({ column }) => column)],
      rows: measured.map(({ piece, cells }) => [
        { text: namePiece(piece) },
        { text: piece.disposition.replaceAll("_", " "), mark: outcomeMark(piece.disposition) },
        ...some.map(({ of, place }) => showCell(cells.get(cellKey(of, place)))),
      ]),
    };
  }
  const notes = notePieces(pieces);
  if (notes.length > 0) {
    yield table(
      [left("Piece", 8), left("Characteristic", 16), left("Note", 60)],
      notes.map(({ range, of, text }) => [sayRanges([range]), of, text]),
    );
  }
}

function outcomeMark(disposition: string): Cell["mark"] {
  if (disposition === "accept") return undefined;
  return ["scrap", "rework", "remeasure"].includes(disposition) ? "bad" : "unsure";
}

function namePiece({ piece, serials }: ReportPiece): string {
  return serials.length === 0 ? String(piece) : `${piece} (${serials.join(", ")})`;
}

function cellKey(of: number, place: string | null): string {
  return place === null ? String(of) : `${of} ${place}`;
}

/** Results by characteristic and place; `more`: there are other readings of the same thing. */
function deciding(piece: ReportPiece): Map<string, { result: ReportResult; more: boolean }> {
  const cells = new Map<string, { result: ReportResult; more: boolean }>();
  const counts = new Map<string, number>();
  for (const result of piece.results) {
    const key = cellKey(result.of, result.place);
    counts.set(key, (counts.get(key) ?? 0) + 1);
    if (result.decides) cells.set(key, { result, more: false });
  }
  for (const [key, cell] of cells) cell.more = counts.get(key)! > 1;
  return cells;
}

const letters = { conforming: "", nonconforming: " N", uncertain: " U" } as const;
const marks = { conforming: undefined, nonconforming: "bad", uncertain: "unsure" } as const;

function showCell(cell: { result: ReportResult; more: boolean } | undefined): Cell {
  if (!cell) return { text: "" };
  const { result, more } = cell;
  const text = more ? `[${result.result}]` : result.result;
  return { text: text + letters[result.verdict], mark: marks[result.verdict] };
}

interface Note {
  range: Range;
  of: string;
  text: string;
}

/** Notes in cutting order; pieces that follow each other and say the same share one. */
function notePieces(pieces: readonly ReportPiece[]): Note[] {
  const notes: Note[] = [];
  const running = new Map<string, Note>();
  for (const piece of pieces) {
    for (const about of notesOf(piece)) {
      const key = `${about.of}\n${about.text}`;
      const known = running.get(key);
      if (known && known.range.to_piece === piece.piece - 1) {
        known.range.to_piece = piece.piece;
        continue;
      }
      const note = { range: { from_piece: piece.piece, to_piece: piece.piece }, ...about };
      running.set(key, note);
      notes.push(note);
    }
  }
  return notes;
}

function* notesOf(piece: ReportPiece): Generator<Omit<Note, "range">> {
  if (piece.disposition !== "accept")
    yield {
      of: "",
      text: `${piece.disposition.replaceAll("_", " ")}${piece.on_hold ? ", on hold" : ""}: ${piece.why}`,
    };
  for (const { characteristics, why } of piece.not_measured) {
    yield { of: sayNumbers(characteristics), text: why };
  }
  for (const { decides, bonus, characteristic, upper_limit, result } of piece.results) {
    if (!decides || bonus === null) continue;
    yield {
      of: characteristic,
      text: `${result} of ${upper_limit} allowed, ${bonus} of it a bonus for its size.`,
    };
  }
  const others = new Map<string, ReportResult[]>();
  for (const result of piece.results) {
    const key = cellKey(result.of, result.place);
    others.set(key, [...(others.get(key) ?? []), result]);
  }
  for (const results of others.values()) {
    if (results.length < 2) continue;
    const [first] = results;
    yield {
      of: [first!.characteristic, first!.place].filter((part) => part !== null).join(" "),
      text: `${results.map(sayResult).join("; ")}.`,
    };
  }
}

function sayResult({ cut, result, verdict, gauge, decides, reading_id }: ReportResult): string {
  const by = gauge === null ? "" : ` by ${gauge}`;
  return `${cut > 1 ? `cut ${cut}: ` : ""}${result} ${verdict}${by}, reading ${reading_id}${decides ? ", which counts" : ""}`;
}

function* layOutOutcome(end: ReportEnd, { batch, on_hold }: ReportHead): Generator<Block> {
  yield { kind: "heading", text: "Outcome" };
  yield {
    kind: "paragraph",
    text: `${end.pieces} pieces, ${end.results} results: ${end.nonconforming} nonconforming, ${end.uncertain} uncertain.${on_hold.length > 0 ? ` On hold: pieces ${sayRanges(on_hold)}.` : ""}${batch.closed_at === null ? " The batch is open: this report is preliminary." : ""}`,
  };
  yield table(
    [left("Outcome", 12), right("Pieces", 8), left("Which", 60)],
    end.by_disposition.map(({ disposition, pieces, ranges }) => [
      disposition.replaceAll("_", " "),
      String(pieces),
      sayRanges(ranges),
    ]),
  );
}

/** "1, 3–7, 12a": three numbers in a row and more as a range. */
function sayNumbers(names: readonly string[]): string {
  const said: string[] = [];
  for (let first = 0, last = 0; first < names.length; first = last + 1) {
    last = first;
    while (isNext(names[last]!, names[last + 1])) last += 1;
    if (last - first >= 2) said.push(`${names[first]}–${names[last]}`);
    else said.push(...names.slice(first, last + 1));
  }
  return said.join(", ");
}

function isNext(name: string, following: string | undefined): boolean {
  return /^\d+$/.test(name) && following === String(Number(name) + 1);
}

const mostRanges = 60;

function sayRanges(ranges: readonly Range[]): string {
  const words = ranges
    .slice(0, mostRanges)
    .map(({ from_piece: from, to_piece: to }) => (from === to ? String(from) : `${from}–${to}`));
  const more = ranges.length - mostRanges;
  return words.join(", ") + (more > 0 ? ` and ${more} more ranges` : "");
}

function sayDue({ calibration_due: due, last_at }: ReportHead["gauges"][number]): string {
  if (due === null) return "not given";
  return due < last_at.slice(0, 10) ? `${due}: overdue when it was used` : due;
}
