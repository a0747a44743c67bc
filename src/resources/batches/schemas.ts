import { z } from "zod";
import { NextStep } from "../../decision/wire.js";
import { Piece, Voided } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Name, strict, Text } from "../../http/types.js";

const InterruptionKind = z.enum([
  "stop",
  "person_change",
  "material_change",
  "fixture_change",
  "program_change",
  "other",
]);

const words = {
  name: "What the shop calls it, such as its order number; no other batch may have this name",
  part_id: "The part that is made, at one revision of its drawing",
  machine_id: "The machine that it runs on",
  operation:
    "The operation that is run: features of other operations are left out. Absent: every feature counts",
  quantity: "How many pieces it has; absent: nobody knows yet",
  seats:
    "Places of the fixture that are cut in turn, in this order: of n seats piece k sits in seat (k − 1) mod n, unless a reading of it says another",
  kind: "What happened. After `fixture_change` and `program_change` every size is expected anew",
  from_piece: "The first piece cut after it",
};

const Seats = z
  .array(Name)
  .max(100)
  .superRefine((seats, context) => {
    seats.forEach((seat, index) => {
      if (seats.indexOf(seat) === index) return;
      context.addIssue({
        code: "custom",
        path: [index],
        message: `"${seat}" stands here twice: leave one out`,
      });
    });
  });

export const BatchCreate = strict({
  name: Name.describe(words.name),
  part_id: Id.describe(words.part_id),
  machine_id: Id.describe(words.machine_id),
  operation: Name.nullish().describe(words.operation),
  quantity: Piece.nullish().describe(words.quantity),
  seats: Seats.default([]).describe(`${words.seats}; none if absent`),
}).meta({
  id: "BatchCreate",
  description: "A batch to be opened: pieces of one part that one machine cuts one after the other",
  examples: [
    { name: "B-118", part_id: "8", machine_id: "3", operation: "20", quantity: 200, seats: ["A", "B"] },
  ],
});
export type BatchCreate = z.infer<typeof BatchCreate>;

export const Batch = z
  .strictObject({
    batch_id: z.string().describe("Identity of the batch"),
    name: z.string().describe("What the shop calls it"),
    part_id: z.string().describe(words.part_id),
    machine_id: z.string().describe(words.machine_id),
    operation: z
      .string()
      .nullable()
      .describe("The operation that is run; null: every feature of the part counts"),
    quantity: z.number().int().nullable().describe("How many pieces it has; null: not said"),
    seats: z.array(z.string()).describe(`${words.seats}; empty: pieces are not told apart by their seat`),
    last_piece_cut: z
      .number()
      .int()
      .describe("Last piece known to be cut, by a reading or a count; 0: none yet"),
    created_at: z.iso.datetime().describe("When it was opened"),
    closed_at: z.iso.datetime().nullable().describe("When it was closed; null: it is open"),
    closed_by: z.string().nullable().describe("Who closed it; null: open, or not said"),
  })
  .meta({
    id: "Batch",
    description: "Pieces of one part that one machine cuts one after the other",
    examples: [
      {
        batch_id: "3",
        name: "B-118",
        part_id: "8",
        machine_id: "3",
        operation: "20",
        quantity: 200,
        seats: ["A", "B"],
        last_piece_cut: 12,
        created_at: "2026-03-02T06:40:00.000Z",
        closed_at: null,
        closed_by: null,
      },
    ],
  });
export type Batch = z.infer<typeof Batch>;

export const BatchClose = strict({ by: Name.nullish().describe("Who closes it") }).meta({
  id: "BatchClose",
  description: "Closes a batch: nothing more is cut in it, and its open advice is withdrawn",
  examples: [{ by: "shift A" }],
});

export const CountCreate = strict({
  last_piece_cut: Piece.describe("Number of the last piece that has been cut"),
}).meta({
  id: "CountCreate",
  description:
    "How far the batch has come. Not needed where readings come in: each proves that its piece was cut",
  examples: [{ last_piece_cut: 57 }],
});

export const Count = z
  .strictObject({
    batch_id: z.string().describe("The batch"),
    last_piece_cut: z.number().int().describe("Last piece known to be cut"),
    next: NextStep.describe("The one thing to do next"),
  })
  .meta({
    id: "Count",
    description: "How far a batch has come, and what to do next",
    examples: [
      {
        batch_id: "3",
        last_piece_cut: 57,
        next: {
          action: "run_on",
          piece: 60,
          why: "Run on to piece 60, the next to be measured (5 good checks in a row: every 8 pieces).",
        },
      },
    ],
  });

export const InterruptionCreate = strict({
  from_piece: Piece.optional().describe(`${words.from_piece}; absent: the next one`),
  kind: InterruptionKind.describe(words.kind),
  note: Text.nullish().describe("What exactly"),
  by: Name.nullish().describe("Who says so"),
}).meta({
  id: "InterruptionCreate",
  description: "Something that makes people measure again before they trust the run",
  examples: [{ from_piece: 89, kind: "person_change", note: "shift B took over", by: "shift B" }],
});
export type InterruptionCreate = z.infer<typeof InterruptionCreate>;

const interruptionMembers = {
  interruption_id: z.string().describe("Identity of the interruption"),
  batch_id: z.string().describe("The batch"),
  from_piece: z.number().int().describe(words.from_piece),
  kind: InterruptionKind.describe(words.kind),
  note: z.string().nullable().describe("What exactly"),
  by: z.string().nullable().describe("Who said so"),
  created_at: z.iso.datetime().describe("When it was entered"),
  voided: Voided,
};
const interruptionExample = {
  interruption_id: "4",
  batch_id: "3",
  from_piece: 89,
  kind: "person_change" as const,
  note: "shift B took over",
  by: "shift B",
  created_at: "2026-03-02T14:02:00.000Z",
  voided: null,
};

export const Interruption = z.strictObject(interruptionMembers).meta({
  id: "Interruption",
  description: "Something that made people measure again",
  examples: [interruptionExample],
});
export type Interruption = z.infer<typeof Interruption>;

export const InterruptionAnswer = z
  .strictObject({ ...interruptionMembers, next: NextStep.describe("The one thing to do next") })
  .meta({
    id: "InterruptionAnswer",
    description: "An interruption, and what to do next",
    examples: [
      {
        ...interruptionExample,
        next: {
          action: "measure",
          piece: 89,
          why: "Measure 12 Tongue width on piece 89: first piece after an interruption.",
        },
      },
    ],
  });

export const BatchPath = strict({ batch_id: Id.describe("Identity of the batch") });
export const InterruptionPath = strict({
  batch_id: Id.describe("Identity of the batch"),
  interruption_id: Id.describe("Identity of the interruption"),
});
export const BatchQuery = strict({
  machine_id: Id.optional().describe("Only the batches of this machine"),
  part_id: Id.optional().describe("Only the batches of this part"),
  open: z
    .string()
    .refine((text) => text === "true" || text === "false", 'must be "true" or "false"')
    .transform((text) => text === "true")
    .optional()
    .meta({ type: "boolean", description: "true: only open batches; false: only closed ones" }),
  ...pageQuery,
});
export const BatchList = pageOf("BatchList", Batch);
export const InterruptionQuery = strict(pageQuery);
export const InterruptionList = pageOf("InterruptionList", Interruption);
