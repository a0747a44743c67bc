import {
  type ContinuousPlan as Continuous,
  clearanceNumber,
  continuousBehaviour,
  outgoingLimit,
  samplingDenominator,
} from "../../core/sampling/continuous-plan.js";
import {
  type AttributePlan,
  acceptanceProbability,
  qualityAccepted,
  type SamplingModel,
} from "../../core/sampling/operating-characteristic.js";
import { singlePlan } from "../../core/sampling/single-plans.js";
import {
  afterLot,
  type LotResult,
  type SwitchingState,
  switchingStart,
} from "../../core/sampling/switching.js";
import { largestZeroPlan, probabilityOfNone, smallestZeroPlan } from "../../core/sampling/zero-acceptance.js";
import { answer, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import {
  Characteristic,
  CharacteristicQuery,
  ContinuousPlan,
  ContinuousQuery,
  SinglePlan,
  SingleQuery,
  Switching,
  SwitchingQuery,
  ZeroPlan,
  ZeroQuery,
} from "./schemas.js";

const usualProbabilities = [0.99, 0.95, 0.9, 0.75, 0.5, 0.25, 0.1, 0.05, 0.01];

export async function samplingPlanRoutes(app: App) {
  app.get("/sampling-plans/single", {
    schema: {
      operationId: "getSinglePlan",
      summary: "Single sampling plan by attributes for a lot, arrows followed",
      tags: ["sampling-plans"],
      querystring: SingleQuery,
      response: {
        200: answer("The plan", SinglePlan),
        ...problems({ 422: "An AQL above 10 is for nonconformities only" }),
      },
    },
    handler: async ({ query }) => {
      const { lot_size: lotSize, level, aql, inspection, counts } = query;
      if (counts === "nonconforming" && Number(aql) > 10) {
        throw problemAt("unprocessable", [
          {
            pointer: "aql",
            detail: `${aql} is above 10, which is for nonconformities per 100 pieces: send 10 or less, or counts=nonconformities`,
          },
        ]);
      }
      const { codeLetter, planLetter, n, inspectAll, ac, re } = singlePlan(lotSize, level, aql, inspection);
      const arrow =
        planLetter === codeLetter ? "" : `, where an arrow leads to the plan of letter ${planLetter}`;
      const take = inspectAll ? `all ${n} pieces (the sample would not be smaller)` : `${n} pieces`;
      const gap = re > ac + 1 ? ` In between it is accepted, and normal inspection comes back.` : "";
      const model = { model: counts === "nonconforming" ? "binomial" : "poisson" } as const;
      return {
        code_letter: codeLetter,
        plan_letter: planLetter,
        n,
        inspect_all: inspectAll,
        ac,
        re,
        key_points: inspectAll ? [] : keyPoints({ n, ac }, model),
        why: `A lot of ${lotSize} at level ${level} has code letter ${codeLetter}${arrow}; at AQL ${aql} and ${inspection} inspection: ${take}, accepted with ${ac} ${counts} or fewer, rejected with ${re} or more.${gap}`,
      };
    },
  });

  app.get("/sampling-plans/zero-acceptance", {
    schema: {
      operationId: "getZeroAcceptancePlan",
      summary: "Smallest sample that guards against a quality and accepts nothing nonconforming",
      tags: ["sampling-plans"],
      querystring: ZeroQuery,
      response: { 200: answer("The plan", ZeroPlan) },
    },
    handler: async ({ query }) => {
      const { lot_size: lotSize, consumer_risk, producer_risk, aql_percent } = query;
      // What a decimal leaves over in the last digits of a double makes no piece more.
      const bad = Math.max(1, Math.ceil((lotSize * query.ltpd_percent) / 100 - 1e-9));
      const n = smallestZeroPlan(lotSize, bad, consumer_risk);
      const accepted = probabilityOfNone(lotSize, bad, n);
      const few = aql_percent === undefined ? null : Math.floor((lotSize * aql_percent) / 100 + 1e-9);
      const fewAccepted = few === null ? null : probabilityOfNone(lotSize, few, n);
      const largest = few === null ? null : largestZeroPlan(lotSize, few, producer_risk);
      const both =
        largest === null
          ? ""
          : largest >= n
            ? ` A lot with ${few} bad ones is accepted with probability ${sayShare(fewAccepted!)}.`
            : ` No plan without acceptance number does both: a lot with ${few} bad ones is then accepted with probability ${sayShare(fewAccepted!)} only; a sample of ${largest} at most would keep the producer's risk.`;
      return {
        n,
        ac: 0 as const,
        ltpd_nonconforming: bad,
        ltpd_accepted: accepted,
        aql_nonconforming: few,
        aql_accepted: fewAccepted,
        largest_n: largest,
        why: `A lot of ${lotSize} with ${bad} bad ${bad === 1 ? "piece" : "pieces"} is accepted with probability ${sayShare(accepted)} when ${n} are inspected.${both}`,
      };
    },
  });

  app.get("/sampling-plans/continuous", {
    schema: {
      operationId: "getContinuousPlan",
      summary: "Continuous plan CSP-1: any two of AOQL, clearance number and fraction give the third",
      tags: ["sampling-plans"],
      querystring: ContinuousQuery,
      response: {
        200: answer("The plan and how it behaves", ContinuousPlan),
        ...problems({ 422: "Not two of the three are given, or no plan keeps the AOQL" }),
      },
    },
    handler: async ({ query }) => {
      const { bad_pieces: bad, percent } = query;
      const { i, k } = designContinuous(query);
      const plan: Continuous = { i, f: 1 / k };
      const { aoql, atP } = outgoingLimit(plan, bad);
      const found = percent === undefined ? undefined : continuousBehaviour(plan, percent / 100);
      return {
        i,
        f_denominator: k,
        bad_pieces: bad,
        aoql_percent: 100 * aoql,
        at_percent: 100 * atP,
        behaviour: found
          ? {
              percent: percent!,
              outgoing_percent: 100 * found.outgoing[bad],
              fraction_inspected: found.averageFractionInspected,
              accepted_by_sampling: found.acceptedBySampling,
              full_inspection: finite(found.fullInspection),
              sampling: found.sampling,
            }
          : null,
        why: `Inspect every piece until ${i} in a row are good, then 1 in ${k}; a bad one brings back inspection of every piece. At worst ${sayShare(100 * aoql)} % bad get through on average, with ${sayShare(100 * atP)} % bad in production.`,
      };
    },
  });

  app.get("/sampling-plans/operating-characteristic", {
    schema: {
      operationId: "getOperatingCharacteristic",
      summary: "How often a plan accepts which quality, as numbers for a chart",
      tags: ["sampling-plans"],
      querystring: CharacteristicQuery,
      response: {
        200: answer("The curve", Characteristic),
        ...problems({ 422: "Sample, acceptance number, lot and range do not go together" }),
      },
    },
    handler: async ({ query }) => {
      const { plan, model, from, to } = checkedCharacteristic(query);
      const step = (to - from) / (query.points - 1);
      const asked = Array.from({ length: query.points }, (_, k) => from + k * step);
      const qualities =
        model.model === "hypergeometric"
          ? [...new Set(asked.map((p) => Math.round(p * model.lotSize) / model.lotSize))]
          : asked;
      return {
        points: qualities.map((p) => ({ percent: 100 * p, accepted: acceptanceProbability(plan, p, model) })),
        key_points: keyPoints(plan, model),
      };
    },
  });

  app.get("/sampling-plans/switching", {
    schema: {
      operationId: "getSwitching",
      summary: "Which inspection is due after the lots so far: normal, tightened, reduced or none",
      tags: ["sampling-plans"],
      querystring: SwitchingQuery,
      response: { 200: answer("The lots with their inspection, and what comes next", Switching) },
    },
    handler: async ({ query }) => {
      const { ac, reduced_allowed: reducedAllowed } = query;
      const lots = [];
      let state: SwitchingState = switchingStart;
      let before: SwitchingState["inspection"] = "normal";
      let changedBy = 0;
      for (const [index, letter] of [...query.lots].entries()) {
        const result = letter as keyof typeof results;
        const after = afterLot(state, results[result], { ac, reducedAllowed });
        lots.push({ lot: index + 1, inspection: state.inspection, result, score: after.score });
        if (after.inspection !== state.inspection) [before, changedBy] = [state.inspection, index + 1];
        state = after;
      }
      return { lots, next: state.inspection, why: saySwitch(before, state, changedBy) };
    },
  });
}

const results: Record<"A" | "T" | "B" | "R", LotResult> = {
  A: "accepted",
  T: "accepted_tighter",
  B: "between",
  R: "rejected",
};

function saySwitch(
  before: SwitchingState["inspection"],
  { inspection }: SwitchingState,
  lot: number,
): string {
  if (lot === 0) return "Nothing has called for another inspection: normal.";
  const from = `${inspection} since lot ${lot}`;
  switch (inspection) {
    case "tightened":
      return `2 of at most 5 lots in a row were rejected on normal inspection: ${from}.`;
    case "discontinued":
      return `5 lots were rejected on tightened inspection: ${from}. Nothing more is accepted until the process has been improved.`;
    case "reduced":
      return `The switching score reached 30 and reduced inspection is agreed: ${from}.`;
    case "normal":
      return before === "tightened"
        ? `5 lots in a row were accepted on tightened inspection: ${from}.`
        : `A lot was rejected or lay between Ac and Re, or the conditions for reduced inspection are gone: ${from}.`;
  }
}

function keyPoints(plan: AttributePlan, model: SamplingModel) {
  return usualProbabilities.map((accepted) => ({
    accepted,
    percent: Number((100 * qualityAccepted(plan, accepted, model)).toPrecision(6)),
  }));
}

interface ContinuousAsked {
  aoql_percent?: number | undefined;
  i?: number | undefined;
  f_denominator?: number | undefined;
  bad_pieces: "removed" | "replaced";
}

/** The third of AOQL, clearance number and fraction. */
function designContinuous({ aoql_percent, i, f_denominator: k, bad_pieces }: ContinuousAsked) {
  if ([aoql_percent, i, k].filter((given) => given !== undefined).length !== 2) {
    throw problemAt("unprocessable", [
      {
        pointer: "aoql_percent",
        detail: "give exactly two of aoql_percent, i and f_denominator: the third follows",
      },
    ]);
  }
  if (i === 1 && bad_pieces === "removed") {
    throw problemAt("unprocessable", [
      { pointer: "i", detail: "with i = 1 and bad pieces only taken out there is no limit: send 2 or more" },
    ]);
  }
  if (aoql_percent === undefined) return { i: i!, k: k! };
  if (i === undefined) return { i: clearanceNumber(aoql_percent / 100, 1 / k!, bad_pieces), k: k! };
  const found = samplingDenominator(aoql_percent / 100, i, bad_pieces);
  if (found === undefined) {
    throw problemAt("unprocessable", [
      {
        pointer: "i",
        detail: `with ${i} not even 1 in 2 keeps an AOQL of ${aoql_percent} %: raise i, or inspect every piece`,
      },
    ]);
  }
  return { i, k: found };
}

interface CharacteristicAsked {
  n: number;
  ac: number;
  model: SamplingModel["model"];
  lot_size?: number | undefined;
  from_percent?: number | undefined;
  to_percent?: number | undefined;
}

function checkedCharacteristic(query: CharacteristicAsked) {
  const { n, ac, lot_size } = query;
  const refuse = (pointer: string, detail: string) => problemAt("unprocessable", [{ pointer, detail }]);
  if (ac >= n && query.model !== "poisson") {
    throw refuse("ac", `a sample of ${n} with ${ac} accepted rejects nothing: send a number below n`);
  }
  if (query.model === "hypergeometric") {
    if (lot_size === undefined) throw refuse("lot_size", "is missing: hypergeometric is about one lot");
    if (n > lot_size) throw refuse("n", `a lot of ${lot_size} has no ${n} pieces`);
  } else if (lot_size !== undefined) {
    throw refuse("lot_size", "goes with model=hypergeometric only: leave it out");
  }
  const model: SamplingModel =
    query.model === "hypergeometric" ? { model: query.model, lotSize: lot_size! } : { model: query.model };
  const plan = { n, ac };
  const from = (query.from_percent ?? 0) / 100;
  const to = query.to_percent === undefined ? qualityAccepted(plan, 0.001, model) : query.to_percent / 100;
  if (to <= from) throw refuse("to_percent", `must lie above from_percent, ${100 * from}`);
  if (to > 1 && query.model !== "poisson") throw refuse("to_percent", "cannot lie above 100");
  return { plan, model, from, to };
}

/** Where nearly everything is bad full inspection never ends in practice; JSON has no infinity. */
function finite(value: number): number {
  return Math.min(value, Number.MAX_VALUE);
}

function sayShare(value: number): string {
  return String(Number(value.toPrecision(3)));
}
