import type { Readable } from "node:stream";
import type { Settings } from "./settings.js";

/** What this program reads of an import's answer. */
export interface ImportAnswer {
  import_id: string | null;
  status: "open" | "complete" | "failed";
  next_offset: number;
  accepted: number;
  duplicates: number;
  repeated: number;
  refused_count: number;
  refused: { line: number; text: string; reason: string }[];
  next: { action: string; piece: number; why: string } | null;
}

/** The service can't be reached or is busy: the same again later comes out right. */
export class NotNow extends Error {}

/** The service says no, and a person has to see to it. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
  ) {
    super(message);
  }
}

const patienceMs = 10 * 60_000;

/** Sends bytes of a file. */
export async function send(
  settings: Settings,
  path: string,
  query: Readonly<Record<string, string>>,
  body: Readable | Buffer,
  key?: string,
): Promise<ImportAnswer> {
  const url = new URL(`${path}?${new URLSearchParams(query)}`, settings.service);
  const headers: Record<string, string> = { "content-type": "application/octet-stream" };
  if (settings.key !== undefined) headers.authorization = `Bearer ${settings.key}`;
  if (key !== undefined) headers["idempotency-key"] = key;
  let response: Response;
  let text: string;
  try {
    const init = {
      method: "POST",
      headers,
      body: body as never,
      duplex: "half",
      signal: AbortSignal.timeout(patienceMs),
    };
    response = await fetch(url, init as RequestInit);
    text = await response.text();
  } catch (error) {
    throw new NotNow(`${settings.service.host} can't be reached (${reasonOf(error)})`);
  }
  const answer = parsed(text);
  if (response.ok && answer) return answer as ImportAnswer;
  const detail = (answer as { detail?: string } | undefined)?.detail ?? `it answers ${response.status}`;
  const type = (answer as { type?: string } | undefined)?.type ?? "";
  if (
    response.status >= 500 ||
    response.status === 429 ||
    type.endsWith("idempotency-in-flight") ||
    !answer
  ) {
    throw new NotNow(detail);
  }
  throw new Refused(response.status, detail);
}

function reasonOf(error: unknown): string {
  const { cause, message } = error as Error & { cause?: { code?: string; message?: string } };
  return cause?.code ?? cause?.message ?? message;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
