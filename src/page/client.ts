import createClient from "openapi-fetch";
import type { paths } from "../../openapi/openapi.js";

const client = createClient<paths>();
client.use({
  onRequest({ request }) {
    if (request.method === "POST" && !request.headers.has("idempotency-key"))
      request.headers.set("idempotency-key", crypto.randomUUID());
  },
});

/** The service as its contract describes it. */
export const api = client;

/** Signs in: the service keeps the key in a cookie that no script can read. */
export async function signIn(key: string): Promise<void> {
  await ask(client.POST("/v1/session", { body: { key } }));
}

/** What the service refused, in its own words. */
export class Refused extends Error {
  readonly status: number;
  /** What is wrong where in the body that was sent. */
  readonly faults: readonly Fault[];
  constructor(status: number, message: string, faults: readonly Fault[] = []) {
    super(message);
    this.status = status;
    this.faults = faults;
  }
}

/** What is wrong at a place of the body that was sent: a JSON pointer. */
export interface Fault {
  pointer: string;
  detail: string;
}

interface ProblemBody {
  detail?: string;
  title?: string;
  errors?: Fault[];
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
  throw new Refused(response.status, words ?? `The service answered ${response.status}.`, problem.errors);
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
