import { api } from "./client.js";

/** What has changed, as the service says it; undefined: anything may have. */
export type Change = { batches: string[]; shop: boolean } | undefined;
type Listener = (change: Change) => void;

const askEveryMs = 2000;
const tryAgainMs = 1000;
/** The service says that it is still there every 15 s. */
const silenceMs = 40_000;

const listeners = new Set<Listener>();
let lastId: string | undefined;
let running = false;
let wasLost = false;
let wake = () => {};

/**
 * Calls `listener` whenever something has changed: told by the service over one stream for the whole page, or, where there is none, after
 * every two seconds. A page out of view lets its stream go, since a browser has few connections to one address for all its tabs.
 */
export function onChange(listener: Listener): () => void {
  listeners.add(listener);
  if (!running) void follow();
  return () => listeners.delete(listener);
}

function isHidden(): boolean {
  return document.visibilityState === "hidden";
}

function tell(change: Change): void {
  for (const listener of listeners) listener(change);
}

async function follow(): Promise<void> {
  running = true;
  while (listeners.size > 0) {
    if (isHidden()) await pause();
    const began = Date.now();
    const wasTold = await read().catch(() => false);
    if (listeners.size === 0) break;
    if (isHidden()) continue;
    wasLost = true;
    tell(undefined);
    // A stream that ends now and then is taken up at once; one that there is not is not asked for all the time.
    await pause(wasTold && Date.now() - began > tryAgainMs ? tryAgainMs : askEveryMs);
  }
  running = false;
}

/** Reads the stream to its end. @returns whether it said anything */
async function read(): Promise<boolean> {
  const leaving = new AbortController();
  const leave = () => leaving.abort();
  const hide = () => isHidden() && leave();
  let silence = setTimeout(leave, silenceMs);
  document.addEventListener("visibilitychange", hide);
  window.addEventListener("offline", leave);
  let wasTold = false;
  try {
    const { data } = await api.GET("/v1/events", {
      params: { header: lastId === undefined ? {} : { "last-event-id": lastId } },
      parseAs: "stream",
      signal: leaving.signal,
    });
    if (!data) return false;
    const reader = (data as ReadableStream<Uint8Array>).getReader();
    const decoder = new TextDecoder();
    let rest = "";
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return wasTold;
      clearTimeout(silence);
      silence = setTimeout(leave, silenceMs);
      const events = (rest + decoder.decode(value, { stream: true })).split("\n\n");
      rest = events.pop()!;
      for (const event of events) wasTold = take(event) || wasTold;
    }
  } catch {
    return wasTold;
  } finally {
    clearTimeout(silence);
    leave();
    document.removeEventListener("visibilitychange", hide);
    window.removeEventListener("offline", leave);
  }
}

function take(event: string): boolean {
  const fields = new Map(
    event.split("\n").map((line) => [line.split(":", 1)[0], line.replace(/^\w*: ?/, "")]),
  );
  const data = fields.get("data");
  if (fields.get("event") !== "changed" || data === undefined) return false;
  lastId = fields.get("id") ?? lastId;
  const change = JSON.parse(data) as NonNullable<Change>;
  if (wasLost) tell(undefined);
  else if (change.shop || change.batches.length > 0) tell(change);
  wasLost = false;
  return true;
}

/** Waits; without a time until the page comes into view. */
function pause(ms?: number): Promise<void> {
  return new Promise((done) => {
    const timer = ms === undefined ? undefined : setTimeout(() => wake(), ms);
    const seen = () => isHidden() || wake();
    const back = () => wake();
    document.addEventListener("visibilitychange", seen);
    window.addEventListener("online", back);
    wake = () => {
      clearTimeout(timer);
      document.removeEventListener("visibilitychange", seen);
      window.removeEventListener("online", back);
      done();
    };
  });
}
