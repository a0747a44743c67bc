import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type DecisionRule,
  decideConformity,
  decisionLimits,
  disposeNonconforming,
  metalSide,
  type Requirement,
  toleranceUsed,
  type Verdict,
} from "../../../src/core/tolerance/decide-conformity.js";
import { pm } from "../../support/blocks.js";
import { readData, tradeCase } from "../data/read-data.js";

interface ZoneCase {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { y: number; lsl: number | null; usl: number | null; U: number };
  expected: { verdict: "conform" | "undecided" | "nonconform" };
}

const cases = readData<ZoneCase[]>("decision-rules.json");
const zones = cases.filter((rule) => rule.kind === "zone-verdict");
const verdicts = { conform: "conforming", undecided: "uncertain", nonconform: "nonconforming" } as const;
const rules: readonly DecisionRule[] = ["simple", "guarded_acceptance", "guarded_rejection", "iso_14253"];
const rank: Record<Verdict, number> = { conforming: 0, uncertain: 1, nonconforming: 2 };

const simple: Requirement = {
  lowerPm: 10,
  upperPm: 20,
  rule: "simple",
  guardBandFactor: 1,
  expandedUncertaintyPm: undefined,
};
const guarded: Requirement = { ...simple, rule: "guarded_acceptance", expandedUncertaintyPm: 3 };

const requirement = fc.record({
  lowerPm: fc.option(fc.integer({ min: 0, max: 12 }), { nil: undefined }),
  upperPm: fc.integer({ min: 13, max: 30 }),
  rule: fc.constantFrom(...rules),
  guardBandFactor: fc.constantFrom(0, 0.5, 0.825, 1, 1.5, 2),
  expandedUncertaintyPm: fc.option(fc.integer({ min: 0, max: 12 }), { nil: undefined }),
});
const anySize = fc.integer({ min: -40, max: 80 });

describe("decideConformity", () => {
  // Around 10 to 20 with g = 3: the verdict at each end of a zone and one picometre to either side of it.
  it.each<[DecisionRule, Verdict[]]>([
    ["simple", ["nonconforming", "nonconforming", "nonconforming", "conforming", "conforming", "conforming"]],
    [
      "guarded_acceptance",
      ["nonconforming", "nonconforming", "nonconforming", "uncertain", "uncertain", "conforming"],
    ],
    [
      "guarded_rejection",
      ["nonconforming", "uncertain", "uncertain", "conforming", "conforming", "conforming"],
    ],
    ["iso_14253", ["nonconforming", "uncertain", "uncertain", "uncertain", "uncertain", "conforming"]],
  ])(
    "%s, to one picometre at every end of a zone (JCGM 106:2012 8.2, 8.3; ISO 14253-1, from memory)",
    (rule, expected) => {
      const atLower = [6, 7, 9, 10, 12, 13];
      const atUpper = atLower.map((size) => 30 - size);
      const decide = (size: number) => decideConformity(size, { ...guarded, rule });

      expect(atLower.map(decide)).toEqual(expected);
      expect(atUpper.map(decide)).toEqual(expected);
    },
  );

  it("proves nothing where the tolerance is narrower than two guard bands", () => {
    const narrow = { ...guarded, expandedUncertaintyPm: 6 };

    expect([10, 14, 15, 16, 20].map((size) => decideConformity(size, narrow))).toEqual(
      Array(5).fill("uncertain"),
    );
  });

  it("takes the guard band as r·U, to the nearest picometre", () => {
    expect(decisionLimits({ ...guarded, guardBandFactor: 0.825 })).toEqual({
      guardBandPm: 2,
      acceptance: { lowerPm: 12, upperPm: 18 },
      rejection: { lowerPm: 10, upperPm: 20 },
    });
    expect(decisionLimits({ ...guarded, rule: "iso_14253", guardBandFactor: 1.5 })).toEqual({
      guardBandPm: 5,
      acceptance: { lowerPm: 15, upperPm: 15 },
      rejection: { lowerPm: 5, upperPm: 25 },
    });
  });

  it("keeps to the rules of ISO 14253-1 that the reference names, one edge apart", () => {
    const [reference] = cases;

    expect(reference).toMatchObject({
      id: "zones",
      expected: {
        conform: "LSL + U < y < USL - U",
        nonconform: "y < LSL - U or y > USL + U",
        undecided: "otherwise",
      },
    });
    // Exactly on LSL + U the editions differ: here it conforms, as on every other limit.
    expect(decideConformity(13, { ...guarded, rule: "iso_14253" })).toBe("conforming");
    expect(decideConformity(23, { ...guarded, rule: "iso_14253" })).toBe("uncertain");
  });

  it.each(zones)("$id: $what ($source)", ({ inputs, expected }) => {
    const verdict = decideConformity(pm(inputs.y), {
      lowerPm: inputs.lsl === null ? undefined : pm(inputs.lsl),
      upperPm: inputs.usl === null ? undefined : pm(inputs.usl),
      rule: "iso_14253",
      guardBandFactor: 1,
      expandedUncertaintyPm: pm(inputs.U),
    });

    expect(verdict).toBe(verdicts[expected.verdict]);
  });

  it(`GA-04: inside the limits, but not proved (${tradeCase("GA-04").source})`, () => {
    const { inputs, expected } = tradeCase("GA-04");
    for (const rule of ["guarded_acceptance", "iso_14253"] as const) {
      const bore: Requirement = {
        lowerPm: pm(inputs.lower_limit!),
        upperPm: pm(inputs.upper_limit!),
        rule,
        guardBandFactor: 1,
        expandedUncertaintyPm: pm(inputs.U!),
      };

      expect(decideConformity(pm(inputs.reading!), bore)).toBe("uncertain");
      expect(decideConformity(pm(expected.accept_low!), bore)).toBe("conforming");
      expect(decideConformity(pm(expected.accept_low!) - 1, bore)).toBe("uncertain");
      expect(decideConformity(pm(expected.accept_high!), bore)).toBe("conforming");
      expect(decideConformity(pm(expected.accept_high!) + 1, bore)).toBe("uncertain");
    }
  });

  it(`GA-05: outside the limits, but not proved bad (${tradeCase("GA-05").source})`, () => {
    const { inputs, expected } = tradeCase("GA-05");
    for (const rule of ["guarded_rejection", "iso_14253"] as const) {
      const bore: Requirement = {
        lowerPm: undefined,
        upperPm: pm(inputs.upper_limit!),
        rule,
        guardBandFactor: 1,
        expandedUncertaintyPm: pm(inputs.U!),
      };

      expect(decideConformity(pm(inputs.reading!), bore)).toBe("uncertain");
      expect(decideConformity(pm(expected.reject_from!), bore)).toBe("uncertain");
      expect(decideConformity(pm(expected.reject_from!) + 1, bore)).toBe("nonconforming");
    }
  });

  it.each<[DecisionRule, Verdict, Verdict, Verdict]>([
    ["simple", "conforming", "conforming", "nonconforming"],
    ["guarded_acceptance", "uncertain", "uncertain", "nonconforming"],
    ["guarded_rejection", "conforming", "conforming", "uncertain"],
    ["iso_14253", "uncertain", "uncertain", "uncertain"],
  ])("%s without a known U: %s in the middle, %s on a limit, %s beyond", (rule, middle, limit, beyond) => {
    const unknown = { ...simple, rule };

    expect([15, 20, 21].map((size) => decideConformity(size, unknown))).toEqual([middle, limit, beyond]);
    expect(decisionLimits(unknown).guardBandPm).toBe(rule === "simple" ? 0 : undefined);
  });

  it.each(rules)("%s knows no limit on the side that has none", (rule) => {
    const above = { ...guarded, rule, upperPm: undefined };
    const below = { ...guarded, rule, lowerPm: undefined };

    expect(decideConformity(1e15, above)).toBe("conforming");
    expect(decideConformity(-1e15, below)).toBe("conforming");
    expect(decideConformity(6, above)).toBe("nonconforming");
    expect(decideConformity(24, below)).toBe("nonconforming");
    expect(decisionLimits(above)).toMatchObject({
      acceptance: { upperPm: undefined },
      rejection: { upperPm: undefined },
    });
  });

  it("never gets better the further a size moves out towards a limit and beyond", () => {
    fc.assert(
      fc.property(requirement, anySize, anySize, (asked, a, b) => {
        const middle = ((asked.lowerPm ?? asked.upperPm) + asked.upperPm) / 2;
        const [near, far] = Math.abs(a - middle) <= Math.abs(b - middle) ? [a, b] : [b, a];
        const oneSide = asked.lowerPm === undefined;
        const [inner, outer] = oneSide ? [Math.min(a, b), Math.max(a, b)] : [near, far];

        expect(rank[decideConformity(outer, asked)]).toBeGreaterThanOrEqual(
          rank[decideConformity(inner, asked)],
        );
      }),
    );
  });

  it("accepts under a guard band nothing that simple acceptance rejects, and rejects nothing it accepts", () => {
    fc.assert(
      fc.property(requirement, anySize, (asked, size) => {
        const verdict = decideConformity(size, asked);
        const plain = decideConformity(size, { ...asked, rule: "simple" });

        if (plain === "nonconforming") expect(verdict).not.toBe("conforming");
        else expect(verdict).not.toBe("nonconforming");
      }),
    );
  });

  it("decides nothing with a larger U, or a larger factor, that it left open with a smaller one", () => {
    const more = fc.integer({ min: 0, max: 20 });
    fc.assert(
      fc.property(
        requirement,
        anySize,
        more,
        fc.double({ min: 0, max: 3, noNaN: true }),
        (asked, size, u, r) => {
          fc.pre(asked.expandedUncertaintyPm !== undefined);
          const larger = {
            ...asked,
            expandedUncertaintyPm: asked.expandedUncertaintyPm! + u,
            guardBandFactor: asked.guardBandFactor + r,
          };

          if (decideConformity(size, asked) === "uncertain") {
            expect(decideConformity(size, larger)).toBe("uncertain");
          }
        },
      ),
    );
  });

  it.each([
    { guardBandFactor: -0.1 },
    { guardBandFactor: Number.NaN },
    { guardBandFactor: Number.POSITIVE_INFINITY },
    { expandedUncertaintyPm: -1 },
    { expandedUncertaintyPm: Number.NaN },
  ])("throws for %j", (change) => {
    expect(() => decideConformity(15, { ...guarded, ...change })).toThrow(RangeError);
  });
});

describe("toleranceUsed", () => {
  it.each([
    [15, 0],
    [20, 1],
    [10, 1],
    [17.5, 0.5],
    [25, 2],
    [5, 2],
  ])("of %d in 10 to 20 around 15 is %d", (size, share) => {
    expect(toleranceUsed(size, 15, 10, 20)).toBe(share);
  });

  it("counts to the limit on the side of the deviation where the target stands off the middle", () => {
    expect(toleranceUsed(18, 16, 10, 20)).toBe(0.5);
    expect(toleranceUsed(13, 16, 10, 20)).toBe(0.5);
  });

  it("is unknown on the side without a limit, 0 on target", () => {
    expect(toleranceUsed(16, 15, 10, undefined)).toBeUndefined();
    expect(toleranceUsed(14, 15, undefined, 20)).toBeUndefined();
    expect(toleranceUsed(15, 15, undefined, 20)).toBe(0);
  });
});

describe("disposeNonconforming", () => {
  it.each([
    ["ML-01", "internal", "rework"],
    ["ML-04", "external", "scrap"],
    ["ML-05", "internal", "scrap"],
    ["ML-07", "external", "rework"],
    ["TR-01", "external", "rework"],
    ["TR-03", "internal", "rework"],
    ["TR-04", "internal", "scrap"],
    ["TR-06", "length", "rework"],
    ["LN-01", "depth", "scrap"],
    ["LN-02", "depth", "rework"],
  ] as const)("%s: %s, %s", (id, kind, disposition) => {
    const { inputs, source } = tradeCase(id);
    const [lowerPm, upperPm] = [pm(inputs.lower_limit!), pm(inputs.upper_limit!)];
    const sizePm = pm(inputs.measured!);

    const verdict = decideConformity(sizePm, { ...simple, lowerPm, upperPm });

    expect(verdict, source).toBe("nonconforming");
    expect(disposeNonconforming(sizePm, upperPm, metalSide[kind]), source).toBe(disposition);
  });

  it("takes a height like an outside size: too high has metal left (common practice, no source)", () => {
    expect(disposeNonconforming(21, 20, metalSide.height)).toBe("rework");
    expect(disposeNonconforming(9, 20, metalSide.height)).toBe("scrap");
  });

  it("knows a size that is out of a lower limit alone for too small", () => {
    expect(disposeNonconforming(9, undefined, 1)).toBe("scrap");
    expect(disposeNonconforming(9, undefined, -1)).toBe("rework");
  });

  it("gives opposite answers beyond the two limits, and for the two sides of the metal", () => {
    const beyond = fc.integer({ min: 1, max: 1e9 });
    fc.assert(
      fc.property(beyond, beyond, fc.constantFrom(1 as const, -1 as const), (above, below, metal) => {
        const [large, small] = [20 + above, 10 - below];

        expect(disposeNonconforming(large, 20, metal)).not.toBe(disposeNonconforming(small, 20, metal));
        expect(disposeNonconforming(large, 20, metal)).toBe(metal === 1 ? "rework" : "scrap");
      }),
    );
  });
});
