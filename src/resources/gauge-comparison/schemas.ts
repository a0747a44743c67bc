import { z } from "zod";
import { Id, Instant, strict } from "../../http/types.js";

export const ComparisonPath = strict({ gauge_id: Id.describe("The gauge that is compared") });
export const ComparisonQuery = strict({
  with: Id.describe("The gauge that it is compared with, such as one in the measuring room"),
  feature_id: Id.optional().describe("Only readings of this feature; absent: of all sizes"),
  from: Instant.optional().describe("Only readings of `gauge_id` from then on"),
  to: Instant.optional().describe("Only readings of `gauge_id` before then"),
});

const Limits = z.array(z.number()).describe("Lower and upper limit at 95 % confidence");
const SizeLimits = z.array(z.number()).nullable();

export const GaugeComparison = z
  .strictObject({
    gauge_id: z.string().describe("The gauge that is compared"),
    with: z.string().describe("The gauge that it is compared with"),
    unit: z.enum(["mm", "inch", "deg"]).describe("Unit of all sizes here: that of `gauge_id`"),
    pairs: z
      .number()
      .int()
      .describe("Pieces that both have read, by feature, cut and place; repeats count as their mean"),
    left_out: z.number().int().describe("How many older pairs there are besides"),
    bias: z
      .number()
      .nullable()
      .describe("Mean of its readings less those of the other; null: fewer than 2 pairs"),
    bias_limits: SizeLimits.describe("Limits of the bias at 95 % confidence"),
    bias_chance: z.number().nullable().describe("Chance of a bias that large where there is none"),
    standard_deviation: z.number().nullable().describe("Standard deviation of the differences"),
    lower_limit_of_agreement: z
      .number()
      .nullable()
      .describe(
        "Bias less 1.96 standard deviations; about 95 % of the differences lie between the two limits",
      ),
    lower_limit_limits: SizeLimits.describe("Its limits at 95 % confidence"),
    upper_limit_of_agreement: z.number().nullable().describe("Bias plus 1.96 standard deviations"),
    upper_limit_limits: SizeLimits.describe("Its limits at 95 % confidence"),
    by_size: z
      .strictObject({
        slope: z.number().describe("Change of the difference per unit of size"),
        slope_limits: Limits,
        slope_chance: z
          .number()
          .nullable()
          .describe("Chance of a slope that large where there is none; null: nothing scatters"),
      })
      .nullable()
      .describe("Whether the difference depends on the size; null: too few pairs or one size"),
    why: z.string().describe("The same in words"),
  })
  .meta({
    id: "GaugeComparison",
    description: "Two gauges on the same pieces",
    examples: [
      {
        gauge_id: "7",
        with: "5",
        unit: "mm",
        pairs: 4,
        left_out: 0,
        bias: 0.003,
        bias_limits: [0.00124, 0.00476],
        bias_chance: 0.0124,
        standard_deviation: 0.0011045361,
        lower_limit_of_agreement: 0.00083510925,
        lower_limit_limits: [-0.00219, 0.00386],
        upper_limit_of_agreement: 0.0051648908,
        upper_limit_limits: [0.00214, 0.00819],
        by_size: { slope: 0.01, slope_limits: [-0.3, 0.32], slope_chance: 0.9 },
        why: "probe of mill 1 reads 0.003 mm more than coordinate machine in the mean of 4 pieces, more than chance makes. Of 100 pieces about 95 differ by 0.0008 mm to 0.0052 mm. 4 pieces are few: 30 or more are usual.",
      },
    ],
  });
export type GaugeComparison = z.infer<typeof GaugeComparison>;
