import { AsyncLocalStorage } from "node:async_hooks";
import type { Trx } from "./client.js";

/** What a request is about to change, as far as it is known before it is done. */
export interface Change {
  readonly operation: string;
  readonly keyName: string | null;
  readonly entities: Readonly<Record<string, string>>;
  readonly request: unknown;
  readonly requestId: string | null;
}

const underWay = new AsyncLocalStorage<Change>();
const longestRequest = 20_000;

/** Runs `work` so that what it writes through `transact` is in the list of changes. */
export function asChange(change: Change, work: () => void): void {
  underWay.run(change, work);
}

/** Name of the key by which what is under way came; undefined: none was asked for. */
export function keyNameUnderWay(): string | undefined {
  return underWay.getStore()?.keyName ?? undefined;
}

/** Puts what is under way into the list of changes, with the ids that came of it; in the transaction of the change itself. */
export async function noteChange(trx: Trx, answer: unknown): Promise<void> {
  const change = underWay.getStore();
  if (!change || isReplay(answer)) return;
  await insertChange(trx, { ...change, entities: { ...change.entities, ...idsIn(answer) } });
}

export async function insertChange(trx: Trx, change: Change): Promise<void> {
  const { operation, keyName, entities, request, requestId } = change;
  const text = request === undefined || request === null ? null : JSON.stringify(request);
  const { by } = (request ?? {}) as { by?: unknown };
  await trx
    .insertInto("audit")
    .values({
      operation,
      key_name: keyName,
      by_name: typeof by === "string" ? by : null,
      entities: JSON.stringify(entities),
      request:
        text !== null && text.length > longestRequest
          ? JSON.stringify({ left_out: `${text.length} characters` })
          : text,
      request_id: requestId,
    })
    .execute();
}

function isReplay(answer: unknown): boolean {
  return typeof answer === "object" && answer !== null && "replayed" in answer;
}

function idsIn(answer: unknown): Record<string, string> {
  const { body = answer } = (answer ?? {}) as { body?: unknown };
  if (typeof body !== "object" || body === null) return {};
  return Object.fromEntries(
    Object.entries(body).filter(([name, value]) => name.endsWith("_id") && typeof value === "string"),
  );
}
