import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { adviceOf, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const radial = { controls: "radial", holds: "radius" } as const;
const rib = { kind: "external", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 } as const;
const wide = { ...rib, characteristic: "2", nominal: "30" } as const;

/** A job on which single pieces come out bad, as by a chip under the part (common practice, no source). */
describe("single odd pieces", () => {
  it("have every piece measured, and say why", async () => {
    const job = await startJob(api, { registers: [radial], features: [rib] });
    for (let piece = 1; piece <= 10; piece++) await job.read(piece, 12 + (piece % 2) / 1000);
    expect((await job.checks(11)).state).toBe("relaxed");

    await job.readSurely(11, 12.05);
    for (let piece = 12; piece <= 20; piece++) await job.read(piece, 12 + (piece % 2) / 1000);

    const plan = await job.checks(21);
    expect(plan.features).toMatchObject([{ rule: "odd_pieces" }]);
    expect(plan.features[0].why).toMatch(
      /found outside a limit: going by those measured, 0\.71 % of all pieces, above the 0\.5 % .* every piece/,
    );
  });

  it("are looked at once; where nothing was found, the next piece tells what it was", async () => {
    const job = await startJob(api, { registers: [radial], features: [rib, wide] });
    const both = (off: number) => ({ "1": 12 + off, "2": 30 + off });
    for (let piece = 1; piece <= 10; piece++) await job.read(piece, both((piece % 2) / 1000));
    const cause = adviceOf(await job.readSurely(11, both(0.05)), "find_cause");

    const found = await job.find(cause, { found: "nothing" });

    expect(kindsOf(found)).toEqual([]);
    expect(found.next).toMatchObject({ action: "measure", piece: 12 });
    expect((await job.checks(12)).features).toMatchObject([{ rule: "odd_piece" }, { rule: "odd_piece" }]);
    const normal = await job.read(12, both(0));
    expect(normal.readings.map(({ flags }: { flags: string[] }) => flags)).toEqual([[], []]);
    expect(adviceOf(normal, "leave_alone").change).toBe(0);
  });
});
