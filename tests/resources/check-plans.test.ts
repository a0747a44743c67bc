import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const size = { nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 };

/** Cuts and measures what the plan asks for, piece by piece; answers the characteristics measured on each. */
async function follow(shop: Awaited<ReturnType<typeof runningBatch>>, pieces: number) {
  const measured: string[][] = [];
  for (let piece = 1; piece <= pieces; piece += 1) {
    const { features } = await shop.checks(piece);
    measured.push(features.map((check: Answer) => check.characteristic));
    const list = features.map(({ feature_id }: Answer) => shop.reading(piece, "12.001", { feature_id }));
    if (list.length > 0) await create(api, "/v1/readings", list);
  }
  const on = (characteristic: string) =>
    measured.flatMap((list, i) => (list.includes(characteristic) ? [i + 1] : []));
  return { measured, on };
}

describe("GET /v1/batches/{batch_id}/checks", () => {
  it("keeps asking for an ordinary feature beside a key feature that the same tool cuts", async () => {
    const shop = await runningBatch(api, {
      features: [
        { ...size, characteristic: "1" },
        { ...size, characteristic: "2", importance: "key" },
      ],
    });

    const { on } = await follow(shop, 15);

    expect(on("2")).toEqual(Array.from({ length: 15 }, (_, i) => i + 1));
    // As without the key feature beside it: 1, 1, 2, 4 and 6 pieces are earned (by hand).
    expect(on("1")).toEqual([1, 2, 4, 8, 14]);
  });

  it("asks the same after the states have been worked out afresh", async () => {
    const shop = await runningBatch(api, {
      features: [
        { ...size, characteristic: "1" },
        { ...size, characteristic: "2", importance: "key" },
      ],
    });
    await follow(shop, 6);
    const before = await shop.checks(8);

    const { batch_id } = shop.batch;
    const late = await shop.read(6, "12.001", { feature_id: shop.part.features[1].feature_id });
    await api.post(`/v1/readings/${late.readings[0].reading_id}/void`).send({ reason: "twice" });
    await sql`delete from block_state where batch_id = ${batch_id}`.execute(db);
    await sql`update batch set version = version + 1 where batch_id = ${batch_id}`.execute(db);

    expect(await shop.checks(8)).toEqual(before);
    expect(before.features.map((check: Answer) => check.characteristic)).toEqual(["1", "2"]);
  });

  it("lists one gauge after the other, and with each the features in the part's order", async () => {
    const other = await create(api, "/v1/gauges", gaugeBody({ name: "height gauge", kind: "height_gauge" }));
    const gauge_id = other.gauge_id;
    const height = { kind: "height", ...size };
    const shop = await runningBatch(api, {
      features: [
        { ...size, characteristic: "1" },
        { ...height, characteristic: "2", gauge_id, cut_by: [{ register: "axial" }] },
        { ...size, characteristic: "3" },
        { ...height, characteristic: "4", gauge_id, cut_by: [{ register: "axial" }] },
      ],
    });

    const { features } = await shop.checks(1);

    expect(features.map((check: Answer) => check.characteristic)).toEqual(["1", "3", "2", "4"]);
  });
});

describe("GET /v1/batches/{batch_id}/checks of the piece in hand", () => {
  it("names what belongs to it until it is whole, as the next step does", async () => {
    const limits = { lower_deviation: -0.03, upper_deviation: 0.03 };
    const shop = await runningBatch(api, {
      features: [
        { characteristic: "1", nominal: "12", ...limits },
        { characteristic: "2", nominal: "20", ...limits },
      ],
    });
    await shop.read(1, 12.001);
    const { next, features } = await shop.checks(1);

    expect(next).toMatchObject({ action: "measure", piece: 1 });
    expect(features.map(({ characteristic }: { characteristic: string }) => characteristic)).toEqual([
      "1",
      "2",
    ]);
  });

  it("says as which cut to measure a piece that is to be cut again", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.06);
    await shop.apply(1, { from_cut: 2 });

    expect((await shop.checks()).next).toMatchObject({ action: "measure", piece: 1, cut: 2 });
    await shop.read(1, 12.001, { cut: 2 });
    expect((await shop.checks()).next).not.toHaveProperty("cut");
  });
});
