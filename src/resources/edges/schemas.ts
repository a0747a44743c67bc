import { z } from "zod";
import { NextStep } from "../../decision/wire.js";
import { AlsoFrom, AlsoIn, Piece, Voided } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Name, strict, Unit } from "../../http/types.js";

const Reason = z.enum(["worn", "broken", "chipped", "indexed", "new_insert", "other"]);

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

export const Edge = z.strictObject(edgeMembers).meta({
  id: "Edge",
  description: "A cutting edge of a tool, from one tool change to the next",
  examples: [edgeExample],
});
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

export const EdgesPath = strict({ tool_id: Id.describe(words.tool_id) });
export const EdgePath = strict({
  tool_id: Id.describe(words.tool_id),
  edge_id: Id.describe("Identity of the edge"),
});
export const EdgeQuery = strict(pageQuery);
export const EdgeList = pageOf("EdgeList", Edge);
