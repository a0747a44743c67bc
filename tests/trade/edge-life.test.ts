import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create } from "../support/shop.js";
import { adviceOf, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const spec = {
  registers: [{ controls: "radial", holds: "radius" }],
  features: [{ kind: "external", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 }],
} as const;
const job = (life_pieces: number | null) =>
  startJob(api, {
    registers: [...spec.registers],
    features: [...spec.features],
    tool: { life_pieces },
  });

/** Edges are changed before they cost a part (common practice, no source). */
describe("an edge near the end of its life", () => {
  it("is to be changed where the next check would come after the end, and stops nothing", async () => {
    const shop = await job(20);
    for (let piece = 1; piece <= 12; piece++) {
      expect(kindsOf(await shop.read(piece, 12 + (piece % 2) / 1000))).toEqual([]);
    }
    const last = await shop.read(20, 12);

    const advice = adviceOf(last, "change_tool");
    expect(advice).toMatchObject({ tool_id: shop.toolId, register_id: null, piece: 21, change: 0 });
    expect(advice.why).toMatch(
      /^Change the edge of tool \d+ \(.*\) before piece 21: it has cut 20 pieces, and 20 pieces are planned for it\./,
    );
    expect(last.next.action).not.toBe("stop");
    expect(last.next.why).toContain("before piece 21");
  });

  it("is named as soon as the next check would come too late", async () => {
    const shop = await job(20);
    const named: boolean[] = [];
    const late: boolean[] = [];
    for (let piece = 1; piece <= 20; piece++) {
      await shop.read(piece, 12 + (piece % 2) / 1000);
      const { features, next_pieces } = await shop.checks(piece + 1);
      late.push((features.length > 0 ? piece + 1 : next_pieces[0]) >= 21);
      named.push((await shop.proposed()).length > 0);
    }

    expect(named).toEqual(late);
    expect(named.indexOf(true)).toBeLessThan(19);
  });

  it("is answered by the fresh edge, or by whoever lets it run on", async () => {
    const [changed, kept] = [await job(20), await job(20)];
    for (const shop of [changed, kept])
      for (let piece = 1; piece <= 20; piece++) await shop.read(piece, 12 + (piece % 2) / 1000);

    await changed.freshEdge(21, "worn", [0]);
    expect(await changed.proposed()).toEqual([]);

    const [advice] = await kept.proposed();
    await kept.post(`/v1/corrections/${advice.correction_id}/decline`, { reason: "still sharp" }, 200);
    await kept.read(21, 12);
    expect(await kept.proposed()).toEqual([]);
  });

  it("goes by how long earlier edges lasted, once five have failed", async () => {
    const shop = await job(1000);
    let piece = 0;
    for (const lived of [12, 15, 18, 20, 22]) {
      for (let k = 0; k < lived; k++) await shop.read(++piece, 12 + (piece % 2) / 1000);
      await shop.freshEdge(piece + 1, "worn", [0]);
    }
    const { part_id, machine_id } = await shop.get(`/v1/batches/${shop.batchId}`);
    const next = await create(api, "/v1/batches", { name: "after five edges", part_id, machine_id });
    const read = (k: number) => shop.read(k, 12 + (k % 2) / 1000, { batch_id: next.batch_id });

    for (let k = 1; k <= 11; k++) await read(k);
    const { corrections } = await read(12);

    const found = corrections.find(({ kind }: { kind: string }) => kind === "change_tool");
    expect(found.why).toMatch(
      /before piece 13: it has cut 12 pieces, and by 12 pieces one edge in ten of this tool had failed/,
    );
  });

  it("is not spoken of where no life is planned and too few have failed", async () => {
    const shop = await job(null);
    for (let piece = 1; piece <= 30; piece++) await shop.read(piece, 12 + (piece % 2) / 1000);

    expect(await shop.proposed()).toEqual([]);
  });
});
