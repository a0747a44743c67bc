import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Instant, Name, strict } from "../../http/types.js";

export const ChangeQuery = strict({
  from: Instant.optional().describe("Made at this time or later"),
  to: Instant.optional().describe("Made before this time"),
  key: Name.optional().describe("Made with the key of this name"),
  operation: z
    .string()
    .regex(/^[A-Za-z]{1,60}$/, "is no name of an operation, such as applyCorrection")
    .optional()
    .describe("Made by this operation of the contract"),
  entity: z
    .string()
    .regex(/^[a-z_]{1,40}:[\w.-]{1,60}$/, "is a name and an id with a colon between, such as batch_id:12")
    .transform((text) => text.split(":") as [string, string])
    .meta({ type: "string" })
    .optional()
    .describe("That concerned this, such as batch_id:12"),
  ...pageQuery,
});

const Change = z
  .strictObject({
    audit_id: z.string().describe("Its number; later changes have larger ones"),
    at: z.iso.datetime().describe("When"),
    key: z
      .string()
      .nullable()
      .describe("Name of the key; null: none was asked for, or it was done at the command line"),
    by: z.string().nullable().describe("Who did it, as the request says; null: not said"),
    operation: z.string().describe("What was done: the operation's name in the contract"),
    entities: z
      .record(z.string(), z.string())
      .describe("What it was done to and what came of it, such as batch_id"),
    request: z
      .unknown()
      .describe("What was sent; null: nothing, or a file. Of a very long one only its length"),
    request_id: z.string().nullable().describe("The request-id that the answer bore, as the log has it"),
  })
  .meta({
    id: "Change",
    description: "One change: who made it, when, to what",
    examples: [
      {
        audit_id: "271",
        at: "2026-03-02T07:41:00.000Z",
        key: "setter, shift A",
        by: "shift A",
        operation: "applyCorrection",
        entities: { correction_id: "31" },
        request: { by: "shift A" },
        request_id: "0b0e4c0e-5a33-4b0e-8a53-6a0b5c0a2f11",
      },
    ],
  });
export type Change = z.infer<typeof Change>;

export const ChangeList = pageOf("ChangeList", Change, "newest first");
