import { parse } from "csv-parse/sync";
import type { Agent } from "supertest";
import { expect } from "vitest";

/** A table of the service as rows of texts, read by a reader of RFC 4180 that has no part in writing it. */
export async function readTable(api: Agent, path: string): Promise<Record<string, string>[]> {
  const response = await api.get(`${path}${path.includes("?") ? "&" : "?"}format=csv`);
  expect(response.status, response.text).toBe(200);
  expect(response.headers).toMatchObject({
    "content-type": "text/csv; charset=utf-8",
    "content-disposition": expect.stringMatching(/^attachment; filename="[\w.-]+\.csv"; /),
    "x-content-type-options": "nosniff",
  });
  expect(response.text).toMatch(/^\uFEFF[a-z_,]+\r\n/);
  expect(response.text.endsWith("\r\n")).toBe(true);
  return parse(response.text, { bom: true, columns: true, record_delimiter: "\r\n" });
}

/** What a cell says of a value of the JSON answer. */
export function cellOf(value: unknown): string {
  if (value === null) return "";
  if (typeof value === "boolean") return value ? "yes" : "no";
  return String(value);
}

/** A text as it stands in a cell: with an apostrophe where a spreadsheet would make something else of it. */
export function plain(cell: string | undefined): string | undefined {
  return cell?.replace(/^'/, "");
}
