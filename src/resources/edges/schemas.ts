import { z } from "zod";
import { NextStep } from "../../decision/wire.js";
import { AlsoFrom, AlsoIn, Piece, Voided } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Name, strict, Unit } from "../../http/types.js";

const Reason = z.enum(["worn", "broken", "chipped", "indexed", "new_insert", "other"]);

export type EndReason = z.infer<typeof Reason>;

const words = {
  tool_id: "The tool",
  number: "The how-manieth edge of the tool it is; 1 is the one it was set up with",
  reason: "Why it was changed",
  batch_id: "The batch that is being cut",
  from_piece: "The first piece cut with the fresh edge",
  value: "What the control holds in it now that the fresh edge is in",
};

export const EdgeCreate = strict({
  batch_id: Id.describe(words.batch_id),
  from_piece: Piece.optional().describe(`${words.from_piece}; absent: the next one`),
  reason: Reason.describe(words.reason),
  registers: z
    .array(
      strict({
        register_id: Id.describe("A register of the tool"),
        value: Length.describe(words.value),
      }),
    )
    .max(100)
    .superRefine((registers, context) => {
      registers.forEach(({ register_id }, index) => {
        if (registers.findIndex((other) => other.register_id === register_id) === index) return;
        context.addIssue({
          code: "custom",
          path: [index, "register_id"],
          message: "stands here twice: leave one out",
        });
      });
    })
    .describe("Every register of the tool, changed or not, with what the control holds in it now"),
  by: Name.nullish().describe("Who changed it"),
  also_from: AlsoFrom,
}).meta({
  id: "EdgeCreate",
  description: "A fresh cutting edge in a tool: wear counts from zero again",
  examples: [
    {
      batch_id: "3",
      from_piece: 121,
      reason: "worn",
      registers: [
        { register_id: "21", value: 0 },
        { register_id: "22", value: 0 },
      ],
      by: "shift A",
    },
  ],
});
export type EdgeCreate = z.infer<typeof EdgeCreate>;

export const EdgeAnswer = z
  .strictObject({
    edge_id: z.string().describe("Identity of the edge"),
    tool_id: z.string().describe(words.tool_id),
    number: z.number().int().describe(words.number),
    reason: Reason.describe(words.reason),
    batch_id: z.string().describe(words.batch_id),
    from_piece: z.number().int().describe(words.from_piece),
    registers: z
      .array(
        z.strictObject({
          register_id: z.string().describe("A register of the tool"),
          value: z.number().describe(words.value),
        }),
      )
      .describe("The registers as they were entered with it"),
    unit: Unit.describe("The machine's unit, in which all values here are"),
    also_in: AlsoIn,
    next: NextStep.describe("The one thing to do next"),
  })
  .meta({
    id: "EdgeAnswer",
    description: "A fresh edge, and what to do next",
    examples: [
      {
        edge_id: "14",
        tool_id: "12",
        number: 2,
        reason: "worn",
        batch_id: "3",
        from_piece: 121,
        registers: [{ register_id: "21", value: 0 }],
        unit: "mm",
        also_in: [],
        next: {
          action: "measure",
          piece: 121,
          why: "Measure 12 Tongue width on piece 121: first piece of a fresh edge. Cut nothing more until its readings are in.",
        },
      },
    ],
  });
export type EdgeAnswer = z.infer<typeof EdgeAnswer>;

const edgeMembers = {
  edge_id: z.string().describe("Identity of the edge"),
  tool_id: z.string().describe(words.tool_id),
  number: z.number().int().describe(words.number),
  reason: Reason.or(z.literal("start")).describe(`${words.reason}; \`start\`: the one it was set up with`),
  in_batches: z
    .array(
      z.strictObject({
        batch_id: z.string().describe("A batch in which it came into use"),
        from_piece: z.number().int().describe(words.from_piece),
      }),
    )
    .describe("Where it came into use; none for the one that the tool was set up with"),
  by: z.string().nullable().describe("Who changed it"),
  created_at: z.iso.datetime().describe("When it was entered"),
  voided: Voided,
};
const edgeExample = {
  edge_id: "14",
  tool_id: "12",
  number: 2,
  reason: "worn" as const,
  in_batches: [{ batch_id: "3", from_piece: 121 }],
  by: "shift A",
  created_at: "2026-03-02T11:20:00.000Z",
  voided: null,
};

const Edge = z.strictObject(edgeMembers);
export type Edge = z.infer<typeof Edge>;

export const EdgeVoided = z
  .strictObject({
    ...edgeMembers,
    next: z
      .array(
        z.strictObject({
          batch_id: z.string().describe("A batch in which the edge counted"),
          next: NextStep.describe("The one thing to do next in it"),
        }),
      )
      .describe("What to do next in each batch in which it counted"),
  })
  .meta({
    id: "EdgeVoided",
    description: "A voided edge, and what follows from voiding it",
    examples: [
      {
        ...edgeExample,
        voided: { at: "2026-03-02T11:25:00.000Z", reason: "the other tool was changed", by: "shift A" },
        next: [
          {
            batch_id: "3",
            next: {
              action: "run_on",
              piece: 124,
              why: "Run on to piece 124, the next to be measured (3 good checks in a row: every 4 pieces).",
            },
          },
        ],
      },
    ],
  });
export type EdgeVoided = z.infer<typeof EdgeVoided>;

export const EdgeListed = z
  .strictObject({
    ...edgeMembers,
    in_use: z.boolean().describe("It is the one in use"),
    ended_by: Reason.nullable().describe("Why the next one was put in; null: it is in use, or voided"),
    ended_at: z.iso.datetime().nullable().describe("When that was entered"),
    pieces_cut: z.number().int().describe("Pieces that it has cut, in all batches"),
    unit: Unit.describe("The machine's unit, in which the values are"),
    registers: z
      .array(
        z.strictObject({
          register_id: z.string().describe("A register of the tool"),
          label: z.string().describe("Its label at the control"),
          value_at_start: z.number().describe("What it held on the first piece"),
          value_at_end: z.number().describe("What it held on the last piece"),
          cumulative_change: z
            .number()
            .describe("The one less the other: what wear, and all else that was corrected, has asked for"),
          change_per_piece: z.number().nullable().describe("That by the pieces cut; null: only one was"),
        }),
      )
      .describe("Its registers, from its first piece to its last; none before it has cut"),
  })
  .meta({
    id: "EdgeListed",
    description: "A cutting edge of a tool, with how long it lasted and what was corrected meanwhile",
    examples: [
      {
        ...edgeExample,
        in_use: false,
        ended_by: "worn",
        ended_at: "2026-03-09T09:10:00.000Z",
        pieces_cut: 312,
        unit: "mm",
        registers: [
          {
            register_id: "21",
            label: "D7 wear",
            value_at_start: 0,
            value_at_end: -0.031,
            cumulative_change: -0.031,
            change_per_piece: -0.0000997,
          },
        ],
      },
    ],
  });
export type EdgeListed = z.infer<typeof EdgeListed>;

const Pieces = z.strictObject({
  least: z.number().describe("The fewest pieces"),
  lower_quartile: z.number().describe("A quarter of the edges cut no more"),
  median: z.number().describe("Half of them cut no more"),
  upper_quartile: z.number().describe("Three quarters of them cut no more"),
  most: z.number().describe("The most pieces"),
});

export const EdgeLife = z
  .strictObject({
    tool_id: z.string().describe(words.tool_id),
    planned_life: z.number().int().nullable().describe("Pieces that an edge is planned for; null: not said"),
    pieces_cut_in_use: z.number().int().describe("Pieces that the edge in use has cut"),
    edges_ended: z.number().int().describe("Edges that have been taken out, of the latest 500"),
    edges_failed: z.number().int().describe("Of these, because they were worn, broken or chipped"),
    pieces: Pieces.nullable().describe("Pieces that they cut; null: none has been taken out"),
    by_reason: z
      .array(
        z.strictObject({
          reason: Reason.describe("Why they were taken out"),
          edges: z.number().int().describe("How many"),
          pieces: Pieces.describe("Pieces that they cut"),
        }),
      )
      .describe("The same by reason"),
    failed_by: z
      .strictObject({
        one_in_ten: z.number().int().nullable().describe("By so many pieces one edge in ten has failed"),
        half: z.number().int().nullable().describe("By so many half of them have; null: not known that far"),
      })
      .describe(
        "Product-limit estimate (Kaplan and Meier): an edge taken out for another reason, or in use, counts as having lasted at least so long",
      ),
    advised_life: z
      .number()
      .int()
      .nullable()
      .describe("Pieces to plan an edge for; null: too few have failed to say"),
    why: z.string().describe("The same in words"),
  })
  .meta({
    id: "EdgeLife",
    description: "How long the edges of a tool last",
    examples: [
      {
        tool_id: "12",
        planned_life: 400,
        pieces_cut_in_use: 41,
        edges_ended: 6,
        edges_failed: 5,
        pieces: { least: 180, lower_quartile: 255, median: 297, upper_quartile: 322, most: 351 },
        by_reason: [
          {
            reason: "worn",
            edges: 6,
            pieces: { least: 180, lower_quartile: 255, median: 297, upper_quartile: 322, most: 351 },
          },
        ],
        failed_by: { one_in_ten: 240, half: 302 },
        advised_life: 240,
        why: "By 240 pieces one edge in ten has ended worn, broken or chipped, and half of them by 302.",
      },
    ],
  });

export const EdgesPath = strict({ tool_id: Id.describe(words.tool_id) });
export const EdgePath = strict({
  tool_id: Id.describe(words.tool_id),
  edge_id: Id.describe("Identity of the edge"),
});
export const EdgeQuery = strict(pageQuery);
export const EdgeList = pageOf("EdgeList", EdgeListed);
