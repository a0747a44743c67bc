import { setTimeout as delay } from "node:timers/promises";
import { sql } from "kysely";
import { type Db, openDatabase } from "../../src/db/client.js";
import { createFolder, removeFolder } from "./folders.js";
import { ServiceProcess, serverOf } from "./service-process.js";
import { decisionsOf, ShopUnderFire, seeded } from "./shop-under-fire.js";

export interface KillReport {
  kills: { service: number; database: number };
  acknowledged: { requests: number; readings: number };
  /** What was lost, doubled, half written, or decided otherwise than by a service that nothing happens to. */
  faults: string[];
}

/** Kills the service, or its Postgres, `rounds` times at random moments under load, and reads back what is left. */
export async function killAtRandom(rounds: number, seed: number, machines = 3): Promise<KillReport> {
  const random = seeded(seed);
  const folder = await createFolder();
  const service = new ServiceProcess({ ONSIZE_DATA_DIR: folder });
  const kills = { service: 0, database: 0 };
  const faults: string[] = [];
  await service.start();
  const shop = new ShopUnderFire(() => service.address, random);
  try {
    await shop.open(machines);
    shop.run();
    for (let round = 0; round < rounds; round++) {
      await delay(50 + 500 * random());
      if (random() < 0.5) {
        await service.stop("SIGKILL");
        kills.service += 1;
        await service.start();
      } else {
        const killed = (await serverOf(folder))!.pid;
        process.kill(killed, "SIGKILL");
        kills.database += 1;
        while (((await serverOf(folder))?.pid ?? killed) === killed) await delay(10);
        await isReady(service.address);
      }
      const db = await connect(folder);
      faults.push(...(await shop.findHalves(db)).map((fault) => `round ${round}: ${fault}`));
      await db.destroy();
    }
    await delay(200);
    await shop.end();
    const db = await connect(folder);
    faults.push(...(await shop.findFaults(db)));
    const decided = await decisionsOf(db);
    await db.destroy();
    faults.push(...(await compareUndisturbed(shop, machines, decided)));
  } finally {
    await service.stop();
    await removeFolder(folder);
  }
  const writes = shop.acknowledged.flat();
  const readings = writes.flatMap(({ body }) => (Array.isArray(body) ? body : [])).length;
  return { kills, acknowledged: { requests: writes.length, readings }, faults };
}

/** The same writes in the same order, to a service that nothing happens to: all decisions must be the same. */
async function compareUndisturbed(
  shop: ShopUnderFire,
  machines: number,
  decided: Record<string, unknown[]>,
): Promise<string[]> {
  const folder = await createFolder();
  const service = new ServiceProcess({ ONSIZE_DATA_DIR: folder });
  await service.start();
  try {
    // Set up in the same order, so that everything has the same id.
    const undisturbed = new ShopUnderFire(
      () => service.address,
      () => 0,
    );
    await undisturbed.open(machines);
    const faults = await shop.replay(service.address);
    const db = await connect(folder);
    const wanted = await decisionsOf(db);
    await db.destroy();
    for (const [name, rows] of Object.entries(wanted)) {
      if (JSON.stringify(decided[name]) === JSON.stringify(rows)) continue;
      const at = rows.findIndex((row, i) => JSON.stringify(row) !== JSON.stringify(decided[name]?.[i]));
      faults.push(
        `${name} differ from those of a service that nothing happened to, first: ` +
          `${JSON.stringify(decided[name]?.[at])} for ${JSON.stringify(rows[at])}`,
      );
    }
    return faults;
  } finally {
    await service.stop();
    await removeFolder(folder);
  }
}

async function isReady(address: string): Promise<void> {
  const deadline = performance.now() + 60_000;
  while (performance.now() < deadline) {
    const isThere = await fetch(`${address}/readyz`).then(
      ({ ok }) => ok,
      () => false,
    );
    if (isThere) return;
    await delay(20);
  }
  throw new Error("the service is not ready after a minute");
}

/** As soon as it can be reached: its server may be recovering still. */
async function connect(folder: string): Promise<Db> {
  const deadline = performance.now() + 60_000;
  for (;;) {
    const server = await serverOf(folder);
    const db = server && openDatabase(server.url, { max: 1 });
    try {
      if (db) await sql`select 1`.execute(db);
      if (db) return db;
    } catch (error) {
      await db?.destroy();
      if (performance.now() > deadline) throw error;
    }
    await delay(20);
  }
}
