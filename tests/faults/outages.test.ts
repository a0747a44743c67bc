import { spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdir, rm, writeFile } from "node:fs/promises";
import { type AddressInfo, connect } from "node:net";
import { join } from "node:path";
import { setTimeout as delay } from "node:timers/promises";
import { sql } from "kysely";
import supertest from "supertest";
import { afterEach, describe, expect, it, vi } from "vitest";
import { openDatabase } from "../../src/db/client.js";
import { createTestApp } from "../support/app.js";
import { createBalancer } from "../support/balancer.js";
import { createEmptyDatabase } from "../support/database.js";
import { createFolder, removeFolder } from "../support/folders.js";
import { runningBatch } from "../support/running-batch.js";
import { ServiceProcess, serverOf } from "../support/service-process.js";
import { ShopUnderFire, seeded } from "../support/shop-under-fire.js";

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

async function start(settings: NodeJS.ProcessEnv): Promise<ServiceProcess> {
  const service = new ServiceProcess(settings);
  await service.start();
  undo.push(() => service.stop());
  return service;
}

describe("three replicas behind a balancer", () => {
  it("lose and double nothing when one is killed", async () => {
    const { db, url } = await createEmptyDatabase();
    // All at once, and each would bring the empty database to its schema.
    const replicas = await Promise.all([1, 2, 3].map(() => start({ DATABASE_URL: url })));
    const balancer = createBalancer(replicas.map(({ address }) => Number(new URL(address).port)));
    balancer.listen(0, "127.0.0.1");
    await once(balancer, "listening");
    undo.push(() => balancer.close());
    const address = `http://127.0.0.1:${(balancer.address() as AddressInfo).port}`;
    const shop = new ShopUnderFire(() => address, seeded(7));
    await shop.open(3);

    shop.run();
    await delay(700);
    await replicas[1]?.stop("SIGKILL");
    await delay(700);
    await shop.end();

    expect(await shop.findFaults(db)).toEqual([]);
    expect(shop.acknowledged.flat().length).toBeGreaterThan(20);
  }, 60_000);
});

describe("a database that goes away", () => {
  it("is said to be away, and served again when it is back", async () => {
    const folder = await createFolder();
    undo.push(() => removeFolder(folder));
    const owner = await start({ ONSIZE_DATA_DIR: folder });
    const server = await serverOf(folder);
    const service = await start({ DATABASE_URL: server?.url });
    const shop = new ShopUnderFire(() => service.address, seeded(11));
    await shop.open(2);
    shop.run();
    await delay(300);

    process.kill(server!.pid, "SIGSTOP");
    undo.push(() => process.kill(server!.pid, "SIGCONT"));
    await delay(300);
    process.kill(server!.pid, "SIGCONT");
    undo.pop();
    await owner.stop("SIGKILL");
    process.kill(server!.pid, "SIGKILL");
    await vi.waitFor(async () => expect((await fetch(`${service.address}/readyz`)).status).toBe(503), 10_000);
    const refused = await fetch(`${service.address}/v1/machines`);
    const answer = (await refused.json()) as { detail: string };
    const { status } = await fetch(`${service.address}/healthz`);
    await owner.start();
    expect((await serverOf(folder))?.url).toBe(server?.url);
    await vi.waitFor(async () => expect((await fetch(`${service.address}/readyz`)).status).toBe(200), 10_000);
    await delay(300);
    await shop.end();

    expect(status).toBe(200);
    expect(refused.status).toBe(503);
    expect(refused.headers.get("retry-after")).toBe("1");
    expect(answer.detail).toContain("database cannot be reached");
    const db = openDatabase(server!.url, { max: 1 });
    expect(await shop.findFaults(db)).toEqual([]);
    await db.destroy();
  }, 60_000);
});

const canMount = process.getuid?.() === 0 && process.platform === "linux";

describe("a disk that is full", () => {
  it.runIf(canMount)(
    "is said, loses nothing that was acknowledged, and is gone on from when there is room",
    async (context) => {
      const folder = await createFolder();
      undo.push(() => removeFolder(folder));
      const disk = join(folder, "disk");
      await mkdir(disk);
      const mounted = spawnSync("mount", ["-t", "tmpfs", "-o", "size=160m,mode=0755", "tmpfs", disk]);
      if (mounted.status !== 0) return context.skip("a file system of limited size cannot be mounted here");
      undo.push(() => spawnSync("umount", ["--lazy", disk]));
      const service = await start({ ONSIZE_DATA_DIR: disk });
      const shop = new ShopUnderFire(() => service.address, seeded(13));
      await shop.open(1);
      shop.run();
      await delay(300);

      const ballast = join(disk, "ballast");
      await writeFile(ballast, Buffer.alloc(1 << 28)).catch(({ code }) => expect(code).toBe("ENOSPC"));
      const before = shop.acknowledged[0]!.length;
      const failed = async () => (await fetch(`${service.address}/readyz`)).status;
      const large = { name: "fills", kind: "mill", unit: "mm", least_increment: 0.001, largest_change: 0.2 };
      let refused: Response | undefined;
      for (let i = 0; i < 4000 && !refused; i++) {
        const answer = await fetch(`${service.address}/v1/machines`, {
          method: "POST",
          headers: { "content-type": "application/json" },
          body: JSON.stringify({ ...large, name: `fills ${i} ${"x".repeat(80)}` }),
        });
        if (answer.status !== 201) refused = answer;
        await answer.clone().arrayBuffer();
      }
      expect(refused?.status).toBe(503);
      await vi.waitFor(async () => expect(await failed()).toBe(503), 10_000);
      await rm(ballast);
      await vi.waitFor(async () => expect(await failed()).toBe(200), 30_000);
      await delay(300);
      await shop.end();

      expect(shop.acknowledged[0]!.length).toBeGreaterThan(before);
      const db = openDatabase((await serverOf(disk))!.url, { max: 1 });
      expect(await shop.findFaults(db)).toEqual([]);
      await db.destroy();
    },
    90_000,
  );
});

describe("an import", () => {
  it("that was cut off by a kill is sent again, and each line is there once", async () => {
    const { db, url } = await createEmptyDatabase();
    const service = await start({ DATABASE_URL: url });
    const api = supertest(service.address) as unknown as Parameters<typeof runningBatch>[0];
    const { batch, part } = await runningBatch(api);
    const layout = await api
      .post("/v1/log-layouts")
      .send({ name: "lines", format: "json_lines", unit: "mm" })
      .expect(201);
    const { characteristic } = part.features[0];
    const lines = Array.from({ length: 12_000 }, (_, i) =>
      JSON.stringify({ characteristic, piece: i + 1, value: (12 + (i % 7) * 0.001).toFixed(3) }),
    );
    const send = () =>
      fetch(
        `${service.address}/v1/readings/imports?layout_id=${layout.body.layout_id}&batch_id=${batch.batch_id}`,
        {
          method: "POST",
          headers: { "content-type": "application/x-ndjson" },
          body: `${lines.join("\n")}\n`,
        },
      );
    const count = async () =>
      Number((await sql<{ n: string }>`select count(*) as n from reading`.execute(db)).rows[0]?.n);
    for (const half of [1, 2]) {
      const cut = send().then(
        (response) => response.status,
        () => "cut off",
      );
      while ((await count()) < half * 3000) await delay(5);
      await service.stop("SIGKILL");
      expect(await cut).toBe("cut off");
      expect(await count()).toBeLessThan(lines.length);
      await service.start();
    }

    const report = (await (await send()).json()) as { accepted: number; duplicates: number };

    expect(report.accepted + report.duplicates).toBe(lines.length);
    expect(report.duplicates).toBeGreaterThanOrEqual(6000);
    expect(await count()).toBe(lines.length);
  }, 90_000);
});

describe("clients", () => {
  it("that send slowly hold up nobody else", async () => {
    const { app } = await createTestApp();
    const { port } = app.server.address() as AddressInfo;
    const slow = Array.from({ length: 100 }, () => {
      const socket = connect(port, "127.0.0.1");
      socket.on("error", () => {});
      socket.write(
        "POST /v1/readings HTTP/1.1\r\nhost: a\r\ncontent-type: application/json\r\ncontent-length: 5000\r\n\r\n[",
      );
      return socket;
    });
    undo.push(() => {
      for (const socket of slow) socket.destroy();
    });
    await Promise.all(slow.map((socket) => (socket.connecting ? once(socket, "connect") : undefined)));
    const dribble = setInterval(() => {
      for (const socket of slow) socket.write(" ");
    }, 20);
    undo.push(() => clearInterval(dribble));

    const answers = await Promise.all(
      Array.from({ length: 50 }, () =>
        fetch(`http://127.0.0.1:${port}/v1/machines`).then(({ status }) => status),
      ),
    );

    expect(new Set(answers)).toEqual(new Set([200]));
  });
});

describe("a clock that is set back", () => {
  it("changes no verdict, no correction and no plan", async () => {
    const tell = async (isSetBack: boolean) => {
      const { api } = await createTestApp();
      const shop = await runningBatch(api);
      const told: unknown[] = [];
      vi.useFakeTimers({ toFake: ["Date"], now: Date.now() });
      try {
        for (let piece = 1; piece <= 14; piece++) {
          if (isSetBack && piece === 6) vi.setSystemTime(Date.now() - 3_600_000);
          const answer = await shop.read(piece, (12 + 0.003 * piece).toFixed(3));
          told.push(
            answer.next,
            answer.readings.map(({ verdict, disposition, flags }: Record<string, unknown>) => [
              verdict,
              disposition,
              flags,
            ]),
            answer.corrections.map(({ kind, status, change, value_after }: Record<string, unknown>) => [
              kind,
              status,
              change,
              value_after,
            ]),
            answer.next_checks,
          );
          if (answer.next.action === "set_offset") await shop.apply(piece + 1);
        }
      } finally {
        vi.useRealTimers();
      }
      return JSON.stringify(told).replaceAll(/"shop-\d+/g, '"shop');
    };

    expect(await tell(true)).toBe(await tell(false));
  });
});
