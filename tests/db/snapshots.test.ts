import { once } from "node:events";
import { Readable } from "node:stream";
import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { endWith, Snapshots } from "../../src/db/snapshots.js";
import { createTestDatabase } from "../support/database.js";

const { db } = await createTestDatabase();

async function countMachines(at: typeof db): Promise<number> {
  const { rows } = await sql<{ n: number }>`select count(*)::int as n from machine`.execute(at);
  return rows[0]!.n;
}

async function addMachine(at: typeof db, name: string): Promise<void> {
  await sql`insert into machine (name, kind, unit, least_increment_mm, largest_change_mm)
    values (${name}, 'mill', 'mm', 0.001, 0.2)`.execute(at);
}

describe("Snapshots", () => {
  it("stay at the moment they were taken, whatever is written meanwhile", async () => {
    const snapshot = (await new Snapshots(db, 1).take())!;
    const before = await countMachines(snapshot.db);

    await addMachine(db, "written meanwhile");

    expect(await countMachines(snapshot.db)).toBe(before);
    expect(await countMachines(db)).toBe(before + 1);
    await snapshot.end();
  });

  it("write nothing", async () => {
    const snapshot = (await new Snapshots(db, 1).take())!;

    await expect(addMachine(snapshot.db, "by a reader")).rejects.toThrow(/read-only/);

    await snapshot.end();
  });

  it("are no more at a time than may be; one that ends makes room, once", async () => {
    const snapshots = new Snapshots(db, 2);
    const [first, second] = [await snapshots.take(), await snapshots.take()];

    expect(await snapshots.take()).toBeUndefined();
    await first!.end();
    await first!.end();
    const third = await snapshots.take();

    expect(third).toBeDefined();
    expect(await snapshots.take()).toBeUndefined();
    await Promise.all([second!.end(), third!.end()]);
  });

  it("end with their document, read to its end or not", async () => {
    const snapshots = new Snapshots(db, 1);
    for (const leave of [
      (document: Readable) => document.resume(),
      (document: Readable) => document.destroy(),
    ]) {
      const document = endWith(Readable.from(["a", "b"]), (await snapshots.take())!);
      const closed = once(document, "close");
      leave(document);
      await closed;
      const isFree = async () => {
        const next = await snapshots.take();
        await next?.end();
        return next !== undefined;
      };
      await expect.poll(isFree).toBe(true);
    }
  });

  it("make room again where none could be begun", async () => {
    const gone = new Proxy(db, {
      get: () => () => {
        throw new Error("no database");
      },
    });
    const snapshots = new Snapshots(gone, 1);

    await expect(snapshots.take()).rejects.toThrow("no database");
    await expect(snapshots.take()).rejects.toThrow("no database");
  });
});
