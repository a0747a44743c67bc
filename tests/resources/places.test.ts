import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const wall = { nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03, places: ["top", "bottom"] };
const two = (shop: Awaited<ReturnType<typeof runningBatch>>, piece: number, top: number, bottom: number) => [
  shop.reading(piece, top, { place: "top" }),
  shop.reading(piece, bottom, { place: "bottom" }),
];

async function post(body: object, status = 201): Promise<Answer> {
  const response = await api.post("/v1/readings").send(body);
  expect(response.status, response.text).toBe(status);
  return response.body;
}

describe("POST /v1/readings of a feature with places", () => {
  it("gives each place its verdict, and lets the worst decide for the piece", async () => {
    const shop = await runningBatch(api, { features: [wall] });

    const answer = await post(two(shop, 1, 12.01, 12.034));

    expect(answer.readings).toMatchObject([
      { place: "top", verdict: "conforming", disposition: "accept", repeat: 1 },
      { place: "bottom", verdict: "nonconforming", disposition: "rework", repeat: 1 },
    ]);
    expect(answer.places).toEqual([
      {
        feature_id: shop.part.features[0].feature_id,
        characteristic: "12",
        batch_id: shop.batch.batch_id,
        piece: 1,
        cut: 1,
        verdict: "nonconforming",
        disposition: "rework",
        worst_place: "bottom",
        missing: [],
        difference: 0.024,
        unit: "mm",
        difference_of_tolerance: 0.4,
        shape: "taper",
        why: "12 Tongue width: bottom is the worst place and decides: nonconforming. 12 Tongue width reads 12.034 mm at bottom and 12.010 mm at top, a difference of 0.024 mm (taper).",
      },
    ]);
  });

  it("waits for the places that are missing, in the summary, the next step, the plan and the trust", async () => {
    const shop = await runningBatch(api, { features: [wall] });

    const first = await post(shop.reading(1, 12, { place: "top" }));

    expect(first.places).toMatchObject([{ disposition: null, missing: ["bottom"], difference: null }]);
    expect(first.next).toMatchObject({
      action: "measure",
      piece: 1,
      why: "Measure on piece 1 also 12 Tongue width at bottom.",
    });
    expect((await shop.checks(1)).features).toMatchObject([{ places: ["bottom"], rule: "first_piece" }]);
    expect((await shop.checks(2)).features).toMatchObject([{ places: ["top", "bottom"] }]);
    await post(shop.reading(2, 12, { place: "top" }));
    await post(shop.reading(3, 12, { place: "top" }));
    expect((await shop.checks(4)).features[0].why).toContain("0 good checks in a row");

    await post(shop.reading(3, 12, { place: "bottom" }));
    await post(two(shop, 4, 12, 12));

    expect((await shop.checks(5)).features).toEqual([]);
    expect((await shop.checks(5)).next_pieces[0]).toBe(6);
  });

  it("keeps a scrapped place scrap while others are missing", async () => {
    const shop = await runningBatch(api, { features: [wall] });

    const answer = await post(shop.reading(1, 11.96, { place: "bottom" }));

    expect(answer.places).toMatchObject([
      { verdict: "nonconforming", disposition: "scrap", missing: ["top"] },
    ]);
  });

  it("aims at the middle of the places, whichever order they are read in", async () => {
    const there = await runningBatch(api, { features: [wall] });
    const back = await runningBatch(api, { features: [wall] });

    const answer = await post(two(there, 1, 12.018, 12.026));
    await post(two(back, 1, 12.018, 12.026)[1]!);
    const turned = await post(two(back, 1, 12.018, 12.026)[0]!);

    const change = ({ corrections }: Answer) =>
      corrections.find(({ kind, status }: Answer) => kind === "change" && status === "proposed");
    expect(change(answer).change).toBe(-0.011);
    expect(change(turned).change).toBe(-0.011);
    expect(change(answer).features.map(({ place }: Answer) => place)).toEqual(["top", "bottom"]);
    expect(change(turned).features).toEqual(
      change(answer).features.map((feature: Answer) => ({
        ...feature,
        feature_id: change(turned).features[0].feature_id,
      })),
    );
  });

  it("numbers repeats by place, knows a duplicate by its place, and voids one place alone", async () => {
    const shop = await runningBatch(api, { features: [wall] });
    const at = { measured_at: "2026-03-02T07:41:00Z" };
    const top = shop.reading(1, 12.01, { place: "top", ...at });

    const first = await post([top, { ...top, place: "bottom" }]);
    const again = await post({ ...top, value: 12.011 });
    const twice = await post({ ...top, place: "bottom" });

    expect(first.readings.map(({ repeat, flags }: Answer) => [repeat, flags])).toEqual([
      [1, []],
      [1, []],
    ]);
    expect(again.readings[0]).toMatchObject({ place: "top", repeat: 2 });
    expect(twice.readings[0]).toMatchObject({ place: "bottom", flags: ["duplicate"] });

    const { reading_id } = first.readings[1];
    const voided = await api.post(`/v1/readings/${reading_id}/void`).send({ reason: "wrong end" });
    expect(voided.body.reading).toMatchObject({ place: "bottom", voided: { reason: "wrong end" } });
    const after = await post(shop.reading(1, 12.01, { place: "top" }));
    expect(after.places).toMatchObject([{ missing: ["bottom"] }]);
  });

  it("sets no hold free by another place", async () => {
    const shop = await runningBatch(api, { features: [wall] });
    await post(two(shop, 1, 12, 12));
    await post(shop.reading(5, 12, { place: "top" }));

    const answer = await post(shop.reading(8, 12.034, { place: "bottom" }));

    expect(answer.readings[0].hold).toMatchObject({ from_piece: 2, to_piece: 8 });
  });

  it("proposes nothing where no register value suits all places, and says so", async () => {
    const shop = await runningBatch(api, { features: [wall] });

    const answer = await post(two(shop, 1, 11.965, 12.03));

    expect(answer.corrections.filter(({ change }: Answer) => change !== 0)).toEqual([]);
    expect(answer.next).toMatchObject({ action: "stop" });
    expect(answer.next.why).toContain(
      "a difference of 0.065 mm (taper) on piece 1, and the tolerance is 0.060 mm: no register value brings all its places inside the limits",
    );
  });

  it("corrects where the places differ by the whole tolerance and another piece confirms it", async () => {
    const shop = await runningBatch(api, { features: [wall] });
    const asked = await post(two(shop, 1, 11.98, 12.04));

    const answer = await post(two(shop, 2, 11.98, 12.04));

    expect(asked.next).toMatchObject({ action: "measure", piece: 1 });
    expect(asked.corrections.filter(({ change }: Answer) => change !== 0)).toEqual([]);
    const change = answer.corrections.find(
      ({ kind, status }: Answer) => kind === "change" && status === "proposed",
    );
    expect(change.change).toBe(-0.005);
    expect(change.why).toContain("100 % of the tolerance");
  });

  it("takes the holes of a 10X as places", async () => {
    const places = Array.from({ length: 10 }, (_, i) => String(i + 1));
    const shop = await runningBatch(api, { features: [{ ...wall, kind: "internal", places }] });

    const some = await post(places.slice(0, 9).map((place) => shop.reading(1, 12, { place })));
    const all = await post(shop.reading(1, 12.031, { place: "10" }));

    expect(some.places).toMatchObject([{ missing: ["10"], shape: "even", difference: 0 }]);
    expect(all.places).toMatchObject([
      { missing: [], worst_place: "10", shape: "uneven", verdict: "nonconforming" },
    ]);
    expect((await shop.checks(2)).features[0].places).toEqual(places);
    expect(all.next.why).not.toContain("taper");
  });

  it.each([
    ["no place", {}, "place", /is missing: characteristic 12 is measured at "top" and "bottom"/],
    [
      "a place that is none of it",
      { place: "botom" },
      "place",
      /"botom" is none of characteristic 12; near: "bottom"/,
    ],
    [
      "a spring pass on the first cut",
      { place: "top", spring_pass: true },
      "spring_pass",
      /"cut": 2 or more/,
    ],
  ])("returns 422 for %s", async (_, change, field, detail) => {
    const shop = await runningBatch(api, { features: [wall] });

    const body = await post(shop.reading(1, 12, change), 422);

    expect(body.errors).toEqual([{ pointer: `/${field}`, detail: expect.stringMatching(detail) }]);
  });

  it("returns 422 for a place of a feature that has none", async () => {
    const shop = await runningBatch(api);

    const { errors } = await post(shop.reading(1, 12, { place: "top" }), 422);

    expect(errors).toEqual([
      { pointer: "/place", detail: expect.stringContaining("has no places: leave it out") },
    ]);
  });
});

describe("PATCH /v1/features/{feature_id} with places", () => {
  it("keeps old readings with their verdicts, asks for the new places from then on, and can be taken back", async () => {
    const shop = await runningBatch(api);
    const { feature_id } = shop.part.features[0];
    const before = await shop.read(1, 12.01);

    const changed = await api.patch(`/v1/features/${feature_id}`).send({ places: ["0°", "90°"] });

    expect(changed.body).toMatchObject({ feature_id, places: ["0°", "90°"] });
    expect((await shop.checks(2)).features).toMatchObject([{ places: ["0°", "90°"] }]);
    const answer = await post([
      shop.reading(2, 12, { place: "0°" }),
      shop.reading(2, 12.02, { place: "90°" }),
    ]);
    expect(answer.places).toMatchObject([{ shape: "oval", difference: 0.02 }]);
    const { body } = await api.get(`/v1/readings/${before.readings[0].reading_id}`);
    expect(body).toMatchObject({ place: null, verdict: "conforming" });

    await api.patch(`/v1/features/${feature_id}`).send({ places: null });

    const plain = await shop.read(3, 12.01);
    expect(plain.places).toEqual([]);
    expect(plain.readings[0]).toMatchObject({ place: null, repeat: 1 });
  });
});

describe("a block with places", () => {
  it("comes out the same from the journal as it was kept", async () => {
    const shop = await runningBatch(api, {
      features: [wall, { ...wall, characteristic: "13", places: undefined }],
    });
    const second = { feature_id: shop.part.features[1].feature_id };
    for (let piece = 1; piece <= 20; piece++) {
      await post([
        ...two(shop, piece, 12 + piece / 2000, 12.008 + piece / 2000),
        shop.reading(piece, 12, second),
      ]);
    }
    const state = () =>
      db.selectFrom("block_state").select("state").where("batch_id", "=", shop.batch.batch_id);
    const kept = JSON.parse((await state().executeTakeFirstOrThrow()).state);

    await db.deleteFrom("block_state").where("batch_id", "=", shop.batch.batch_id).execute();
    await db.deleteFrom("block_checkpoint").where("batch_id", "=", shop.batch.batch_id).execute();
    const path = `/v1/batches/${shop.batch.batch_id}/interruptions`;
    const { body } = await api.post(path).send({ from_piece: 1, kind: "stop" });
    const voided = await api.post(`${path}/${body.interruption_id}/void`).send({ reason: "not so" });
    expect(voided.status).toBe(200);

    const rebuilt = JSON.parse((await state().executeTakeFirstOrThrow()).state);
    expect(rebuilt.after).toEqual(kept.after);
  });
});
