import { Readable } from "node:stream";
import type { FastifyReply } from "fastify";
import { z } from "zod";
import { csvCell } from "../core/notation/csv-cell.js";
import { documentHeaders } from "./document-headers.js";
import { answer } from "./problem.js";

/** Query parameter of a list that can be had as a table; to be spread into the list's own. */
export const formatQuery = {
  format: z
    .enum(["json", "csv"])
    .default("json")
    .describe("`csv`: a table for a spreadsheet, the whole list at once whatever `limit` says"),
};

/** A list that can be had page by page or as a table. */
export function listOrTable<Schema extends z.ZodType>(description: string, schema: Schema) {
  const { content } = answer(description, schema);
  return {
    description,
    content: { ...content, "text/csv": { schema: z.string().meta({ format: "binary" }) } },
  };
}

type Cell = string | number | boolean | null;
/** A row of a table, which may say more than the table shows. */
export type TableRow<Column extends string> = Readonly<Record<Column, Cell>>;

/**
 * Answers with a list as a file, a row for each item, written page by page as it is asked for: memory does not grow with the
 * list. The first page is read before anything is sent, so that what is wrong with the request is answered as a problem. A text
 * that a spreadsheet would take for a formula, a number or a date begins with an apostrophe.
 */
export async function sendTable<Column extends string>(
  reply: FastifyReply,
  name: string,
  columns: readonly Column[],
  pages: AsyncGenerator<readonly TableRow<Column>[], void>,
): Promise<never> {
  const first = await pages.next();
  reply.headers(documentHeaders("csv", name));
  const table = writeTable(columns, first.value ?? [], pages);
  return reply.send(Readable.from(table, { objectMode: false })) as never;
}

/** RFC 4180, with a byte order mark, since spreadsheets take UTF-8 for something else without. */
async function* writeTable<Column extends string>(
  columns: readonly Column[],
  first: readonly TableRow<Column>[],
  others: AsyncIterable<readonly TableRow<Column>[]>,
): AsyncGenerator<string> {
  const lines = (rows: readonly TableRow<Column>[]) =>
    rows.map((row) => `${columns.map((column) => writeCell(row[column])).join(",")}\r\n`).join("");
  yield `\uFEFF${columns.join(",")}\r\n${lines(first)}`;
  for await (const rows of others) yield lines(rows);
}

function writeCell(cell: Cell): string {
  return csvCell(typeof cell === "boolean" ? (cell ? "yes" : "no") : cell, { keepText: true });
}
