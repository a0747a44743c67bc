import { z } from "zod";
import { problemAt } from "./problem.js";

const largestPage = 500;

/** Query parameters of every list; to be spread into the list's own. */
export const pageQuery = {
  limit: z
    .string()
    .refine(
      (text) => /^[1-9]\d{0,2}$/.test(text) && Number(text) <= largestPage,
      `must be a whole number from 1 to ${largestPage}`,
    )
    .transform(Number)
    .default(50)
    .meta({
      type: "integer",
      minimum: 1,
      maximum: largestPage,
      default: 50,
      description: "How many to list at most; 50 if absent",
    }),
  cursor: z.string().optional().describe("`next_cursor` of the page before; absent for the first page"),
};

/** A list answer of the contract. */
export function pageOf<Item extends z.ZodType>(id: string, item: Item, order = "oldest first") {
  return z
    .strictObject({
      items: z.array(item).describe(`This page, ${order}`),
      next_cursor: z
        .string()
        .nullable()
        .describe("Send it as `cursor` for the next page; null on the last page"),
    })
    .meta({ id, description: "One page of a list" });
}

/** Cuts the row that was asked for beyond `limit` off again. `keysOf` gives the ids the list is ordered by. */
export function toPage<Row, Item>(
  rows: readonly Row[],
  limit: number,
  keysOf: (row: Row) => readonly (string | number)[],
  show: (row: Row) => Item,
): { items: Item[]; next_cursor: string | null } {
  const last = rows.length > limit ? rows[limit - 1] : undefined;
  return {
    items: rows.slice(0, limit).map(show),
    next_cursor: last === undefined ? null : Buffer.from(keysOf(last).join(".")).toString("base64url"),
  };
}

/** The rows of a list's items page by page, from a cursor to the end; the next page is read when it is asked for. */
export async function* eachPage<Item, Row>(
  cursor: string | undefined,
  read: (cursor: string | undefined, limit: number) => Promise<{ items: Item[]; next_cursor: string | null }>,
  rowsOf: (item: Item) => Row | readonly Row[],
): AsyncGenerator<Row[], void> {
  for (let next: string | null | undefined = cursor; next !== null; ) {
    const page: { items: Item[]; next_cursor: string | null } = await read(next, largestPage);
    yield page.items.flatMap(rowsOf);
    next = page.next_cursor;
  }
}

/** The ids that the page comes after: as many zeros for the first page. */
export function readCursor(cursor: string | undefined, count: number): string[] {
  if (cursor === undefined) return Array<string>(count).fill("0");
  const keys = Buffer.from(cursor, "base64url").toString("latin1").split(".");
  if (keys.length === count && keys.every((key) => /^\d{1,18}$/.test(key))) return keys;
  throw problemAt("validation", [
    {
      pointer: "cursor",
      detail: "is no cursor of this list: send next_cursor as it came, or leave it out for the first page",
    },
  ]);
}
