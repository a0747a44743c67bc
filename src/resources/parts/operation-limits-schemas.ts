import { z } from "zod";
import { generalClasses } from "../../core/tolerance/general-tolerance.js";
import { Length, LengthFromZero, Name, PositiveLength, strict, Text } from "../../http/types.js";

const words = {
  operation: "The operation that has these limits; a batch of it goes by them",
  reason: 'Why they are others than the drawing\'s, such as "before grinding"',
  nominal: "Nominal size in this operation; absent: the feature's",
  thickness: "Thickness of the layer on each surface",
  plus_minus: "It may be so much thinner or thicker",
  surfaces:
    "Plated surfaces that the size lies between: 2 for a diameter or a width, 1 where one side is plated",
  thread_angle:
    "Instead of surfaces, where the size is the pitch diameter of a thread: its included angle in degrees. At 60 it grows by 4 times the thickness",
  share:
    "Share of the thickness by which a surface grows: 1 for a plated layer; about 0.5 where half of it grows into the metal, as with anodising",
  plating: "A layer that comes on afterwards: the limits before it are worked out from the final ones",
};

const PlatingCreate = strict({
  thickness: PositiveLength.describe(words.thickness),
  plus_minus: LengthFromZero.default(0).describe(words.plus_minus),
  surfaces: z.literal([1, 2]).optional().describe(words.surfaces),
  thread_angle: z.number().gt(0).lt(180).optional().describe(words.thread_angle),
  share: z.number().gt(0).max(1).default(1).describe(words.share),
}).superRefine((plating, context) => {
  if ((plating.surfaces === undefined) === (plating.thread_angle === undefined)) {
    context.addIssue({
      code: "custom",
      path: ["surfaces"],
      message:
        'or "thread_angle" has to be sent, and only one of them: how many plated surfaces lie in the size',
    });
  }
  if (Number(plating.plus_minus) < Number(plating.thickness)) return;
  context.addIssue({
    code: "custom",
    path: ["plus_minus"],
    message: "is not below the thickness: there may be no layer at all",
  });
});

export type PlatingCreate = z.infer<typeof PlatingCreate>;

const mostOperations = 20;

const OperationLimitsCreate = strict({
  operation: Name.describe(words.operation),
  nominal: Length.optional().describe(words.nominal),
  lower_deviation: Length.optional().describe("Lower limit less nominal; comes with upper_deviation"),
  upper_deviation: Length.optional().describe("Upper limit less nominal; comes with lower_deviation"),
  lower_limit: Length.optional().describe("Lower limit of size in this operation; alone it is one-sided"),
  upper_limit: Length.optional().describe("Upper limit of size in this operation; alone it is one-sided"),
  fit: Name.optional().describe("Tolerance class of ISO 286 in this operation"),
  general_tolerance: z.enum(generalClasses).optional().describe("Class of ISO 2768-1 in this operation"),
  plating: PlatingCreate.optional().describe(words.plating),
  target: Length.optional().describe(
    "The size to aim at in this operation; absent: the middle, or what the plating brings to the feature's target",
  ),
  reason: Text.optional().describe(words.reason),
}).superRefine((limits, context) => {
  const refuse = (field: string, message: string) =>
    context.addIssue({ code: "custom", path: [field], message });
  const deviations = (["lower_deviation", "upper_deviation"] as const).filter(
    (field) => limits[field] !== undefined,
  );
  const sizes = (["lower_limit", "upper_limit"] as const).filter((field) => limits[field] !== undefined);
  const named = (["fit", "general_tolerance", "plating"] as const).filter(
    (field) => limits[field] !== undefined,
  );
  const ways = [deviations[0], sizes[0], ...named].filter((field) => field !== undefined);
  if (ways.length === 0) {
    return refuse(
      "lower_limit",
      "is missing: send lower_limit, upper_limit or both, or lower_deviation and upper_deviation, or fit, general_tolerance or plating",
    );
  }
  if (ways.length > 1) return refuse(ways.at(-1)!, "gives the limits a second way: send one of them");
  if (deviations.length === 1) {
    const missing = deviations[0] === "lower_deviation" ? "upper_deviation" : "lower_deviation";
    return refuse(missing, "is missing: deviations come as a pair");
  }
  if (sizes.length === 1 && limits.target === undefined) {
    return refuse("target", "is missing: a single limit has no middle, so send the size to aim at");
  }
  if (limits.plating && limits.nominal !== undefined) {
    refuse("nominal", "says nothing beside plating, which starts from the final limits: leave it out");
  }
});
export type OperationLimitsCreate = z.infer<typeof OperationLimitsCreate>;

export const OperationLimitsList = z
  .array(OperationLimitsCreate)
  .max(mostOperations)
  .superRefine((list, context) => {
    list.forEach(({ operation }, index) => {
      if (list.findIndex((other) => other.operation === operation) === index) return;
      context.addIssue({
        code: "custom",
        path: [index, "operation"],
        message: `"${operation}" stands here twice: leave one out`,
      });
    });
  });

export const OperationLimits = z
  .strictObject({
    operation: z.string().describe(words.operation),
    nominal: z.string().describe("Nominal size in this operation"),
    lower_limit: z.number().nullable().describe("Lower limit of size in this operation"),
    upper_limit: z.number().nullable().describe("Upper limit of size in this operation"),
    target: z.number().describe("The size to aim at in this operation"),
    limits_from: z
      .enum(["deviations", "limits", "fit", "general_tolerance", "plating"])
      .describe("Which way the limits came about"),
    fit: z.string().nullable().describe("Tolerance class of ISO 286"),
    general_tolerance: z.enum(generalClasses).nullable().describe("Class of ISO 2768-1"),
    plating: z
      .strictObject({
        thickness: z.number().describe(words.thickness),
        plus_minus: z.number().describe(words.plus_minus),
        surfaces: z.number().int().nullable().describe(words.surfaces),
        thread_angle: z.number().nullable().describe(words.thread_angle),
        share: z.number().describe(words.share),
        growth: z.number().describe("What it adds to the size; below 0 for an internal feature"),
      })
      .nullable()
      .describe(words.plating),
    reason: z.string().nullable().describe(words.reason),
  })
  .meta({ id: "OperationLimits", description: "Limits of a feature in an operation before its last" });
export type OperationLimits = z.infer<typeof OperationLimits>;
