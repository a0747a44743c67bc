import { z } from "zod";
import { inspectionLevels, preferredAqls } from "../../core/sampling/single-plans.js";
import { strict } from "../../http/types.js";

/** Pure questions about sampling by attributes: nothing is kept, and the check plan of a batch is another matter. */

const largestLot = 10_000_000;

function whole(from: number, to: number, text: string) {
  const error = `must be a whole number from ${from} to ${to}`;
  return z
    .string()
    .refine((value) => /^\d{1,9}$/.test(value) && Number(value) >= from && Number(value) <= to, error)
    .transform(Number)
    .meta({ type: "integer", minimum: from, maximum: to, description: text });
}

/** Above `from`, up to `to` or below it. */
function share(to: number, text: string, isBelow = true) {
  const error = `must be a decimal above 0 and ${isBelow ? "below" : "up to"} ${to}`;
  return z
    .string()
    .refine((value) => {
      const number = /^\d{1,9}(\.\d{1,12})?$/.test(value) ? Number(value) : Number.NaN;
      return number > 0 && (isBelow ? number < to : number <= to);
    }, error)
    .transform(Number)
    .meta({
      type: "number",
      exclusiveMinimum: 0,
      [isBelow ? "exclusiveMaximum" : "maximum"]: to,
      description: text,
    });
}

const words = {
  lot: "Pieces in the lot",
  n: "Pieces to inspect",
  ac: "Acceptance number: with so many nonconforming or fewer the lot is accepted",
  percent: "Percent nonconforming (nonconformities per 100 pieces under `poisson`)",
  bad: "`removed`: bad pieces found are taken out; `replaced`: good ones take their place",
};

const Inspection = z.enum(["normal", "tightened", "reduced"]);

export const SingleQuery = strict({
  lot_size: whole(2, largestLot, words.lot),
  level: z.enum(inspectionLevels).default("II").describe("Inspection level; II if absent"),
  aql: z
    .enum(preferredAqls)
    .describe("Acceptance quality limit, one of the preferred values: percent nonconforming up to 10"),
  inspection: Inspection.default("normal").describe("`normal` if absent; GET …/switching says which is due"),
  counts: z
    .enum(["nonconforming", "nonconformities"])
    .default("nonconforming")
    .describe(
      "Pieces that are not right, or faults of which a piece may have several: these alone go beyond 10",
    ),
});

const KeyPoint = z.strictObject({
  accepted: z.number().describe("Probability with which a lot of this quality is accepted"),
  percent: z.number().describe(words.percent),
});

export const SinglePlan = z
  .strictObject({
    code_letter: z.string().describe("Sample size code letter of the lot"),
    plan_letter: z.string().describe("Letter whose plan holds: another one where an arrow led there"),
    n: z.number().int().describe(`${words.n}; the whole lot where the sample would not be smaller`),
    inspect_all: z.boolean().describe("True: every piece is inspected"),
    ac: z.number().int().describe(words.ac),
    re: z.number().int().describe("Rejection number: with so many or more it is rejected"),
    key_points: z
      .array(KeyPoint)
      .describe("What the plan accepts how often, in the long run; empty where every piece is inspected"),
    why: z.string().describe("How it was found, in words"),
  })
  .meta({
    id: "SinglePlan",
    description: "A single sampling plan by attributes (MIL-STD-105E; in the main equal to ISO 2859-1)",
    examples: [
      {
        code_letter: "H",
        plan_letter: "H",
        n: 50,
        inspect_all: false,
        ac: 1,
        re: 2,
        key_points: [{ accepted: 0.95, percent: 0.7152 }],
        why: "A lot of 500 at level II has code letter H; at AQL 1.0 and normal inspection: 50 pieces, accepted with 1 nonconforming or fewer, rejected with 2 or more.",
      },
    ],
  });

export const ZeroQuery = strict({
  lot_size: whole(2, largestLot, words.lot),
  ltpd_percent: share(
    100,
    "Quality that must hardly ever be accepted (lot tolerance percent defective)",
    false,
  ),
  consumer_risk: share(1, "How often it may be accepted all the same; 0.1 if absent").default(0.1),
  aql_percent: share(
    100,
    "Quality that should nearly always be accepted; absent: not asked about",
  ).optional(),
  producer_risk: share(1, "How often that may be rejected all the same; 0.05 if absent").default(0.05),
});

export const ZeroPlan = z
  .strictObject({
    n: z
      .number()
      .int()
      .describe("Smallest sample that guards against the LTPD, accepted only without a bad piece"),
    ac: z.literal(0).describe("Nothing nonconforming is accepted"),
    ltpd_nonconforming: z.number().int().describe("Bad pieces in a lot at the LTPD, rounded up"),
    ltpd_accepted: z.number().describe("How often such a lot is accepted, exactly"),
    aql_nonconforming: z
      .number()
      .int()
      .nullable()
      .describe("Bad pieces in a lot at the AQL, rounded down; null: not asked"),
    aql_accepted: z.number().nullable().describe("How often such a lot is accepted"),
    largest_n: z
      .number()
      .int()
      .nullable()
      .describe(
        "Largest sample that keeps the producer's risk; below `n` no plan without acceptance number does both",
      ),
    why: z.string().describe("The same in words"),
  })
  .meta({
    id: "ZeroAcceptancePlan",
    description: "A sampling plan that accepts nothing nonconforming, exact for the lot (hypergeometric)",
    examples: [
      {
        n: 186,
        ac: 0,
        ltpd_nonconforming: 5,
        ltpd_accepted: 0.099,
        aql_nonconforming: null,
        aql_accepted: null,
        largest_n: null,
        why: "A lot of 500 with 5 bad pieces is accepted with probability 0.099 when 186 are inspected.",
      },
    ],
  });

export const ContinuousQuery = strict({
  aoql_percent: share(100, "Average outgoing quality limit, percent").optional(),
  i: whole(1, 1_000_000, "Clearance number: good pieces in a row that end full inspection").optional(),
  f_denominator: whole(2, 1_000_000, "1 in so many is inspected while sampling").optional(),
  bad_pieces: z
    .enum(["removed", "replaced"])
    .default("removed")
    .describe(`${words.bad}; \`removed\` if absent`),
  percent: share(100, "Percent bad in production, to say how the plan behaves then").optional(),
});

export const ContinuousPlan = z
  .strictObject({
    i: z.number().int().describe("Clearance number: good pieces in a row that end full inspection"),
    f_denominator: z.number().int().describe("1 in so many is inspected while sampling"),
    bad_pieces: z.enum(["removed", "replaced"]).describe(words.bad),
    aoql_percent: z.number().describe("Largest average share of bad pieces that can get through, percent"),
    at_percent: z.number().describe("Percent bad in production at which that happens"),
    behaviour: z
      .strictObject({
        percent: z.number().describe("Percent bad in production"),
        outgoing_percent: z.number().describe("Average outgoing quality, percent bad"),
        fraction_inspected: z.number().describe("Share of all pieces that is inspected, on average"),
        accepted_by_sampling: z.number().describe("Share of the pieces that pass while sampling"),
        full_inspection: z.number().describe("Pieces in a run of full inspection, on average"),
        sampling: z.number().describe("Pieces in a run of sampling, on average"),
      })
      .nullable()
      .describe("How it behaves at the percentage asked about; null: none was"),
    why: z.string().describe("The plan in words"),
  })
  .meta({
    id: "ContinuousPlan",
    description: "Dodge's continuous sampling plan CSP-1 (1943; MIL-STD-1235B)",
    examples: [
      {
        i: 111,
        f_denominator: 10,
        bad_pieces: "removed",
        aoql_percent: 0.997,
        at_percent: 1.89,
        behaviour: null,
        why: "Inspect every piece until 111 in a row are good, then 1 in 10; a bad one brings back inspection of every piece.",
      },
    ],
  });

export const CharacteristicQuery = strict({
  n: whole(1, 1_000_000, words.n),
  ac: whole(0, 1_000_000, words.ac),
  model: z
    .enum(["binomial", "hypergeometric", "poisson"])
    .default("binomial")
    .describe(
      "`binomial`: lots from a long-running process; `hypergeometric`: one lot, whose `lot_size` is needed; `poisson`: nonconformities",
    ),
  lot_size: whole(1, largestLot, words.lot).optional(),
  from_percent: share(1000, "First percentage; absent: near 0", false).optional(),
  to_percent: share(
    1000,
    "Last percentage; absent: where one lot in a thousand is accepted",
    false,
  ).optional(),
  points: whole(2, 200, "How many points; 50 if absent").default(50),
});

export const Characteristic = z
  .strictObject({
    points: z
      .array(
        z.strictObject({
          percent: z.number().describe(words.percent),
          accepted: z.number().describe("Probability of acceptance"),
        }),
      )
      .describe("The curve, from good to bad; of a lot only what whole pieces make"),
    key_points: z.array(KeyPoint).describe("The qualities accepted with the usual probabilities"),
  })
  .meta({
    id: "OperatingCharacteristic",
    description: "How often a plan accepts which quality",
    examples: [
      {
        points: [{ percent: 1, accepted: 0.9106 }],
        key_points: [{ accepted: 0.95, percent: 0.7152 }],
      },
    ],
  });

export const SwitchingQuery = strict({
  lots: z
    .string()
    .regex(/^[ATBR]{0,500}$/, "must be made of the letters A, T, B and R, one for each lot, at most 500")
    .describe(
      "Results of the lots in order, original inspection only: A accepted, T accepted and would also be at the next tighter AQL, B more than Ac but fewer than Re (reduced), R rejected",
    ),
  ac: whole(0, 1_000_000, "Acceptance number in force: it decides what a lot scores; 0 if absent").default(0),
  reduced_allowed: z
    .string()
    .refine((text) => text === "true" || text === "false", 'must be "true" or "false"')
    .transform((text) => text === "true")
    .default(false)
    .meta({
      type: "boolean",
      description: "Production is steady and the responsible authority agrees to reduced inspection",
    }),
});

const State = z.enum(["normal", "tightened", "reduced", "discontinued"]);

export const Switching = z
  .strictObject({
    lots: z
      .array(
        z.strictObject({
          lot: z.number().int().describe("Number of the lot in the list"),
          inspection: State.describe("Inspection that it falls under"),
          result: z.enum(["A", "T", "B", "R"]).describe("Its result"),
          score: z.number().int().describe("Switching score after it"),
        }),
      )
      .describe("The lots in order"),
    next: State.describe(
      "Inspection of the next lot; `discontinued`: none until the process has been improved",
    ),
    why: z.string().describe("What brought it about, in words"),
  })
  .meta({
    id: "Switching",
    description: "Which inspection is due after some lots (MIL-STD-105E, 4.7; ISO 2859-1:1999, 9.3)",
    examples: [
      {
        lots: [
          { lot: 1, inspection: "normal", result: "R", score: 0 },
          { lot: 2, inspection: "normal", result: "R", score: 0 },
        ],
        next: "tightened",
        why: "2 of at most 5 lots in a row were rejected on normal inspection: tightened from the next lot on.",
      },
    ],
  });
