import { z } from "zod";
import { Voided } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Name, PositiveLength, ReadingId, strict, Text } from "../../http/types.js";

const Kind = z.enum(["crossed", "one_part", "linearity"]);
const Verdict = z.enum(["fit", "conditional", "unfit"]);
const Interaction = z.enum(["by_test", "kept", "pooled"]);
const GivenUnit = z.enum(
  ["mm", "inch", "um", "deg"],
  'must be "mm", "inch" or "um", of a gauge of angles "deg"',
);
const ShownUnit = z.enum(["mm", "inch", "µm", "deg"]);

const words = {
  kind: "`crossed`: every operator reads every part as often (repeatability and reproducibility). `one_part`: one part or standard of known size, read over and over (bias and repeatability). `linearity`: several standards over the range",
  tolerance: "Width of the tolerance that the gauge is wanted for",
  interaction:
    "Whether the interaction of operators and parts is pooled into repeatability: `by_test` where chance alone makes one as large with a probability above `pool_above`",
};

const Percent = z.number().positive().max(1000);

export const GaugeStudyCreate = strict({
  kind: Kind.default("crossed").describe(words.kind),
  unit: GivenUnit.describe("Unit of all sizes here"),
  tolerance: PositiveLength.optional().describe(
    `${words.tolerance}; absent: judged by the spread of the parts`,
  ),
  reference: Length.optional().describe(
    "Size of the part by its certificate; needed for `one_part`, where it belongs",
  ),
  readings: z
    .array(
      strict({
        operator: Name.optional().describe(
          "Who read it; `crossed` only, absent: who took the stored reading, else one and the same",
        ),
        part: Name.optional().describe(
          "Which part was read; needed for `crossed`, absent with `reading_id`: its piece and feature",
        ),
        trial: z
          .number()
          .int()
          .min(1)
          .max(100)
          .optional()
          .describe("Which of the reader's trials on the part it was; each may stand once"),
        reference: Length.optional().describe("Size of the standard that was read; needed for `linearity`"),
        value: Length.optional().describe("The size that was read"),
        reading_id: ReadingId.optional().describe(
          "Instead of a value: a stored reading of this gauge, with its size as it was kept and judged",
        ),
      }),
    )
    .min(2)
    .max(2000)
    .describe("The readings, all of them or none are taken"),
  interaction: Interaction.default("by_test").describe(words.interaction),
  pool_above: z
    .number()
    .min(0)
    .max(1)
    .default(0.25)
    .describe("Probability above which an interaction is pooled (common practice)"),
  share: z
    .number()
    .positive()
    .max(1)
    .default(0.2)
    .describe("Share of the tolerance in Cg and Cgk (common practice)"),
  spread: z
    .number()
    .positive()
    .max(12)
    .default(6)
    .describe("How many standard deviations count as the gauge's spread"),
  least_index: z
    .number()
    .positive()
    .max(10)
    .default(1.33)
    .describe("Cg and Cgk that are enough (common practice)"),
  limits: strict({
    fit: Percent.describe("Up to this share it is `fit`"),
    conditional: Percent.describe("Up to this share it is `conditional`, above it `unfit`"),
  })
    .refine(({ fit, conditional }) => fit <= conditional, "fit must not be above conditional")
    .default({ fit: 10, conditional: 30 })
    .describe("Limits of the verdict in percent (common practice: 10 and 30)"),
  note: Text.nullish().describe("What is worth keeping about it"),
  by: Name.nullish().describe("Who entered it"),
})
  .superRefine((study, context) => {
    const refuse = (path: (string | number)[], message: string) =>
      context.addIssue({ code: "custom", path, message });
    const { kind } = study;
    if (kind === "one_part" && study.reference === undefined)
      refuse(["reference"], "is missing: send the size of the part by its certificate");
    if (kind !== "one_part" && study.reference !== undefined)
      refuse(["reference"], 'belongs to "one_part" only: of "linearity" each reading has its own');
    if (kind === "linearity" && study.readings.length < 3)
      refuse(["readings"], "are too few for a line: send at least 3, over the range of the gauge");
    const seen = new Set<string>();
    const ids = new Set<string>();
    study.readings.forEach((reading, i) => {
      const only = (
        field: "operator" | "part" | "trial" | "reference",
        needed: boolean,
        allowed: boolean,
      ) => {
        if (needed && reading[field] === undefined)
          refuse(["readings", i, field], `is missing: a "${kind}" study needs it`);
        if (!allowed && reading[field] !== undefined)
          refuse(["readings", i, field], `does not belong to a "${kind}" study: leave it out`);
      };
      if ((reading.value === undefined) === (reading.reading_id === undefined))
        refuse(["readings", i, "value"], "is needed, or a reading_id instead of it; one of the two");
      if (reading.reading_id !== undefined) {
        if (ids.has(reading.reading_id))
          refuse(["readings", i, "reading_id"], "stands here twice: it is one reading");
        ids.add(reading.reading_id);
      }
      only("part", kind === "crossed" && reading.reading_id === undefined, kind === "crossed");
      only("operator", false, kind === "crossed");
      only("reference", kind === "linearity", kind === "linearity");
      if (kind !== "crossed" || reading.trial === undefined) return;
      const key = JSON.stringify([reading.part, reading.operator, reading.trial]);
      if (seen.has(key))
        refuse(
          ["readings", i, "trial"],
          "stands here twice for this part and operator: number the trials 1, 2, 3",
        );
      seen.add(key);
    });
  })
  .meta({
    id: "GaugeStudyCreate",
    description: "A study of a gauge, all readings in one go",
    examples: [
      {
        kind: "one_part",
        unit: "mm",
        tolerance: 0.05,
        reference: 25,
        readings: [{ value: 25.001 }, { value: 25.002 }, { value: 25.001 }],
        by: "measuring room",
      },
    ],
  });
export type GaugeStudyCreate = z.infer<typeof GaugeStudyCreate>;

const Limits = z.array(z.number()).describe("Lower and upper limit at 95 % confidence");
const Chance = z
  .number()
  .nullable()
  .describe("Chance of a value that far from 0 if it were 0; null: nothing scatters");
const Row = z.strictObject({
  degrees: z.number().describe("Degrees of freedom"),
  sum_of_squares: z.number().describe("Sum of squares, in the unit squared"),
  mean_square: z.number().describe("Mean square, in the unit squared"),
});
const spread = {
  repeatability: z.number().describe("Standard deviation of one operator on one part (equipment variation)"),
  reproducibility: z
    .number()
    .describe(
      "Standard deviation between operators, their interaction with parts included (appraiser variation)",
    ),
  gauge: z.number().describe("Both together (GRR)"),
  parts: z.number().describe("Standard deviation between the parts"),
  total: z.number().describe("All together"),
  percent_of_study: z.number().nullable().describe("gauge over total in percent; null: nothing varies"),
  percent_of_tolerance: z
    .number()
    .nullable()
    .describe("`spread` times gauge over the tolerance in percent; null: no tolerance"),
  distinct_categories: z
    .number()
    .nullable()
    .describe(
      "Classes of these parts that it tells apart, 1.41 parts over gauge rounded down; null: the gauge does not vary",
    ),
};

const result = {
  repeatability: z
    .number()
    .describe("Standard deviation of repeatability; what the gauge is given when the study is accepted"),
  repeatability_limits: Limits.nullable().describe(
    "Its limits at 95 % confidence (chi-square); null: not given for linearity",
  ),
  bias: z.number().nullable().describe("Mean of readings less reference; null: no reference"),
  crossed: z
    .strictObject({
      parts: z.number().int().describe("Parts"),
      operators: z.number().int().describe("Operators"),
      trials: z.number().int().describe("Trials"),
      table: z
        .strictObject({
          parts: Row.describe("Between the parts"),
          operators: Row.nullable().describe("Between the operators"),
          interaction: Row.nullable().describe("Operators and parts together"),
          repeatability: Row.describe("Within the cells"),
        })
        .describe("Table of the analysis of variance; of one operator the middle two are null"),
      interaction_chance: z
        .number()
        .nullable()
        .describe("Chance of an interaction that large where there is none; null: not to be tested"),
      pooled: z.boolean().describe("Whether it was pooled"),
      rule: z.string().describe("Why, in a sentence"),
      analysis_of_variance: z
        .strictObject({ ...spread, gauge_limits: Limits })
        .describe("By analysis of variance: what the verdict goes by"),
      average_and_range: z.strictObject(spread).describe("By average and range, for comparison"),
    })
    .nullable()
    .describe("Repeatability and reproducibility; null: another kind"),
  one_part: z
    .strictObject({
      mean: z.number().describe("Mean of the readings"),
      bias_limits: Limits,
      bias_chance: Chance,
      cg: z
        .number()
        .nullable()
        .describe("Share of the tolerance over the spread; null: no tolerance, or nothing scatters"),
      cgk: z.number().nullable().describe("The same with the bias taken off"),
    })
    .nullable()
    .describe("One part of known size; null: another kind"),
  linearity: z
    .strictObject({
      slope: z.number().describe("Change of the error per unit of size"),
      slope_limits: Limits,
      slope_chance: Chance,
      intercept: z.number().describe("Error at size 0 by the line"),
      intercept_limits: Limits,
      intercept_chance: Chance,
      r_squared: z
        .number()
        .nullable()
        .describe("Share of the scatter that the line explains; null: nothing varies"),
      points: z
        .array(
          z.strictObject({
            reference: z.number().describe("Size of the standard"),
            readings: z.number().int().describe("How often it was read"),
            bias: z.number().describe("Mean error there"),
            line: z.number().describe("Error by the line"),
            line_limits: Limits,
          }),
        )
        .describe("By standards, smallest first"),
    })
    .nullable()
    .describe("Error over the range; null: another kind"),
};
const StudyFigures = z.strictObject(result);
export type StudyFigures = z.infer<typeof StudyFigures>;
export type StudyResult = StudyFigures & Pick<GaugeStudy, "verdict" | "why">;

export const GaugeStudy = z
  .strictObject({
    gauge_study_id: z.string().describe("Identity of the study"),
    gauge_id: z.string().describe("The gauge"),
    kind: Kind.describe(words.kind),
    unit: ShownUnit.describe("Unit of all sizes here"),
    tolerance: z.number().nullable().describe(`${words.tolerance}; null: not given`),
    readings: z.number().int().describe("How many readings it rests on"),
    verdict: Verdict.nullable().describe("By the limits that were asked for; null: nothing to judge by"),
    why: z.string().describe("The same in words, with the limits"),
    ...result,
    note: z.string().nullable().describe("What is worth keeping about it"),
    by: z.string().nullable().describe("Who entered it"),
    created_at: z.iso.datetime().describe("When it was entered"),
    accepted: z
      .strictObject({
        at: z.iso.datetime().describe("When"),
        by: z.string().describe("Who"),
        repeatability_before: z
          .number()
          .nullable()
          .describe("The gauge's repeatability until then; null: none was known"),
      })
      .nullable()
      .describe("Set where somebody has accepted it: its repeatability is the gauge's from then on"),
    voided: Voided,
  })
  .meta({
    id: "GaugeStudy",
    description: "A study of a gauge and what it came to",
    examples: [
      {
        gauge_study_id: "3",
        gauge_id: "5",
        kind: "one_part",
        unit: "mm",
        tolerance: 0.05,
        readings: 6,
        verdict: "fit",
        why: "It reads 0.0017 mm too big in the mean of 6, more than chance makes, and repeats within a standard deviation of 0.0008 mm. Cgk 1.36 is at least 1.33: fit. 6 readings are few: 50 are usual, 25 the usual least.",
        repeatability: 0.00081649658,
        repeatability_limits: [0.00050966, 0.0020025],
        bias: 0.0016666667,
        crossed: null,
        one_part: {
          mean: 25.001667,
          bias_limits: [0.00080981, 0.0025235],
          bias_chance: 0.0041,
          cg: 2.0412415,
          cgk: 1.3608276,
        },
        linearity: null,
        note: null,
        by: "measuring room",
        created_at: "2026-03-02T06:00:10.000Z",
        accepted: { at: "2026-03-02T06:10:00.000Z", by: "measuring room", repeatability_before: 0.0012 },
        voided: null,
      },
    ],
  });
export type GaugeStudy = z.infer<typeof GaugeStudy>;

export const StudyAccept = strict({ by: Name.describe("Who accepts it") }).meta({
  id: "GaugeStudyAccept",
  description: "Takes the study's repeatability for the gauge",
  examples: [{ by: "measuring room" }],
});
export const StudiesPath = strict({ gauge_id: Id.describe("Identity of the gauge") });
export const StudyPath = strict({
  gauge_id: Id.describe("Identity of the gauge"),
  gauge_study_id: Id.describe("Identity of the study"),
});
export const StudyQuery = strict(pageQuery);
export const GaugeStudyList = pageOf("GaugeStudyList", GaugeStudy, "latest first");
