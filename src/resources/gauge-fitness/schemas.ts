import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Name, strict } from "../../http/types.js";

export const RatedGauge = z
  .strictObject({
    gauge_id: z.string().describe("The gauge"),
    name: z.string().describe("What the shop calls it"),
    kind: z.string().describe("Sort of gauge"),
    reference: z.boolean().describe("Whether it may prove a size"),
    calibration_due: z.iso.date().nullable().describe("The last day on which its calibration holds"),
    fitness: z
      .enum(["ample", "fit", "marginal", "too_coarse"])
      .describe(
        "By `capability_index`: `ample` from 10, `fit` from 4, `marginal` below; `too_coarse` where it proves and steers nothing, below 2 with the target in the middle. With fewer than 10 steps of the display in the tolerance at most `marginal`",
      ),
    test_ratio: z
      .number()
      .nullable()
      .describe("Tolerance over twice the expanded uncertainty; null: it is not known"),
    capability_index: z
      .number()
      .describe(
        "Tolerance over four times the standard uncertainty, which is the larger of what is claimed and what repeatability and display leave (JCGM 106)",
      ),
    resolution_ratio: z
      .number()
      .describe("Steps of its display in the tolerance; 10 are the least to start with"),
    why: z.string().describe("The rating in words"),
  })
  .meta({
    id: "RatedGauge",
    description:
      "How far a gauge is up to a feature; one-sided, twice the way from target to limit is the tolerance",
    examples: [
      {
        gauge_id: "5",
        name: "micrometer 0-25 no. 3",
        kind: "micrometer",
        reference: true,
        calibration_due: "2027-03-01",
        fitness: "ample",
        test_ratio: 16.67,
        capability_index: 16.67,
        resolution_ratio: 100,
        why: "Tolerance over twice its expanded uncertainty of 0.003 mm: 16.7 to 1, better than the rule of ten.",
      },
    ],
  });
export type RatedGauge = z.infer<typeof RatedGauge>;

export const FeaturePath = strict({ feature_id: Id.describe("The feature") });
export const FitnessQuery = strict({
  ...pageQuery,
  operation: Name.optional().describe(
    "Rate for the limits that the feature has in this operation; absent, or without limits of its own there: the one that the feature is made in",
  ),
});
export const RatedGaugeList = pageOf("RatedGaugeList", RatedGauge, "finest first");
