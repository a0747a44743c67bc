import { once } from "node:events";
import { get, type IncomingMessage } from "node:http";
import type { AddressInfo } from "node:net";
import { setTimeout as delay } from "node:timers/promises";
import { afterAll, describe, expect, it, vi } from "vitest";
import { buildApp } from "../../src/app.js";
import { openDatabase } from "../../src/db/client.js";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api, app, url } = await createTestApp();
const otherDb = openDatabase(url);
const other = buildApp({ db: otherDb, config: { logLevel: "silent", adminKey: undefined } });
await other.listen({ host: "127.0.0.1", port: 0 });
afterAll(async () => {
  await other.close();
  await otherDb.destroy();
});

interface Event {
  id: string;
  batches: string[];
  shop: boolean;
}

const addressOf = (of: typeof app) => `http://127.0.0.1:${(of.server.address() as AddressInfo).port}`;

/** Listens until it is told to leave; keeps what it was told. */
async function listen(of = app, since?: string) {
  const request = get(`${addressOf(of)}/v1/events`, {
    agent: false,
    headers: since === undefined ? {} : { "last-event-id": since },
  });
  const [response] = (await once(request, "response")) as [IncomingMessage];
  const events: Event[] = [];
  let hasEnded = false;
  const reading = (async () => {
    let rest = "";
    for await (const chunk of response) {
      const parts = (rest + Buffer.from(chunk).toString()).split("\n\n");
      rest = parts.pop()!;
      for (const part of parts) {
        const id = /^id: (.*)$/m.exec(part)?.[1];
        const data = /^data: (.*)$/m.exec(part)?.[1];
        if (id !== undefined && data !== undefined) events.push({ id, ...JSON.parse(data) });
      }
    }
  })()
    .catch(() => {})
    .finally(() => {
      hasEnded = true;
    });
  await vi.waitFor(() => expect(events.length).toBeGreaterThan(0));
  return {
    response,
    events,
    hasEnded: () => hasEnded,
    leave: async () => {
      request.destroy();
      await reading;
    },
  };
}

const told = async (events: Event[], from: number, wanted: (event: Event) => boolean) =>
  vi.waitFor(() => expect(events.slice(from).some(wanted)).toBe(true), 5000);

describe("GET /v1/events", () => {
  it("tells of every kind of change, through either of two replicas", async () => {
    const shop = await runningBatch(api);
    const id: string = shop.batch.batch_id;
    const here = await listen();
    const there = await listen(other);
    const changes: [string, () => Promise<unknown>, boolean][] = [
      ["a reading", () => shop.read(1, "12.02"), false],
      ["another", () => shop.read(2, "12.02"), false],
      [
        "an interruption",
        () => api.post(`/v1/batches/${id}/interruptions`).send({ kind: "stop" }).expect(201),
        false,
      ],
      ["a correction set", () => shop.apply(3), false],
      [
        "an entry",
        () =>
          api
            .post(`/v1/registers/${shop.registers.radial}/entries`)
            .send({ batch_id: id, from_piece: 4, value: -0.02, by: "A" })
            .expect(201),
        false,
      ],
      ["a count", () => api.post(`/v1/batches/${id}/count`).send({ last_piece_cut: 5 }).expect(200), false],
      [
        "a decision",
        () =>
          api
            .post(`/v1/batches/${id}/pieces/1/decision`)
            .send({ decision: "use_as_is", authority: "Q", by: "A" })
            .expect(201),
        false,
      ],
      [
        "a void",
        async () => {
          const { body } = await api.get(`/v1/readings?batch_id=${id}`);
          await api
            .post(`/v1/readings/${body.items[0].reading_id}/void`)
            .send({ reason: "typed wrong", by: "A" })
            .expect(200);
        },
        false,
      ],
      ["a gauge", () => create(api, "/v1/gauges", gaugeBody({ name: "new gauge" })), true],
      [
        "a batch",
        () =>
          create(api, "/v1/batches", {
            name: "next job",
            part_id: shop.part.part_id,
            machine_id: shop.machine.machine_id,
          }),
        true,
      ],
      ["the end", () => api.post(`/v1/batches/${id}/close`).send({ by: "A" }).expect(200), false],
    ];
    for (const [what, change, isOfShop] of changes) {
      const from = [here.events.length, there.events.length] as const;
      await change();
      for (const [i, { events }] of [here, there].entries())
        await told(events, from[i]!, (event) => (isOfShop ? event.shop : event.batches.includes(id))).catch(
          () => {
            throw new Error(`${what} was not told`);
          },
        );
    }
    expect(here.events.at(-1)!.id).toBe(there.events.at(-1)!.id);
    expect(here.response.headers["content-type"]).toContain("text/event-stream");
    await here.leave();
    await there.leave();
  }, 40_000);

  it("tells after a lost connection whether anything was missed, in another replica too", async () => {
    const shop = await runningBatch(api);
    const first = await listen();
    await first.leave();
    const since = first.events.at(-1)!.id;

    const nothing = await listen(other, since);
    await nothing.leave();
    await shop.read(1, "12.001");
    const something = await listen(other, since);
    await something.leave();

    expect(nothing.events[0]).toEqual({ id: since, batches: [], shop: false });
    expect(something.events[0]!.batches).toContain(shop.batch.batch_id);
    expect(something.events[0]!.id).not.toBe(since);
  });

  it("ends when the service stops, and holds up nothing", async () => {
    const db = openDatabase(url);
    const stopping = buildApp({ db, config: { logLevel: "silent", adminKey: undefined } });
    await stopping.listen({ host: "127.0.0.1", port: 0 });
    const stream = await listen(stopping);

    await stopping.close();
    await vi.waitFor(() => expect(stream.hasEnded()).toBe(true));
    await db.destroy();
  });

  it("looks at the database only while somebody listens", async () => {
    const shop = await runningBatch(api);
    const stream = await listen();
    await stream.leave();
    await delay(700);
    const before = stream.events.length;
    await shop.read(1, "12.001");
    await delay(700);
    expect(stream.events.length).toBe(before);
  });
});

describe("GET /v1/batches/{batch_id}/checks", () => {
  it("says the one thing to do next, as the write before it did", async () => {
    const shop = await runningBatch(api);
    const first = await shop.checks();
    const answers = [await shop.read(1, "12.02"), await shop.read(2, "12.02")];
    const then = await shop.checks();

    expect(first.next).toMatchObject({ action: "measure", piece: 1 });
    expect(answers[1].next.action).toBe("set_offset");
    expect(then.next).toEqual(answers[1].next);
  });
});
