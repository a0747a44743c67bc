import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import {
  type Answer,
  adviceOf,
  expectChange,
  expectLeftAlone,
  kindsOf,
  startJob,
} from "../support/trade-job.js";

const { api } = await createTestApp();

const lathe = { kind: "lathe" };
const x = { controls: "x", holds: "diameter" } as const;
const radial = { controls: "radial", holds: "radius" } as const;

/** Posts what the places of a piece measured at once, and answers what follows. */
function readPlaces(
  job: Awaited<ReturnType<typeof startJob>>,
  piece: number,
  sizes: Record<string, number>,
  more: object = {},
): Promise<Answer> {
  const body = Object.entries(sizes).map(([place, value]) => ({
    feature_id: job.featureId(),
    batch_id: job.batchId,
    piece,
    place,
    value,
    unit: "mm",
    ...more,
  }));
  return job.post("/v1/readings", body, 201);
}

const noChange = (answer: Answer) =>
  expect(answer.corrections.filter(({ change }: Answer) => change !== 0)).toEqual([]);

describe("one size at several places", () => {
  it(titleOf("TR-09", "a taper inside the tolerance: the middle of both ends is aimed at"), async () => {
    const { given, expected } = tradeCase("TR-09");
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [
        {
          kind: "external",
          nominal: "25",
          lower_limit: given("lower_limit"),
          upper_limit: given("upper_limit"),
          target: given("target"),
          places: ["end 1", "end 2"],
        },
      ],
    });

    const answer = await readPlaces(job, 1, { "end 1": given("end1"), "end 2": given("end2") });

    const change = expectChange(answer, expected("change"));
    const after = change.features.map((feature: Answer) => [feature.place, feature.expected_after]);
    expect(after.map(([place]: [string]) => place)).toEqual(["end 1", "end 2"]);
    expect(after[0][1]).toBeCloseTo(expected("end1_after"), 2);
    expect(after[1][1]).toBeCloseTo(expected("end2_after"), 2);
    expect(change.why).toContain("a difference of 0.008 mm (taper), 40 % of the tolerance");
    expect(answer.places).toMatchObject([
      { verdict: "nonconforming", worst_place: "end 1", shape: "taper", difference: 0.008, missing: [] },
    ]);
    expect(answer.readings.map((reading: Answer) => reading.verdict)).toEqual([
      "nonconforming",
      "conforming",
    ]);
  });

  const wall = () => {
    const { given } = tradeCase("WD-01");
    return startJob(api, {
      registers: [radial],
      features: [
        {
          kind: "external",
          nominal: "25",
          lower_limit: given("lower_limit"),
          upper_limit: given("upper_limit"),
          places: ["top", "bottom"],
          cut: { walls: 1 },
        },
      ],
    });
  };

  it(titleOf("WD-01", "the cutter bends: the pass is repeated before anything is corrected"), async () => {
    const { given, expected } = tradeCase("WD-01");
    const job = await wall();

    const answer = await readPlaces(job, 1, { top: given("top"), bottom: given("bottom") });

    expect(kindsOf(answer)).toEqual(["measure_again"]);
    noChange(answer);
    expect(expected("change")).toBe(0);
    expect(answer.next).toMatchObject({ action: "measure", piece: 1 });
    expect(answer.next.why).toContain("spring pass");
    expect(answer.places).toMatchObject([
      { difference: expected("taper"), difference_of_tolerance: 0.6, shape: "taper", worst_place: "bottom" },
    ]);

    const sprung = await readPlaces(
      job,
      1,
      { top: given("top"), bottom: sum(given("top"), 0.01) },
      {
        cut: 2,
        spring_pass: true,
      },
    );

    expectLeftAlone(sprung);
    expect(sprung.places).toMatchObject([{ cut: 2, verdict: "conforming", disposition: "accept" }]);
  });

  it(
    titleOf("WD-01", "where the difference stays after the spring pass the middle is aimed at"),
    async () => {
      const { given } = tradeCase("WD-01");
      const job = await wall();
      const sizes = { top: given("top"), bottom: given("bottom") };
      await readPlaces(job, 1, sizes);

      const answer = await readPlaces(job, 1, sizes, { cut: 2, spring_pass: true });

      const change = expectChange(answer, -0.03);
      expect(change.why).toContain("no register takes that away");
    },
  );

  it(titleOf("WD-01", "the same difference on the next piece is the process, not an accident"), async () => {
    const { given } = tradeCase("WD-01");
    const job = await wall();
    const sizes = { top: given("top"), bottom: given("bottom") };
    await readPlaces(job, 1, sizes);

    expectChange(await readPlaces(job, 2, sizes), -0.03);
  });

  it(titleOf("WD-03", "the size after a pass at the same value is what is corrected from"), async () => {
    const { given, expected } = tradeCase("WD-03");
    const bore = { lower_limit: 20, upper_limit: 20.02, target: given("target") };
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [{ kind: "internal", nominal: "20", ...bore }],
    });
    const ignored = await job.read(1, given("first"));

    const answer = await job.read(1, expected("size_after_spring"), { cut: 2, spring_pass: true });

    expectChange(ignored, expected("change_if_spring_ignored"));
    expectChange(answer, expected("change"));
    expect(sum(given("first"), given("spring_takes"))).toBe(expected("size_after_spring"));
  });

  it(
    titleOf("NC-04", "a ring that is round in the chuck only: no offset, another way to hold it"),
    async () => {
      const { given, expected } = tradeCase("NC-04");
      const half = given("tolerance_width") / 2;
      const job = await startJob(api, {
        machine: lathe,
        registers: [x],
        features: [
          {
            kind: "internal",
            nominal: "60",
            lower_deviation: -half,
            upper_deviation: half,
            places: ["0°", "90°"],
          },
        ],
      });
      const oval = (piece: number, form: number) =>
        readPlaces(job, piece, { "0°": sum(60, -form / 2), "90°": sum(60, form / 2) });

      const inChuck = await oval(1, given("form_in_chuck"));
      const surprising = await oval(2, given("form_free"));
      const free = await oval(2, given("form_free"));
      const again = await oval(3, given("form_free"));

      expectLeftAlone(inChuck);
      // After a round piece an oval one is measured a second time first.
      expect(new Set(kindsOf(surprising))).toEqual(new Set(["measure_again"]));
      for (const answer of [free, again]) {
        expect(kindsOf(answer)).toEqual(["find_cause"]);
        noChange(answer);
        expect(answer.next.action).toBe("stop");
        expect(answer.next.why).toMatch(/no register value brings all its places inside the limits.*holding/);
      }
      expect(free.places).toMatchObject([{ shape: "oval", verdict: "nonconforming" }]);
      expect(expected("change")).toBe(0);

      await job.find(adviceOf(again, "find_cause"), { found: "setup_put_right", from_piece: 4 });

      expectLeftAlone(await oval(4, given("form_in_chuck")));
    },
  );
});
