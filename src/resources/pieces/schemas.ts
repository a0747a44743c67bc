import { z } from "zod";
import { PieceDecision } from "../../decision/hold-wire.js";
import { exampleOf, Reading } from "../../decision/wire.js";

const dispositionWords =
  "`accept`: proved good, by readings of its own or between good pieces; `open`: nothing is against it, but no good piece after it closes the gap yet; `remeasure`: in doubt, or not decided by its readings; `rework` or `scrap`: failed, with or without metal left; or what was decided: `rework`, `scrap`, `use_as_is`, `repair`, `return`";
export const PieceDisposition = z.enum([
  "accept",
  "open",
  "remeasure",
  "rework",
  "scrap",
  "use_as_is",
  "repair",
  "return",
]);

const proofWords =
  "`measured`: by its own readings; `covered`: not due on it by the check plan in force, and good pieces before and after it; `not_closed`: not due on it, but no good piece after it yet; `missed`: due on it and not measured; `in_doubt`: on hold; `rework_due`: given to rework and not measured good since";
export const Proof = z.enum(["measured", "covered", "not_closed", "missed", "in_doubt", "rework_due"]);

export const wordsOf = { disposition: dispositionWords, proof: proofWords };

const readingExample = exampleOf(Reading) as z.infer<typeof Reading>;

export const PieceView = z
  .strictObject({
    batch_id: z.string().describe("The batch"),
    piece: z.number().int().describe("The piece, numbered in cutting order"),
    seat: z.string().nullable().describe("Seat in the fixture; null: the batch names none"),
    serials: z.array(z.string()).describe("Serial numbers that its readings give"),
    cuts: z.number().int().describe("How often it was cut, as far as readings and decisions say"),
    disposition: PieceDisposition.describe(dispositionWords),
    on_hold: z.boolean().describe("True: it must not go out as things stand"),
    why: z.string().describe("The same in words"),
    features: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("The feature"),
          characteristic: z.string().describe("Its balloon number"),
          name: z.string().nullable().describe("Its name"),
          place: z
            .string()
            .nullable()
            .describe("Where on the feature: each place stands for itself; null: it has no places"),
          proof: Proof.describe(proofWords),
          disposition: z
            .enum(["accept", "open", "remeasure", "rework", "scrap"])
            .describe("What it makes of the piece before anything was decided about it"),
          good_before: z
            .number()
            .int()
            .nullable()
            .describe("Last piece before it that was good as it left the machine; null: none"),
          good_after: z.number().int().nullable().describe("First such piece after it; null: none yet"),
          rule: z
            .string()
            .nullable()
            .describe("Rule of the check plan that was in force; null: measured, or no good piece before"),
          due: z
            .number()
            .int()
            .nullable()
            .describe("Piece on which the plan then in force wanted the next check"),
          why: z.string().describe("How it is proved, or why not"),
          readings: z.array(Reading).describe("Its readings on this piece, by cut; voided ones among them"),
        }),
      )
      .describe("What is known of each feature, in the part's order"),
    registers: z
      .array(
        z.strictObject({
          cut: z.number().int().describe("Which cut of the piece"),
          register_id: z.string().describe("The register"),
          tool_id: z.string().nullable().describe("Its tool; null: a work offset"),
          number: z.number().int().describe("Its number at the control"),
          label: z.string().describe("Its label at the control"),
          unit: z.enum(["mm", "inch"]).describe("Unit of the value: the machine's"),
          value: z.number().describe("What it held when the piece was cut"),
          from_piece: z
            .number()
            .int()
            .nullable()
            .describe("It holds this from that piece on; null: since the batch began"),
          from_cut: z.number().int().nullable().describe("And from that cut of it on"),
          reason: z.string().nullable().describe("Why it was entered"),
          by: z.string().nullable().describe("Who entered it"),
        }),
      )
      .describe("What the registers held that move its features, for each cut"),
    edges: z
      .array(
        z.strictObject({
          tool_id: z.string().describe("The tool"),
          tool_number: z.number().int().describe("Its number"),
          tool: z.string().describe("Its name"),
          edge_id: z.string().nullable().describe("Edge that cut the piece; null: not known"),
          number: z.number().int().nullable().describe("Number of the edge on this tool"),
          from_piece: z
            .number()
            .int()
            .nullable()
            .describe("It cuts in this batch from that piece on; null: since the batch began"),
          pieces_cut: z
            .number()
            .int()
            .nullable()
            .describe("How many pieces it had cut with this one, as far as known"),
        }),
      )
      .describe("The cutting edges that made it"),
    interruption: z
      .strictObject({
        interruption_id: z.string().describe("Identity"),
        from_piece: z.number().int().describe("First piece cut after it"),
        kind: z.string().describe("What happened"),
        note: z.string().nullable().describe("What exactly"),
      })
      .nullable()
      .describe("The last interruption before it was cut; null: none"),
    decisions: z
      .array(PieceDecision)
      .describe("All decisions about it, oldest first; the last valid one counts"),
  })
  .meta({
    id: "Piece",
    description: "Everything that is known of one piece",
    examples: [
      {
        batch_id: "3",
        piece: 12,
        seat: null,
        serials: [],
        cuts: 1,
        disposition: "accept",
        on_hold: false,
        why: "Every feature is measured good on it or lies between good pieces as the check plan wanted.",
        features: [
          {
            feature_id: "12",
            characteristic: "12",
            name: "Tongue width",
            place: null,
            proof: "measured",
            disposition: "accept",
            good_before: 11,
            good_after: 13,
            rule: null,
            due: null,
            why: "Measured good.",
            readings: [readingExample],
          },
        ],
        registers: [
          {
            cut: 1,
            register_id: "4",
            tool_id: "2",
            number: 7,
            label: "D7 wear",
            unit: "mm",
            value: -0.02,
            from_piece: 9,
            from_cut: 1,
            reason: null,
            by: "shift A",
          },
        ],
        edges: [
          {
            tool_id: "2",
            tool_number: 7,
            tool: "10 mm finishing end mill",
            edge_id: "6",
            number: 1,
            from_piece: null,
            pieces_cut: 12,
          },
        ],
        interruption: null,
        decisions: [],
      },
    ],
  });
export type PieceView = z.infer<typeof PieceView>;
