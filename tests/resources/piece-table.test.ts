import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const get = async (path: string): Promise<Answer> => {
  const response = await api.get(path);
  expect(response.status, response.text).toBe(200);
  return response.body;
};

/** Two features and two seats; good on 1 and 10, too big on 20 (twice), so that 11 to 20 are held. */
async function heldBatch() {
  const shop = await runningBatch(api, {
    features: [
      { characteristic: "1", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 },
      {
        characteristic: "2",
        nominal: "8",
        lower_deviation: -0.1,
        upper_deviation: 0.1,
        places: ["left", "right"],
      },
    ],
    seats: ["A", "B"],
  });
  for (const [piece, value] of [
    [1, "12.010"],
    [10, "12.001"],
    [20, "12.045"],
    [20, "12.045"],
  ] as const)
    await shop.read(piece, value);
  return { ...shop, path: `/v1/batches/${shop.batch.batch_id}/pieces` };
}

describe("GET /v1/batches/{batch_id}/pieces", () => {
  it("says of each piece and feature what the page of the piece says", async () => {
    const { path } = await heldBatch();

    const table = await get(path);

    expect(table.features).toMatchObject([
      { characteristic: "1", place: null, unit: "mm", lower_limit: 11.97, upper_limit: 12.03, target: 12 },
      { characteristic: "2", place: "left" },
      { characteristic: "2", place: "right" },
    ]);
    expect(table.last_piece_cut).toBe(20);
    expect(table.items.map(({ piece }: Answer) => piece)).toEqual(
      Array.from({ length: 20 }, (_, i) => i + 1),
    );
    for (const item of [table.items[0], table.items[9], table.items[10], table.items[19]]) {
      const page = await get(`${path}/${item.piece}`);
      expect(item).toMatchObject({
        disposition: page.disposition,
        on_hold: page.on_hold,
        why: page.why,
        seat: page.seat,
      });
      expect(item.cells.map(({ proof, disposition }: Answer) => [proof, disposition])).toEqual(
        page.features.map(({ proof, disposition }: Answer) => [proof, disposition]),
      );
    }
    expect(table.items[0].cells[0]).toMatchObject({
      readings: 1,
      cut: 1,
      verdict: "conforming",
      result: "12.010",
      size: 12.01,
      from_target: 0.01,
      tolerance_used: 0.333333,
    });
    expect(table.items[19].cells[0]).toMatchObject({ readings: 2, verdict: "nonconforming", size: 12.045 });
    expect(table.items[1].cells[0]).toMatchObject({ readings: 0, verdict: null, result: null, size: null });
  });

  it("pages in cutting order from any piece on, and gives each piece once", async () => {
    const { path } = await heldBatch();
    const pieces: number[] = [];
    let cursor: string | null = "";
    let pages = 0;
    while (cursor !== null) {
      const page: Answer = await get(`${path}?from_piece=4&limit=6${cursor && `&cursor=${cursor}`}`);
      pieces.push(...page.items.map(({ piece }: Answer) => piece));
      cursor = page.next_cursor;
      pages += 1;
    }

    expect(pages).toBe(3);
    expect(pieces).toEqual(Array.from({ length: 17 }, (_, i) => i + 4));
    expect(await get(`${path}?from_piece=21`)).toMatchObject({ items: [], next_cursor: null });
  });

  it.each(["limit=101", "limit=0", "from_piece=0", "from_piece=x", "cursor=!!", "to=3"])(
    "refuses %s",
    async (query) => {
      const { path } = await heldBatch();

      expect((await api.get(`${path}?${query}`)).status).toBe(400);
    },
  );

  it("returns an empty table before the first piece, and 404 for no batch", async () => {
    const { batch } = await runningBatch(api);

    expect(await get(`/v1/batches/${batch.batch_id}/pieces`)).toMatchObject({ last_piece_cut: 0, items: [] });
    expect((await api.get("/v1/batches/99999999/pieces")).status).toBe(404);
  });
});
