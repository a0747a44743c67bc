import { setTimeout as delay } from "node:timers/promises";
import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { openDatabase } from "../../src/db/client.js";
import { createTestDatabase } from "../support/database.js";

const { db, url } = await createTestDatabase();

async function select(expression: string): Promise<unknown> {
  const { rows } = await sql<{ value: unknown }>`select ${sql.raw(expression)} as value`.execute(db);
  return rows[0]?.value;
}

describe("openDatabase", () => {
  it.each([
    ["timestamptz '2026-03-29 03:30:00.12+02'", "2026-03-29T01:30:00.120Z"],
    ["timestamptz '2026-01-01 00:00:00Z'", "2026-01-01T00:00:00.000Z"],
    ["array[timestamptz '2026-01-01 00:00:00Z', null]", ["2026-01-01T00:00:00.000Z", null]],
    ["date '2026-02-28'", "2026-02-28"],
    ["array[date '2026-02-28']", ["2026-02-28"]],
    ["9007199254740993::bigint", "9007199254740993"],
    ["array[9007199254740993::bigint]", ["9007199254740993"]],
    ["12.345678901::numeric(18,9)", "12.345678901"],
    ["array[0.100000000::numeric(18,9), null]", ["0.100000000", null]],
    ["42::integer", 42],
    ["0.5::double precision", 0.5],
    ["array['a', 'b']", ["a", "b"]],
    ["'{\"a\": 1}'::jsonb", { a: 1 }],
    ["null::timestamptz", null],
  ])("reads %s as %j", async (expression, value) => {
    expect(await select(expression)).toEqual(value);
  });

  it("reads an instant the same way whatever the time zone of the session", async () => {
    const value = await db.transaction().execute(async (trx) => {
      await sql`set local timezone = 'Asia/Kolkata'`.execute(trx);
      return sql<{ value: string }>`select timestamptz '2026-01-01 00:00:00Z' as value`.execute(trx);
    });

    expect(value.rows[0]?.value).toBe("2026-01-01T00:00:00.000Z");
  });

  it("tells the server who it is", async () => {
    expect(await select("current_setting('application_name')")).toBe("onsize");
  });

  it("survives the loss of an idle connection and of one in use", async () => {
    const victim = openDatabase(url, { max: 2 });
    const killAll = sql`
      select pg_terminate_backend(pid) from pg_stat_activity
      where datname = current_database() and pid <> pg_backend_pid()`;
    await sql`select 1`.execute(victim);
    await killAll.execute(db);
    await delay(50);

    const broken = victim.transaction().execute(async (trx) => {
      await sql`select 1`.execute(trx);
      await killAll.execute(db);
      await delay(50);
      await sql`select 1`.execute(trx);
    });

    await expect(broken).rejects.toThrow();
    expect((await sql`select 1 as one`.execute(victim)).rows).toEqual([{ one: 1 }]);
    await victim.destroy();
  });
});
