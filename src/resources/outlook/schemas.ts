import { z } from "zod";
import { CheckPlan, exampleOf } from "../../decision/wire.js";
import { Id, Name, strict, Unit } from "../../http/types.js";

export const OutlookPath = strict({ part_id: Id.describe("The part that is to be made") });
export const OutlookQuery = strict({
  machine_id: Id.describe("The machine that it is to run on"),
  quantity: z
    .string()
    .regex(/^[1-9]\d{0,6}$/, "must be a whole number from 1 to 9999999")
    .transform(Number)
    .meta({ type: "integer", minimum: 1, maximum: 9_999_999, description: "How many pieces" }),
  operation: Name.optional().describe("The operation that is to be run; absent: every feature counts"),
  minutes_per_reading: z
    .string()
    .regex(/^\d{1,4}(\.\d{1,3})?$/, "must be a number of minutes, such as 0.5")
    .transform(Number)
    .refine((minutes) => minutes > 0, "must be above 0")
    .optional()
    .meta({
      type: "number",
      description:
        "What to take for gauges of which nobody has said how long a reading takes; absent: nothing is taken",
    }),
});

const Basis = z
  .enum(["history", "plan"])
  .describe(
    "`history`: from what earlier batches took; `plan`: from the check plan alone, if every check is good: the least there will be",
  );

const checkPlanExample = exampleOf(CheckPlan) as z.infer<typeof CheckPlan>;

export const Outlook = z
  .strictObject({
    part_id: z.string().describe("The part"),
    machine_id: z.string().describe("The machine"),
    quantity: z.number().int().describe("How many pieces"),
    rests_on: z
      .strictObject({
        batches: z
          .array(z.string())
          .describe("Earlier batches of the part on this machine: at most the latest 20"),
        pieces: z.number().int().describe("Pieces cut in them"),
        readings: z.number().int().describe("Readings taken in them"),
        edges_ended: z
          .number()
          .int()
          .describe("Edges of its tools that have been taken out, by whatever part"),
      })
      .describe("What it rests on"),
    unknown: z.array(z.string()).describe("What is not known, in sentences; nothing is assumed for it"),
    first_check: CheckPlan.describe("What to measure on the first piece"),
    intervals: z
      .strictObject({
        first: z.number().int().describe("Pieces from one check to the next at the start"),
        largest: z.number().int().describe("The largest interval that the part allows"),
        usual: z
          .number()
          .nullable()
          .describe(
            "Pieces for each reading of the feature measured most often, in earlier batches; null: none",
          ),
      })
      .describe("How often it will be measured"),
    tools: z
      .array(
        z.strictObject({
          tool_id: z.string().describe("A tool that cuts it"),
          number: z.number().int().describe("Its number"),
          name: z.string().describe("Its name"),
          pieces_cut: z.number().int().describe("Pieces that the edge in use has cut"),
          life: z.number().int().nullable().describe("Pieces to plan an edge for; null: not known"),
          life_from: z
            .enum(["edges", "planned"])
            .nullable()
            .describe("`edges`: by which one in ten has failed; `planned`: as the tool was set up"),
          edges_ended: z.number().int().describe("Edges that have been taken out so far"),
          changes: z
            .number()
            .int()
            .nullable()
            .describe("Changes of the edge during the batch; null: not known"),
          edges: z.number().int().nullable().describe("Edges needed, the one in use among them"),
          why: z.string().describe("The same in words"),
        }),
      )
      .describe("Edges that it will take"),
    registers: z
      .array(
        z.strictObject({
          register_id: z.string().describe("A register that moves its features"),
          tool_id: z.string().nullable().describe("Its tool; null: a work offset"),
          number: z.number().int().describe("Its number at the control"),
          label: z.string().describe("Its label at the control"),
          unit: Unit.describe("The machine's unit"),
          value_now: z.number().describe("What it holds now, as far as known"),
          fresh_edge_start: z.number().describe("What to key with a fresh edge, aiming at the targets"),
          safe_start: z.number().describe("The same leaving metal, for who measures and cuts again"),
          edge_known: z
            .boolean()
            .describe("True: the edge in use has been measured, so its wear is in the expected sizes"),
          edges_remembered: z
            .number()
            .int()
            .describe("Earlier edges of it on this part that the start rests on"),
        }),
      )
      .describe("Where its registers should start"),
    features: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("A feature"),
          characteristic: z.string().describe("Its balloon number"),
          place: z.string().nullable().describe("Where on it; null: it has no places"),
          expected_size: z
            .number()
            .describe("Size expected of the first piece with the registers as they are"),
          uncertainty: z.number().describe("Standard deviation of that piece about it"),
          unit: Unit.describe("The part's unit"),
          chance_outside: z.number().describe("Chance that the first piece is outside its limits"),
        }),
      )
      .describe(
        "What the sizes of the first piece should come out with if nothing is touched; of other kinds of characteristics nothing is expected",
      ),
    measuring: z
      .strictObject({
        basis: Basis,
        readings: z.number().describe("Readings to be expected"),
        minutes: z
          .number()
          .nullable()
          .describe("Minutes that they take; null: a gauge's minutes are neither known nor given"),
        assumed_minutes: z
          .number()
          .nullable()
          .describe("Minutes for a reading that the request gave, where it was needed; null: it was not"),
        by_feature: z
          .array(
            z.strictObject({
              feature_id: z.string().describe("The feature"),
              characteristic: z.string().describe("Its balloon number"),
              readings: z.number().describe("Readings of it to be expected"),
              gauge_id: z
                .string()
                .nullable()
                .describe("Gauge that it is mostly measured with; null: not known"),
              minutes_per_reading: z.number().nullable().describe("Minutes for one, if somebody has said"),
              minutes: z.number().nullable().describe("Minutes for all of them"),
            }),
          )
          .describe("The same by feature"),
      })
      .describe("What measuring it will take"),
    in_doubt: z
      .strictObject({
        pieces: z
          .number()
          .nullable()
          .describe("Pieces to be expected on hold sooner or later; null: not known"),
        holds_seen: z.number().int().describe("Times that pieces were held in earlier batches"),
        pieces_seen: z.number().int().describe("Pieces held then"),
        why: z.string().describe("The same in words"),
      })
      .describe("Pieces in doubt"),
  })
  .meta({
    id: "Outlook",
    description: "What a new batch will take, from what is known of earlier ones",
    examples: [
      {
        part_id: "8",
        machine_id: "3",
        quantity: 500,
        rests_on: { batches: ["3"], pieces: 200, readings: 61, edges_ended: 0 },
        unknown: ["Nobody has said how long a reading with micrometer 0-25 no. 3 takes."],
        first_check: checkPlanExample,
        intervals: { first: 1, largest: 10, usual: 3.3 },
        tools: [
          {
            tool_id: "2",
            number: 7,
            name: "10 mm finishing end mill",
            pieces_cut: 200,
            life: 400,
            life_from: "planned",
            edges_ended: 0,
            changes: 1,
            edges: 2,
            why: "An edge is planned for 400 pieces; the one in use has cut 200: 1 change.",
          },
        ],
        registers: [
          {
            register_id: "4",
            tool_id: "2",
            number: 7,
            label: "D7 wear",
            unit: "mm",
            value_now: -0.024,
            fresh_edge_start: -0.01,
            safe_start: 0.02,
            edge_known: true,
            edges_remembered: 0,
          },
        ],
        features: [
          {
            feature_id: "12",
            characteristic: "12",
            place: null,
            expected_size: 6.0021,
            uncertainty: 0.008,
            unit: "mm",
            chance_outside: 0.0001,
          },
        ],
        measuring: {
          basis: "history",
          readings: 152.5,
          minutes: null,
          assumed_minutes: null,
          by_feature: [
            {
              feature_id: "12",
              characteristic: "12",
              readings: 152.5,
              gauge_id: "5",
              minutes_per_reading: null,
              minutes: null,
            },
          ],
        },
        in_doubt: {
          pieces: 25,
          holds_seen: 1,
          pieces_seen: 10,
          why: "In 200 pieces 10 were held, at 1 time: about 25 in 500.",
        },
      },
    ],
  });
export type Outlook = z.infer<typeof Outlook>;
