import createClient from "openapi-fetch";
import type { paths } from "../../openapi/openapi.js";

const keyName = "onsize-key";

const client = createClient<paths>();
client.use({
  onRequest({ request }) {
    const key = sessionStorage.getItem(keyName);
    if (key !== null) request.headers.set("authorization", `Bearer ${key}`);
    if (request.method === "POST" && !request.headers.has("idempotency-key"))
      request.headers.set("idempotency-key", crypto.randomUUID());
  },
});

/** The service as its contract describes it. */
export const api = client;

export function keepKey(key: string): void {
  sessionStorage.setItem(keyName, key);
}

/** What the service refused, in its own words. */
export class Refused extends Error {
  readonly status: number;
  constructor(status: number, message: string) {
    super(message);
    this.status = status;
  }
}

interface ProblemBody {
  detail?: string;
  title?: string;
  errors?: { pointer: string; detail: string }[];
}

/** The answer as JSON (what can be asked for as a table too is not asked for so here), or what the service refused. */
export async function ask<T>(
  request: Promise<{ data?: T; error?: unknown; response: Response }>,
): Promise<Exclude<T, string>> {
  const { data, error, response } = await request;
  if (data !== undefined) return data as Exclude<T, string>;
  const problem = (error ?? {}) as ProblemBody;
  const details = problem.errors?.map(({ detail }) => detail) ?? [];
  const words = details.length > 0 ? details.join(" ") : (problem.detail ?? problem.title);
  throw new Refused(response.status, words ?? `The service answered ${response.status}.`);
}

interface Page<T> {
  items: T[];
  next_cursor: string | null;
}

/** All items of a list, page by page. */
export async function askAll<T>(page: (cursor: string | undefined) => Promise<Page<T>>): Promise<T[]> {
  const items: T[] = [];
  let cursor: string | undefined;
  do {
    const answer = await page(cursor);
    items.push(...answer.items);
    cursor = answer.next_cursor ?? undefined;
  } while (cursor !== undefined);
  return items;
}
