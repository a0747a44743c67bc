import type { AddressInfo } from "node:net";
import { describe, expect, it } from "vitest";
import { Client } from "../../src/demo/client.js";
import { LiveShift } from "../../src/demo/live-shift.js";
import { SimulatedMill } from "../../src/demo/simulated-mill.js";
import { createTestApp } from "../support/app.js";

const { api, app } = await createTestApp();
// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
async function listAll(path: string): Promise<any[]> {
  const items = [];
  for (let cursor = ""; ; ) {
    const { body } = await api.get(path + cursor);
    items.push(...body.items);
    if (body.next_cursor === null) return items;
    cursor = `&cursor=${body.next_cursor}`;
  }
}

const address = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;

const running = await LiveShift.begin(new Client(address), { quantity: 90 });

describe("the shift that goes on after the demo's story", () => {
  it("cuts good pieces by the advice, changes its tool, and ends when it is told to", async () => {
    const leaving = new AbortController();
    const complaints: string[] = [];
    const ended = running.run(leaving.signal, { pieceMs: 0, adviceMs: 0 }, (words) => complaints.push(words));
    const [batch] = (await api.get("/v1/batches?open=true")).body.items;
    const cutSoFar = async () =>
      (await api.get(`/v1/batches/${batch.batch_id}`)).body.last_piece_cut as number;
    while ((await cutSoFar()) < 80 && complaints.length === 0)
      await new Promise((done) => setTimeout(done, 50));
    leaving.abort();
    await ended;

    expect(complaints).toEqual([]);
    const items = await listAll(`/v1/readings?batch_id=${batch.batch_id}&limit=200`);
    const bad = items.filter(({ verdict }: { verdict: string }) => verdict === "nonconforming");
    const corrections = await listAll(`/v1/corrections?batch_id=${batch.batch_id}&limit=200`);
    const applied = corrections.filter(({ status }: { status: string }) => status === "applied");
    const tool = corrections[0].tool_id;
    const edges = (await api.get(`/v1/tools/${tool}/edges`)).body.items;
    expect(applied.length).toBeGreaterThan(4);
    expect(edges.length).toBeGreaterThan(1);
    expect(items.length).toBeLessThan(3 * 80);
    // A chipped edge or a wrong first guess may cost a piece, drift may not.
    expect(bad.length / items.length).toBeLessThan(0.05);
  }, 60_000);

  it("opens the next job where one is done or somebody has closed it", async () => {
    const [first] = (await api.get("/v1/batches?open=true")).body.items;
    for (let i = 0; i < 16; i++) await running.cutNext();
    const [second] = (await api.get("/v1/batches?open=true")).body.items;
    const piecesOnHold = (await api.get(`/v1/batches/${first.batch_id}/holds`)).body.pieces_on_hold;
    expect([first.name, second.name, piecesOnHold]).toEqual(["R-91", "R-92", 0]);
    expect((await api.get(`/v1/batches/${first.batch_id}`)).body.last_piece_cut).toBe(90);

    const holds = (await api.get(`/v1/batches/${second.batch_id}/holds`)).body;
    if (holds.pieces_on_hold > 0)
      await api
        .post(`/v1/batches/${second.batch_id}/decisions`)
        .send({ pieces: holds.on_hold, decision: "scrap", by: "quality" })
        .expect(201);
    await api.post(`/v1/batches/${second.batch_id}/close`).send({ by: "quality" }).expect(200);
    await running.cutNext();
    expect((await api.get("/v1/batches?open=true")).body.items).toMatchObject([
      { name: "R-93", last_piece_cut: 1 },
    ]);
  });

  it("refuses to set its shop up twice", async () => {
    await expect(LiveShift.begin(new Client(address))).rejects.toThrow(/409/);
  });
});

describe("SimulatedMill", () => {
  const feature = {
    nominal: 10,
    offset: 0,
    perPiece: 0.001,
    warm: 0,
    chip: 0.05,
    scatter: 0,
    effects: new Map([["7", 2]]),
  };

  it("makes the same of the same seed, and what wear, registers and a chip add", () => {
    const mills = [new SimulatedMill(1), new SimulatedMill(1)] as const;
    for (const mill of mills) for (let i = 0; i < 10; i++) mill.cut();

    expect(mills[0].measure({ ...feature, scatter: 0.01 }, new Map(), 0.0001)).toBe(
      mills[1].measure({ ...feature, scatter: 0.01 }, new Map(), 0.0001),
    );
    expect(mills[0].measure(feature, new Map([["7", -0.005]]), 0.001)).toBe(10);
    while (!mills[0].isChipped) mills[0].cut();
    expect(mills[0].measure(feature, new Map(), 0.001)).toBeGreaterThan(10.05 + 0.045);
    mills[0].changeEdge();
    expect(mills[0].measure(feature, new Map(), 0.001)).toBe(10);
  });
});
