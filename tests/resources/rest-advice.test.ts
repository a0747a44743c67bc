import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;
type Shop = Awaited<ReturnType<typeof runningBatch>>;

const open = async (shop: Shop): Promise<Answer[]> =>
  (await api.get(`/v1/corrections?status=proposed&batch_id=${shop.batch.batch_id}`)).body.items;
const decline = (correction: Answer, reason = "runs as the customer wants it") =>
  api.post(`/v1/corrections/${correction.correction_id}/decline`).send({ reason });

describe("a change that was declined", () => {
  /** A rib 12 ± 0.03 that runs 0.012 too big, 40 % of the way, and whose change was declined. */
  async function declined(): Promise<Shop> {
    const shop = await runningBatch(api);
    for (let piece = 1; piece <= 4; piece++) await shop.read(piece, 12.012);
    const [correction] = await open(shop);
    expect(correction).toMatchObject({ kind: "change", change: -0.006 });
    await decline(correction);
    return shop;
  }

  it("rests with the next reading, and the answer says until when", async () => {
    const shop = await declined();

    const { corrections, next } = await shop.read(5, 12.013);

    expect(await open(shop)).toEqual([]);
    expect(next.action).not.toBe("set_offset");
    expect(corrections[0]).toMatchObject({ kind: "leave_alone", change: 0, correction_id: null });
    expect(corrections[0].why).toBe(
      'A change of -0.006 mm was declined at piece 4 ("runs as the customer wants it"). It rests until the readings say clearly more: a quarter of the tolerance further off than they said then.',
    );
    expect(corrections[0].features[0].expected_after).toBe(corrections[0].features[0].expected_before);
  });

  it("is proposed again once the readings say a quarter of the tolerance more", async () => {
    const shop = await declined();

    // 0.012 and a quarter of 0.03 more is 0.0195.
    for (let piece = 5; piece <= 8; piece++) await shop.read(piece, 12.016);
    expect(await open(shop)).toEqual([]);
    for (let piece = 9; piece <= 14; piece++) await shop.read(piece, 12.022);

    expect(await open(shop)).toMatchObject([{ kind: "change" }]);
  });

  it("is proposed again the other way, with another value in the register, or on a fresh edge", async () => {
    const other = await declined();
    for (let piece = 5; piece <= 10; piece++) await other.read(piece, 12 - 0.004 * (piece - 4));
    expect((await open(other))[0]!.change).toBeGreaterThan(0);

    const entered = await declined();
    await api.post(`/v1/registers/${entered.registers.radial}/entries`).send({
      batch_id: entered.batch.batch_id,
      from_piece: 5,
      value: 0.001,
    });
    for (const piece of [5, 6, 7]) await entered.read(piece, 12.014);
    expect(await open(entered)).toMatchObject([{ kind: "change" }]);

    const edged = await declined();
    await api.post(`/v1/tools/${edged.tool.tool_id}/edges`).send({
      batch_id: edged.batch.batch_id,
      from_piece: 5,
      reason: "worn",
      registers: Object.values(edged.registers).map((register_id) => ({ register_id, value: 0 })),
    });
    for (const piece of [5, 6, 7]) await edged.read(piece, 12.013);
    expect(await open(edged)).toMatchObject([{ kind: "change" }]);
  });
});

describe("features that disagree", () => {
  it("are not asked about again after nothing was found, until they differ by clearly more", async () => {
    const narrow = { lower_deviation: -0.02, upper_deviation: 0.02 };
    const shop = await runningBatch(api, {
      features: [
        { characteristic: "1", nominal: "12", ...narrow },
        { characteristic: "2", nominal: "14", ...narrow },
      ],
    });
    const [first, second] = shop.part.features;
    const both = async (piece: number, off: number) => {
      await shop.read(piece, 12 + off, { feature_id: first.feature_id });
      return shop.read(piece, 14 - off, { feature_id: second.feature_id });
    };
    let piece = 0;
    let asked: Answer;
    while (!asked && piece < 30) {
      await both(++piece, 0.028);
      for (const question of (await open(shop)).filter(({ kind }) => kind === "measure_again"))
        await shop.read(question.piece, 12.028);
      [asked] = (await open(shop)).filter(({ kind }) => kind === "find_cause");
      if (/jumped|off from piece/.test(asked?.why ?? "")) {
        await api.post(`/v1/corrections/${asked.correction_id}/finding`).send({ found: "nothing" });
        asked = undefined;
      }
    }
    expect(asked.why).toMatch(/No value of D7 wear .* brings all its features inside their limits/);

    await api.post(`/v1/corrections/${asked.correction_id}/finding`).send({ found: "nothing" });
    const { corrections, next } = await both(piece + 1, 0.028);

    expect((await open(shop)).filter(({ kind }) => kind === "find_cause")).toEqual([]);
    expect(next.why).not.toMatch(/No value of/);
    expect(corrections.map(({ why }: Answer) => why).join()).toMatch(/looked into, and nothing found/);
    for (let k = 2; k <= 8; k++) await both(piece + k, 0.036);
    expect((await open(shop)).map(({ why }) => why).join()).toMatch(/No value of D7 wear/);
  });
});
