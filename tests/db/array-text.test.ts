import fc from "fast-check";
import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { arrayText } from "../../src/db/array-text.js";
import { createTestDatabase } from "../support/database.js";

const { db } = await createTestDatabase();

// PostgreSQL's own reading of the text is what counts (manual, "Array Input and Output Syntax").
describe("arrayText", () => {
  it("gives texts of any characters back as they were", async () => {
    const text = fc.oneof(
      fc.string({ unit: "binary" }).filter((each) => !each.includes("\0")),
      fc.constantFrom("", "NULL", "null", "{}", '"', "\\", '\\"', ",", " a ", "{a,b}", "µm\n"),
    );
    const values = fc.array(fc.option(text), { minLength: 1, maxLength: 30 });
    await fc.assert(
      fc.asyncProperty(values, async (wanted) => {
        const { rows } = await sql<{ back: (string | null)[] }>`
          select ${arrayText(wanted)}::text[] as back`.execute(db);

        expect(rows[0]!.back).toEqual(wanted.every((each) => each === null) ? [] : wanted);
      }),
    );
  });

  it("gives numbers, decimals and truth back exactly", async () => {
    const { rows } = await sql`
      select ${arrayText([0.1, -2.5e-300, 1e21, Number.NaN, Number.POSITIVE_INFINITY, null])}::float8[] as doubles,
        ${arrayText(["9007199254740993", null])}::bigint[] as ids, ${arrayText(["12.345678901"])}::numeric[] as sizes,
        ${arrayText([true, false, undefined])}::bool[] as truths`.execute(db);

    expect(rows).toEqual([
      {
        doubles: [0.1, -2.5e-300, 1e21, Number.NaN, Number.POSITIVE_INFINITY, null],
        ids: ["9007199254740993", null],
        sizes: ["12.345678901"],
        truths: [true, false, null],
      },
    ]);
  });

  it("leaves a column of nulls to unnest, which fills it up beside one that goes on", async () => {
    const { rows } = await sql`
      select no, name from unnest(${arrayText([1, 2])}::int[], ${arrayText([null, null])}::text[]) as t (no, name)`.execute(
      db,
    );

    expect(arrayText([null, undefined])).toBe("{}");
    expect(rows).toEqual([
      { no: 1, name: null },
      { no: 2, name: null },
    ]);
  });
});
