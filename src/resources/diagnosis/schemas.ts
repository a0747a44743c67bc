import { z } from "zod";
import { LikelyCause } from "../../decision/correction-wire.js";
import { exampleOf } from "../../decision/wire.js";
import { Id, strict } from "../../http/types.js";

const QueryPiece = z
  .string()
  .regex(/^[1-9]\d{0,6}$/, "must be a piece number")
  .transform(Number)
  .meta({ type: "integer", minimum: 1 });

export const DiagnosisPath = strict({ batch_id: Id.describe("The batch") });
export const DiagnosisQuery = strict({
  piece: QueryPiece.optional().describe(
    "Only this piece, or with from_piece the pieces from there to it. Absent: the latest pieces measured since an edge, a fixture or a programme was changed",
  ),
  from_piece: QueryPiece.optional().describe("The first piece to look at"),
  since_piece: QueryPiece.optional().describe(
    "From this piece on something is different: what was read since is compared with the pieces before, not with the target. Absent: where a jump is open the piece from which on it is",
  ),
});

const Amount = z.strictObject({
  of: z
    .string()
    .describe(
      "What it is a size of: `register`, `wear_per_100_pieces`, `bend_at_depth`, `taper_per_100_mm`, `shift_x` to `shift_z`, `turn_x` to `turn_z`, `growth`, `temperature_rise`, `gauge`, `ball`, `deviation`, `deviation_x`, `deviation_y`",
    ),
  value: z.number().describe("The size that fits best"),
  standard_uncertainty: z.number().describe("How sure it is"),
  unit: z.string().describe("Unit of both"),
});

const OffsetChange = z.strictObject({
  register_id: z.string().describe("A work offset"),
  register_number: z.number().int().describe("Its number at the control"),
  register_label: z.string().describe("Its label at the control"),
  unit: z.enum(["mm", "inch"]).describe("Unit of its values"),
  value_now: z.number().describe("What it is believed to hold"),
  change: z.number().describe("What to add to it, in steps of the control"),
  value_after: z.number().describe("What it should then read"),
});

const DiagnosedCause = LikelyCause.extend({
  evidence: z
    .number()
    .describe(
      "2 ln of how much more likely the readings are with this cause than without any; from 6 on it counts as strong",
    ),
  chi_square: z.number().describe("What it leaves over, in squared standard deviations"),
  degrees_of_freedom: z.number().int().describe("Readings less sizes fitted"),
  amounts: z.array(Amount).describe("How large it is"),
  work_offset_changes: z
    .array(OffsetChange)
    .describe("Of a work zero that stands out clearly: by how much to correct the work offsets; else empty"),
});

export const Diagnosis = z
  .strictObject({
    batch_id: z.string().describe("The batch"),
    from_piece: z.number().int().nullable().describe("First piece looked at; null: none has been measured"),
    to_piece: z.number().int().nullable().describe("Last piece looked at"),
    since_piece: z
      .number()
      .int()
      .nullable()
      .describe("From this piece on it is compared with the pieces before; null: with the target"),
    chi_square: z.number().describe("How far the readings are off in all, in squared standard deviations"),
    readings: z.number().int().describe("Deviations looked at; repeats count once"),
    why: z.string().describe("What stands out, in plain words"),
    causes: z
      .array(DiagnosedCause)
      .describe("Causes, most believable first: those that cannot be told apart, then what is left"),
    alike: z
      .number()
      .int()
      .describe(
        "So many causes from the first that the readings do not tell apart; 0: nothing stands out from scatter",
      ),
    together: z
      .array(DiagnosedCause)
      .describe("Two causes that explain the readings together where none does alone; else empty"),
    tell_apart: z
      .string()
      .nullable()
      .describe(
        "What to do to tell the first causes apart; null: there is nothing to tell, or nothing at hand does",
      ),
    deviations: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("Feature"),
          characteristic: z.string().describe("Its balloon number"),
          place: z.string().nullable().describe("Place on it; null: it has none"),
          component: z.enum(["size", "x", "y"]).describe("Its size, or one direction of its position"),
          gauge_id: z.string().describe("Gauge that read it"),
          pieces: z.number().int().describe("Pieces on which it was read"),
          unit: z.enum(["mm", "inch"]).describe("The part's unit"),
          deviation: z
            .number()
            .describe(
              "By how much it is off on average, with what the registers hold on the last piece looked at",
            ),
          explained: z
            .number()
            .nullable()
            .describe("What the first cause says it should be off by; null: none stands out"),
        }),
      )
      .describe("What was looked at"),
    missing: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("Feature"),
          members: z.array(z.enum(["at", "axis", "depth"])).describe("What is not known of it"),
        }),
      )
      .describe("What would let more causes be seen: PATCH /v1/features/{feature_id}"),
    cautions: z.array(z.string()).describe("What to look at before anything is changed"),
  })
  .meta({
    id: "Diagnosis",
    description: "Which cause fits best what was measured",
    examples: [
      {
        batch_id: "3",
        from_piece: 1,
        to_piece: 1,
        since_piece: null,
        chi_square: 61.2,
        readings: 3,
        why: "3 deviations of piece 1 from target: warmth stands out.",
        causes: [
          {
            ...(exampleOf(LikelyCause) as object),
            evidence: 55.2,
            chi_square: 0.4,
            degrees_of_freedom: 2,
            amounts: [{ of: "growth", value: 100, standard_uncertainty: 12.5, unit: "µm/m" }],
            work_offset_changes: [],
          },
        ],
        alike: 1,
        together: [],
        tell_apart: null,
        deviations: [
          {
            feature_id: "12",
            characteristic: "12",
            place: null,
            component: "size",
            gauge_id: "5",
            pieces: 1,
            unit: "mm",
            deviation: 0.03,
            explained: 0.03,
          },
        ],
        missing: [{ feature_id: "12", members: ["at", "depth"] }],
        cautions: ["Check sign, register and decimal point at the control before cycle start."],
      },
    ],
  });
