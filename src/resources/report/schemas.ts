import { z } from "zod";
import { Range } from "../../decision/hold-wire.js";
import { Id, strict } from "../../http/types.js";
import type { ReportEnd, ReportHead, ReportPiece } from "../../report/report.js";
import { reportExample } from "./example.js";

export const ReportPath = strict({ batch_id: Id.describe("The batch") });
export const ReportQuery = strict({
  format: z
    .enum(["json", "html", "pdf", "csv", "qif"])
    .default("json")
    .describe(
      "`html`: to read and print; `csv`: one row for each reading and each thing not measured; `qif`: a results document of QIF 3.0 (ISO 23952) with every size that was measured",
    ),
  piece: z
    .string()
    .regex(/^[1-9]\d{0,7}$/, "must be a piece's number")
    .transform(Number)
    .optional()
    .meta({ type: "integer", minimum: 1, description: "Format `qif`: only this piece" }),
  paper: z.enum(["a4", "letter"]).default("a4").describe("Of the PDF; it lies across"),
});
export type ReportQuery = z.infer<typeof ReportQuery>;

const text = (about: string) => z.string().describe(about);
const optional = (about: string) => z.string().nullable().describe(about);
const whole = (about: string) => z.number().int().describe(about);
const instant = (about: string) => z.iso.datetime().describe(about);
const by = optional("Who entered it");

const Index = z
  .strictObject({
    value: z.number().describe("As many decimals as the readings bear"),
    low: z.number().describe("Lower confidence limit, 95 % two-sided"),
    high: z.number().describe("Upper confidence limit"),
  })
  .nullable();

const Characteristic = z.strictObject({
  feature_id: text("The feature"),
  characteristic: text("Its balloon number"),
  name: optional("Its name"),
  kind: text("What it is"),
  geometric_characteristic: optional("Of a form, which one"),
  nominal: optional("Nominal size; null: it has none"),
  requirement: text("What the drawing asks for, in words"),
  lower_limit: optional("Lower limit that counted; null: none"),
  upper_limit: optional("Upper limit that counted; null: none"),
  unit: optional("Unit of its limits and results; null: it has none"),
  importance: z.enum(["ordinary", "key", "critical"]).describe("How important the drawing says it is"),
  decision_rule: optional("Rule by which it was decided what conforms; null: it passes or fails"),
  limits_of: optional("Whose limits these are, where they are not the drawing's final ones"),
  places: z.array(z.string()).nullable().describe("Where on it is measured; null: one reading speaks for it"),
});

const Gauge = z.strictObject({
  gauge_id: text("The gauge"),
  name: text("Its name"),
  kind: text("What it is"),
  unit: text("Its unit"),
  expanded_uncertainty: optional("Expanded uncertainty in its unit, as entered; null: not known"),
  coverage_factor: z.number().describe("Coverage factor of it"),
  calibration_due: optional("Day on which its calibration runs out; null: not given"),
  reference: z.boolean().describe("True: its readings may prove a size"),
  readings: whole("Readings of this batch taken with it"),
  first_at: instant("The first of them"),
  last_at: instant("The last of them"),
  checked_at: optional("Last check on a standard up to then; null: none"),
  check_error: optional("What it read too much on it, in its unit"),
});

const Register = z.strictObject({
  label: text("Its label at the control"),
  number: whole("Its number"),
  tool: optional("Its tool; null: a work offset"),
  unit: z.enum(["mm", "inch"]).describe("Unit of its values"),
  at_start: text("What it held when the batch began"),
  entries: z
    .array(
      z.strictObject({
        from_piece: whole("It holds this from that piece on"),
        from_cut: whole("And from that cut of it on"),
        value: text("What it holds"),
        change: text("How much more than before"),
        origin: text("Where it comes from"),
        reason: optional("Why"),
        by,
        at: instant("When it was entered"),
      }),
    )
    .describe("What was entered since, in cutting order"),
});

const Hold = z.strictObject({
  characteristic: text("Balloon number"),
  place: optional("Where on the feature"),
  seat: optional("Seat in the fixture"),
  state: z.enum(["open", "decided", "released"]).describe("How it stands"),
  ...Range.shape,
  why: text("Why there is, or was, a hold"),
  open: z.array(Range).describe("Pieces of it that readings have not released"),
});

const Decision = z.strictObject({
  decision_id: text("The decision"),
  ...Range.shape,
  decision: text("What is to become of the pieces"),
  authority: optional("Who had the right to decide it"),
  nonconformance: optional("Number of the nonconformance report"),
  note: optional("What exactly"),
  by,
  decided_at: instant("When it was decided"),
  voided: optional("Why it was voided; null: it stands"),
});

const Result = z.strictObject({
  reading_id: text("The reading"),
  of: whole("Number of its characteristic in `characteristics`, from 0"),
  characteristic: text("Balloon number"),
  place: optional("Where on the feature"),
  cut: whole("Which cut of the piece"),
  value: optional("As the gauge gave it, digit for digit; null: it gave no number"),
  unit: optional("Unit of that"),
  result: text(
    "What was held against the limits, not rounded: at 20 °C, less what is known of the gauge; or whether it passed",
  ),
  lower_limit: optional("Lower limit that counted for it"),
  upper_limit: optional("Upper limit that counted for it, a bonus in it"),
  bonus: optional("How much of it is a bonus for the feature's size; null: nothing"),
  verdict: z.enum(["conforming", "nonconforming", "uncertain"]).describe("By the decision rule"),
  disposition: text("What it made of the piece"),
  expanded_uncertainty: optional("Expanded uncertainty of the reading; null: not known"),
  gauge: optional("Gauge that took it"),
  taken_by: optional("Who took it"),
  measured_at: optional("When; null: not given"),
  received_at: instant("When it was entered"),
  flags: z.array(z.string()).describe("What is unusual about it"),
  decides: z.boolean().describe("True: of several readings of the same thing this one counts"),
});

const Piece = z.strictObject({
  piece: whole("The piece, numbered in cutting order"),
  serials: z.array(z.string()).describe("Serial numbers that its readings give"),
  seat: optional("Seat in the fixture"),
  disposition: text("What becomes of it"),
  on_hold: z.boolean().describe("True: it must not go out as things stand"),
  why: text("The same in words"),
  results: z.array(Result).describe("Its readings that stand, by characteristic and cut"),
  not_measured: z
    .array(
      z.strictObject({
        characteristics: z
          .array(z.string())
          .describe("Balloon numbers, with the place where there are several"),
        proof: text(
          "What proves them all the same, or that nothing does, as in `GET /v1/batches/…/pieces/…`",
        ),
        why: text("The same in words"),
      }),
    )
    .describe("Every characteristic that has no result which proves it on this piece"),
});

const End = z.strictObject({
  pieces: whole("How many pieces"),
  by_disposition: z
    .array(
      z.strictObject({
        disposition: text("What becomes of them"),
        pieces: whole("How many"),
        ranges: z.array(Range).describe("Which"),
      }),
    )
    .describe("What becomes of the pieces, most first"),
  results: whole("Results that count"),
  nonconforming: whole("Of these nonconforming"),
  uncertain: whole("Of these uncertain"),
});

const Head = z.strictObject({
  batch: z
    .strictObject({
      batch_id: text("The batch"),
      name: text("Its name"),
      operation: optional("Operation"),
      quantity: z.number().int().nullable().describe("Pieces ordered"),
      pieces_cut: whole("Pieces known to be cut"),
      machine: text("The machine"),
      begun_at: instant("When it was opened"),
      closed_at: optional("When it was closed; null: it is open, and the report preliminary"),
      closed_by: optional("By whom"),
    })
    .describe("The batch"),
  part: z
    .strictObject({
      number: text("Drawing number"),
      revision: text("Its revision"),
      name: optional("Name"),
      unit: z.enum(["mm", "inch"]).describe("Unit of the drawing"),
      material: optional("Material"),
      decision_rule: text("Decision rule of the part; characteristics may have their own"),
    })
    .describe("The part"),
  made_at: instant("When the report was made"),
  decision_rules: z.array(z.string()).describe("How it was decided what conforms, in words"),
  cautions: z.array(z.string()).describe("What a reader has to know"),
  characteristics: z.array(Characteristic).describe("What the drawing asks for, in its order"),
  gauges: z.array(Gauge).describe("What it was measured with"),
  registers: z.array(Register).describe("What the offsets held that move its features"),
  edges: z
    .array(
      z.strictObject({
        tool: text("The tool"),
        edge: whole("Number of the edge"),
        from_piece: whole("First piece cut with it"),
        reason: text("Why it was changed"),
        by,
      }),
    )
    .describe("Cutting edges that were changed"),
  interruptions: z
    .array(
      z.strictObject({
        from_piece: whole("First piece cut after it"),
        kind: text("What happened"),
        note: optional("What exactly"),
        by,
      }),
    )
    .describe("What made people measure again"),
  holds: z.array(Hold).describe("Pieces that were in doubt, and how that ended"),
  on_hold: z.array(Range).describe("Pieces that must not go out as things stand"),
  decisions: z.array(Decision).describe("What people decided about pieces, voided decisions among them"),
  check_plan: z.array(z.string()).describe("How it was decided what is measured on which piece"),
  readings: z
    .strictObject({ counted: whole("Readings that stand"), voided: whole("Readings that were voided") })
    .describe("How many readings"),
  capability: z
    .array(
      z.strictObject({
        characteristic: text("Its balloon number"),
        place: optional("Where it was measured; null: one reading speaks for it"),
        pieces: whole("Pieces that count"),
        cpk: Index.describe("Capability from piece to piece, between corrections; null: none can be formed"),
        ppk: Index.describe("Performance of all first cuts together"),
        shipped_ppk: Index.describe("Performance of the pieces as they left the machine"),
        says: text("The answer in plain words"),
      }),
    )
    .describe("Capability and performance of every size that was measured (ISO 22514-2)"),
});

const Report = Head.extend({
  pieces: z.array(Piece).describe("The pieces in cutting order"),
  outcome: End.describe("What became of them"),
}).meta({
  id: "Report",
  description: "Inspection report of a batch; sizes are texts, so that no digit is lost",
  examples: [reportExample],
});

// The renderings know the same shapes as types.
type Same<A, B> = [A, B] extends [B, A] ? true : never;
type Inferred = z.infer<typeof Head>;
const shapesAgree: [
  Same<Inferred, ReportHead>,
  Same<z.infer<typeof Piece>, ReportPiece>,
  Same<z.infer<typeof End>, ReportEnd>,
] = [true, true, true];
void shapesAgree;

const Binary = z.string().meta({ format: "binary" });

export const describeReport = {
  description: "The report, in the form asked for",
  content: {
    "application/json": { schema: Report },
    "text/html": { schema: Binary },
    "application/pdf": { schema: Binary },
    "text/csv": { schema: Binary },
    "application/xml": { schema: Binary },
  },
};
