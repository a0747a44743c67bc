import pg from "pg";
import { expect, it } from "vitest";
import { bareInsert } from "../bench/bare-insert.js";
import { createTestDatabase } from "../support/database.js";

const { url } = await createTestDatabase();

it("stores a reading by the bare route that the service is measured against", async () => {
  const client = new pg.Client(url);
  await client.connect();
  try {
    const { rowCount } = await client.query(bareInsert, [["1"], [1], ["1"], [1], ["12.001"], ["mm"], ["1"]]);

    expect(rowCount).toBe(1);
  } finally {
    await client.end();
  }
});
