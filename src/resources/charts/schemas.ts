import { z } from "zod";
import { runRules } from "../../core/control-chart/run-rules.js";
import { chartKinds } from "../../decision/chart/chart.js";
import { Id, Name, strict } from "../../http/types.js";

const sets = ["western_electric", "nelson", "iso_7870"] as const;
const ruleNames = new Set<string>([...sets, ...runRules]);

function wholeBetween(low: number, high: number) {
  return z
    .string()
    .regex(/^\d{1,8}$/, `must be a whole number from ${low} to ${high}`)
    .transform(Number)
    .refine((n) => n >= low && n <= high, `must be a whole number from ${low} to ${high}`)
    .meta({ type: "integer", minimum: low, maximum: high });
}

export const FeaturePath = strict({ feature_id: Id.describe("The feature") });

const windowed = {
  batch_id: Id.optional().describe("The batch; absent: the latest one in which the feature was measured"),
  from_piece: wholeBetween(1, 99_999_999).optional().describe("The first piece to look at"),
  to_piece: wholeBetween(1, 99_999_999).optional().describe("The last piece to look at"),
  place: Name.optional().describe("Where it was measured; needed of a feature with places"),
  seat: Name.optional().describe("Only pieces of this seat"),
  gauge_id: Id.optional().describe("Only readings of this gauge"),
};

export const ChartQuery = strict({
  kind: z
    .enum(chartKinds)
    .describe(
      "individuals with moving ranges; means with ranges or standard deviations; ewma; cusum; innovations: what was not foreseen; p and np: pieces that failed; c and u: counts",
    ),
  ...windowed,
  format: z
    .enum(["json", "svg"])
    .optional()
    .describe(
      "`svg`: a picture of it, for a mail or a report; of itself alone, without script. Absent: a picture for who accepts `image/svg+xml` and no JSON, else json",
    ),
  last: wholeBetween(2, 2000).optional().describe("The latest so many pieces of the window; absent: 100"),
  subgroup_size: wholeBetween(2, 500)
    .optional()
    .describe("Pieces in a subgroup; absent: 5 for means (at most 25), 20 for p, np and u"),
  rules: z
    .string()
    .max(400)
    .optional()
    .transform((text, context) => {
      const names = text === undefined ? ["western_electric"] : text.split(",").filter((name) => name !== "");
      for (const name of names)
        if (!ruleNames.has(name))
          context.addIssue({
            code: "custom",
            message: `"${name.slice(0, 40)}" is no test; there are: ${[...ruleNames].join(", ")}`,
          });
      return runRules.filter((rule) => names.some((name) => rule === name || rule.startsWith(`${name}_`)));
    })
    .meta({ type: "string" })
    .describe(
      "Tests for patterns that are switched on, with commas between: a set (western_electric, nelson, iso_7870) or single ones such as nelson_3; absent: western_electric; empty: none",
    ),
});
export type ChartQuery = z.infer<typeof ChartQuery>;

const Point = z.strictObject({
  piece: z.number().int().describe("The piece, or the last one of the subgroup"),
  from_piece: z
    .number()
    .int()
    .describe("The first piece of the subgroup; the piece itself where there is none"),
  value: z.number().describe("What is charted"),
  centre: z.number().describe("Centre line"),
  lower: z.number().nullable().describe("Lower control limit; null: there is none"),
  upper: z.number().nullable().describe("Upper control limit"),
  phase: z.number().int().describe("Number of its phase, from 1 on"),
});

const Signal = z.strictObject({
  panel: z.string().describe("On which panel"),
  piece: z.number().int().describe("The piece that completes the pattern"),
  rule: z.string().describe("The test that found it"),
  says: z.string().describe("What it means, for who stands at the machine"),
});

export const Chart = z
  .strictObject({
    feature_id: z.string().describe("The feature"),
    characteristic: z.string().describe("Its balloon number"),
    batch_id: z.string().describe("The batch"),
    kind: z.enum(chartKinds).describe("The kind of chart"),
    unit: z.string().describe("Unit of sizes"),
    pieces: z.number().int().describe("Pieces that are charted"),
    rules: z.array(z.string()).describe("The tests that are switched on"),
    sigma: z
      .number()
      .nullable()
      .describe("Standard deviation that limits go by; null: limits follow from counts"),
    phases: z
      .array(
        z.strictObject({
          number: z.number().int().describe("Its number, from 1 on"),
          from_piece: z.number().int().describe("Its first piece that was measured"),
          to_piece: z.number().int().describe("Its last one"),
          why: z.enum(["start", "edge", "correction"]).describe("What began it"),
        }),
      )
      .describe("Stretches between edges and corrections; each has a centre line of its own"),
    panels: z
      .array(
        z.strictObject({
          name: z.string().describe("What it shows"),
          unit: z.string().describe("Unit of its values"),
          points: z.array(Point).describe("In cutting order"),
        }),
      )
      .describe("Upper panel first"),
    signals: z.array(Signal).describe("Patterns found, in cutting order"),
    doubtful_pieces: z
      .array(z.number().int())
      .describe("Pieces whose reading surprised and was not confirmed by a repeat: said, but not counted"),
    lower_limit: z
      .number()
      .nullable()
      .describe("Lower limit of size, of which a control limit knows nothing; null: none"),
    upper_limit: z.number().nullable().describe("Upper limit of size; null: none"),
    target: z.number().nullable().describe("The aim; null: it has no size"),
    says: z.array(z.string()).describe("The chart in plain words, with what it rests on"),
  })
  .meta({
    id: "Chart",
    description: "A control chart of one feature",
    examples: [
      {
        feature_id: "1",
        characteristic: "12",
        batch_id: "1",
        kind: "individuals",
        unit: "mm",
        pieces: 11,
        rules: ["western_electric_1", "western_electric_2", "western_electric_3", "western_electric_4"],
        phases: [{ number: 1, from_piece: 1, to_piece: 11, why: "start" }],
        panels: [
          {
            name: "size",
            unit: "mm",
            points: [
              {
                piece: 10,
                from_piece: 10,
                value: 12.003,
                centre: 12.004181818,
                lower: 11.996471644,
                upper: 12.011891992,
                phase: 1,
              },
              {
                piece: 11,
                from_piece: 11,
                value: 12.005,
                centre: 12.004181818,
                lower: 11.996471644,
                upper: 12.011891992,
                phase: 1,
              },
            ],
          },
          {
            name: "moving_range",
            unit: "mm",
            points: [
              {
                piece: 10,
                from_piece: 10,
                value: 0.003,
                centre: 0.0029,
                lower: 0,
                upper: 0.009472943,
                phase: 1,
              },
              {
                piece: 11,
                from_piece: 11,
                value: 0.002,
                centre: 0.0029,
                lower: 0,
                upper: 0.009472943,
                phase: 1,
              },
            ],
          },
        ],
        signals: [],
        sigma: 0.002570058,
        doubtful_pieces: [12],
        lower_limit: 11.97,
        upper_limit: 12.03,
        target: 12,
        says: [
          "Surprising and not confirmed by a repeat: piece 12 at 12.024 mm. Limits and indices go without; measure again, since it may be real.",
          "Of what counts here nothing stands out: what is seen is the scatter of a process that stays as it is. Leave it alone.",
          "Limits: mean of the phase and 3 standard deviations from moving ranges of two (ISO 7870-2).",
          "Several tests are on: even of a process that stays as it is, one of them speaks up about once in 90 points (Champ and Woodall 1987, for the four of Western Electric).",
        ],
      },
    ],
  });
export type Chart = z.infer<typeof Chart>;

export const chartOrPicture = {
  description: "The chart, or with format svg a picture of it",
  content: {
    "application/json": { schema: Chart },
    "image/svg+xml": { schema: z.string().meta({ contentMediaType: "image/svg+xml" }) },
  },
};

export const CapabilityQuery = strict({
  ...windowed,
  batches: wholeBetween(1, 50)
    .optional()
    .describe("The latest so many batches in which it was measured, instead of batch_id; absent: 1"),
  last: wholeBetween(2, 10_000)
    .optional()
    .describe("The latest so many pieces of the window in each batch; absent: 1000"),
  confidence: z
    .enum(["0.9", "0.95", "0.99"])
    .optional()
    .describe("Confidence of the limits, two-sided; absent: 0.95"),
}).refine(({ batch_id, batches }) => batch_id === undefined || batches === undefined, {
  path: ["batches"],
  message: "names batches a second time: send it or batch_id",
});
export type CapabilityQuery = z.infer<typeof CapabilityQuery>;

const Index = z
  .strictObject({
    value: z.number().describe("As many decimals as the number of readings bears"),
    low: z.number().describe("Lower confidence limit"),
    high: z.number().describe("Upper confidence limit"),
  })
  .nullable();

const indices = (letter: string, aboutTarget: boolean) => ({
  mean: z.number().describe("Mean size"),
  standard_deviation: z.number().describe("The spread that these indices go by"),
  degrees_of_freedom: z.number().describe("What that spread is worth"),
  [`${letter}`]: Index.describe(
    "Tolerance over six standard deviations; null: one limit is missing, or there are too few readings",
  ),
  [`${letter}k`]: Index.describe("The nearer limit over three; null: there are too few readings"),
  [`${letter}kl`]: z
    .number()
    .nullable()
    .describe("That of the lower limit; null: there is none, or too few readings"),
  [`${letter}ku`]: z
    .number()
    .nullable()
    .describe("That of the upper limit; null: there is none, or too few readings"),
  ...(aboutTarget
    ? { cpm: Index.describe("About the target; null: one limit is missing, or there are too few readings") }
    : {}),
});

export const Capability = z
  .strictObject({
    feature_id: z.string().describe("The feature"),
    characteristic: z.string().describe("Its balloon number"),
    batch_id: z.string().describe("The batch, or the latest of several"),
    batch_ids: z.array(z.string()).describe("All batches that count, oldest first"),
    unit: z.string().describe("Unit of sizes"),
    lower_limit: z.number().nullable().describe("Lower limit of size; null: there is none"),
    upper_limit: z.number().nullable().describe("Upper limit of size; null: there is none"),
    target: z.number().describe("The aim"),
    pieces: z.number().int().describe("Pieces that were read, each as it was first cut"),
    enough: z.boolean().describe("False: too few readings for any index"),
    confidence: z.number().describe("Confidence of the limits, two-sided"),
    within: z
      .strictObject(indices("cp", false))
      .nullable()
      .describe(
        "Capability: spread from piece to piece, between corrections; null: too few neighbours, or no spread",
      ),
    overall: z
      .strictObject(indices("pp", true))
      .nullable()
      .describe("Performance: the spread of all these readings together; null: no spread"),
    about_trend: z
      .strictObject({
        slope_per_piece: z.number().describe("How the size moves from piece to piece"),
        trending: z.boolean().describe("True: more than chance explains, at 99.7 %"),
        ...indices("cp", false),
      })
      .nullable()
      .describe(
        "Capability of the scatter about the wear, if it were corrected piece by piece; null: too few readings",
      ),
    shipped: z
      .strictObject({
        pieces: z
          .number()
          .int()
          .describe("Pieces as they left the machine, without those scrapped or sent back"),
        outside: z.number().int().describe("Of these, how many measured outside a limit"),
        ...indices("pp", true),
      })
      .nullable()
      .describe("Performance of what was shipped; null: too few readings or no spread"),
    normality: z
      .strictObject({
        statistic: z.number().describe("Anderson-Darling, corrected for the sample"),
        p: z.number().describe("Chance of one as large where the readings are normal; an approximation"),
        normal: z.boolean().describe("False: p is below 5 %"),
      })
      .nullable()
      .describe("Of what remains after wear and corrections; null: fewer than 8 readings, or all alike"),
    by_quantiles: z
      .strictObject({
        pp: z
          .number()
          .nullable()
          .describe("Tolerance over the distance of the quantiles of 0.135 % and 99.865 %"),
        ppk: z.number().describe("The nearer limit over the distance from the median to its quantile"),
      })
      .nullable()
      .describe("Without a normal distribution; null: fewer readings than the quantiles need"),
    steady: z.boolean().describe("True: no piece beyond the control limits of its phase"),
    doubtful_pieces: z
      .array(z.number().int())
      .describe("Pieces whose reading surprised and was not confirmed by a repeat: said, but not counted"),
    says: z.array(z.string()).describe("The answer in plain words, with methods and what they rest on"),
  })
  .meta({
    id: "Capability",
    description: "Capability and performance of one feature (ISO 22514-2)",
    examples: [
      {
        feature_id: "1",
        characteristic: "12",
        batch_id: "1",
        batch_ids: ["1"],
        unit: "mm",
        lower_limit: 11.97,
        upper_limit: 12.03,
        target: 12,
        pieces: 11,
        enough: true,
        confidence: 0.95,
        within: {
          mean: 12.004181818,
          standard_deviation: 0.002570058,
          degrees_of_freedom: 6,
          cp: { value: 3.9, low: 1.8, high: 6 },
          cpk: { value: 3.3, low: 1.5, high: 5.2 },
          cpkl: 4.4,
          cpku: 3.3,
        },
        overall: {
          mean: 12.004181818,
          standard_deviation: 0.001834022,
          degrees_of_freedom: 10,
          pp: { value: 5.5, low: 3.1, high: 7.8 },
          ppk: { value: 4.7, low: 2.6, high: 6.8 },
          ppkl: 6.2,
          ppku: 4.7,
          cpm: { value: 2.2, low: 1.7, high: 2.7 },
        },
        about_trend: {
          slope_per_piece: -5.4545e-5,
          trending: false,
          mean: 12,
          standard_deviation: 0.001923801,
          degrees_of_freedom: 9,
          cp: { value: 5.2, low: 2.8, high: 7.6 },
          cpk: { value: 5.2, low: 2.8, high: 7.6 },
          cpkl: 5.2,
          cpku: 5.2,
        },
        shipped: {
          pieces: 11,
          outside: 0,
          mean: 12.004181818,
          standard_deviation: 0.001834022,
          degrees_of_freedom: 10,
          pp: { value: 5.5, low: 3.1, high: 7.8 },
          ppk: { value: 4.7, low: 2.6, high: 6.8 },
          ppkl: 6.2,
          ppku: 4.7,
          cpm: { value: 2.2, low: 1.7, high: 2.7 },
        },
        normality: { statistic: 0.1467, p: 0.97, normal: true },
        by_quantiles: null,
        steady: true,
        doubtful_pieces: [12],
        says: [
          "Ppk 4.7 (95 %: 2.6 to 6.8), all of it above 1.33, and steady: with a gauge that is fit you may measure less often, step by step.",
          "From piece to piece, between corrections, the spread is 0.0026 mm: Cpk 3.3 (95 %: 1.5 to 5.2), from moving ranges of two, worth 6 degrees of freedom (Cryer and Ryan 1990).",
          "As they left the machine: Ppk 4.7 (95 %: 2.6 to 6.8).",
          "Nothing speaks against a normal distribution (Anderson-Darling, p 0.97); that is no proof of one.",
          "Limits of Cp and Pp by chi-square, of Cpk and Ppk approximately (Bissell 1990), of Cpm approximately (Boyles 1991); all of them hold for normal readings of a process that stays as it is.",
        ],
      },
    ],
  });
export type Capability = z.infer<typeof Capability>;
