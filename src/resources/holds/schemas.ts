import { z } from "zod";
import { Range } from "../../decision/hold-wire.js";
import { pageQuery } from "../../http/pagination.js";
import { Id, strict } from "../../http/types.js";

export const HoldPath = strict({ batch_id: Id.describe("The batch") });
const HoldState = z.enum(["open", "decided", "released"]);
const stateWords =
  "`open`: pieces of it are neither proved good nor settled; `decided`: all that is left of it is settled by decisions; `released`: readings have released every piece";
export const HoldQuery = strict({
  state: HoldState.optional().describe(`Only holds in this state. ${stateWords}`),
  ...pageQuery,
});

const MeasureRule = z
  .enum(["confirm", "neighbour", "halve", "after_change", "latest"])
  .describe(
    "`confirm`: only gauges that prove nothing have failed it; `neighbour`: beside a single odd piece; `halve`: half way between good and bad; `after_change`: the first piece cut after the last change; `latest`: the last piece cut",
  );

const holdExample = {
  feature_id: "12",
  characteristic: "12",
  name: "Tongue width",
  place: null,
  seat: null,
  state: "open" as const,
  from_piece: 41,
  to_piece: 50,
  why: "Piece 50 failed; piece 40 is the last good one before, and piece 51 the first good one after: pieces 41 to 50 are in doubt.",
  good_before: 40,
  good_after: 51,
  pieces: 10,
  open: [{ from_piece: 41, to_piece: 50 }],
  decided: [],
  bad: [{ from_piece: 50, to_piece: 50 }],
  because: [{ piece: 50, reading_ids: ["3-61"], contradicted_by: [], by_reference: true }],
  measure_next: [
    {
      piece: 45,
      gauge_id: "5",
      gauge: "micrometer 0-25 no. 3",
      rule: "halve" as const,
      at_most: 4,
      why: "Measure piece 45 with micrometer 0-25 no. 3: half way between good and bad. 4 readings at most on this side, if drift or one jump lies behind it.",
    },
  ],
  each: [],
};

const Hold = z
  .strictObject({
    feature_id: z.string().describe("The feature"),
    characteristic: z.string().describe("Its balloon number"),
    name: z.string().nullable().describe("Its name"),
    place: z.string().nullable().describe("Where on the feature; null: it has no places"),
    seat: z
      .string()
      .nullable()
      .describe(
        "Seat in the fixture: only its pieces are meant, since no seat speaks for another; null: no seats",
      ),
    state: HoldState.describe(stateWords),
    from_piece: z.number().int().describe("First piece after the last good one before the first bad piece"),
    to_piece: z
      .number()
      .int()
      .describe("Last piece before the first good one after it, else the last one cut"),
    why: z.string().describe("Why there is a hold, in words"),
    good_before: z
      .number()
      .int()
      .nullable()
      .describe("Last piece before it that was good as it left the machine; null: none"),
    good_after: z.number().int().nullable().describe("First such piece after it; null: none yet"),
    pieces: z.number().int().describe("How many pieces of it are on hold"),
    open: z.array(Range).describe("Pieces of it that are on hold: neither good by themselves nor settled"),
    decided: z.array(Range).describe("Pieces of it that are settled by a decision"),
    bad: z.array(Range).describe("Pieces that failed"),
    because: z
      .array(
        z.strictObject({
          piece: z.number().int().describe("A piece that failed"),
          reading_ids: z.array(z.string()).describe("Its failing readings"),
          contradicted_by: z
            .array(z.string())
            .describe("Good readings of the same cut by a gauge that may prove it"),
          by_reference: z.boolean().describe("True: one of them by a gauge that may prove a size"),
        }),
      )
      .describe("The readings that caused it: those of the first 50 pieces that failed"),
    measure_next: z
      .array(
        z.strictObject({
          piece: z.number().int().describe("The piece to measure"),
          gauge_id: z.string().nullable().describe("Gauge that may prove it; null: none is entered"),
          gauge: z.string().nullable().describe("Its name"),
          rule: MeasureRule,
          at_most: z
            .number()
            .int()
            .describe("Readings until this side is settled, at most, if drift or one jump lies behind it"),
          why: z.string().describe("What to measure and what it settles, in words"),
        }),
      )
      .describe("What to measure next to release the most with the fewest readings"),
    each: z
      .array(Range)
      .describe("Pieces between bad ones, where no piece speaks for another: measure each, or decide"),
  })
  .meta({ id: "Hold", description: "Pieces of one feature in doubt", examples: [holdExample] });

export const Holds = z
  .strictObject({
    batch_id: z.string().describe("The batch"),
    pieces_on_hold: z.number().int().describe("How many pieces must not go out as things stand"),
    on_hold: z.array(Range).describe("Which ones: of all features and reworks together"),
    reworks: z
      .array(
        z.strictObject({
          decision_id: z.string().describe("The decision for rework"),
          pieces: z.array(Range).describe("Its pieces that have not been proved good since"),
          waiting_for: z
            .array(
              z.strictObject({
                feature_id: z.string().describe("Feature to be measured again"),
                characteristic: z.string().describe("Its balloon number"),
                pieces: z.array(Range).describe("On which pieces"),
              }),
            )
            .describe("What has to be measured again: a piece put back in the fixture has lost its old zero"),
        }),
      )
      .describe("Pieces given to rework, until they are proved good"),
    items: z.array(Hold).describe("This page of holds, in cutting order"),
    next_cursor: z
      .string()
      .nullable()
      .describe("Send it as `cursor` for the next page; null on the last page"),
  })
  .meta({
    id: "Holds",
    description: "Pieces in doubt, why, and what releases them",
    examples: [
      {
        batch_id: "3",
        pieces_on_hold: 10,
        on_hold: [{ from_piece: 41, to_piece: 50 }],
        reworks: [],
        items: [holdExample],
        next_cursor: null,
      },
    ],
  });
export type Hold = z.infer<typeof Hold>;
