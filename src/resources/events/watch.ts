import { createHash } from "node:crypto";
import { setTimeout as delay } from "node:timers/promises";
import type { Db } from "../../db/client.js";
import { readStanding, type Standing } from "./queries.js";

const lookEveryMs = 500;

export interface Change {
  /** Of all that stands after it; the same in every replica. */
  id: string;
  /** Batches that have changed, or begun. */
  batches: string[];
  /** Something else has changed: a machine, a tool, a gauge, a part, or which batches there are. */
  shop: boolean;
}

/** Looks for changes while somebody wants to know: one look in half a second, however many do. */
export class Watch {
  private readonly listeners = new Set<(change: Change) => void>();
  private standing: Standing | undefined;
  private isLooking = false;

  constructor(private readonly db: Db) {}

  /** What has changed since the change named `since`, as far as that can be known: everything where it is another. */
  async missed(since: string | undefined): Promise<Change> {
    const standing = await readStanding(this.db);
    // What changes between this look and the first of those that follow has to be told, too.
    this.standing ??= standing;
    const id = idOf(standing);
    return since === id
      ? { id, batches: [], shop: false }
      : { id, batches: Object.keys(standing.batches), shop: true };
  }

  listen(listener: (change: Change) => void): () => void {
    this.listeners.add(listener);
    if (!this.isLooking) void this.look();
    return () => this.listeners.delete(listener);
  }

  get count(): number {
    return this.listeners.size;
  }

  private async look(): Promise<void> {
    this.isLooking = true;
    this.standing = undefined;
    while (this.listeners.size > 0) {
      // A database that is away for a moment is looked at again; nothing is told of it, and nothing is lost.
      const now = await readStanding(this.db).catch(() => undefined);
      if (now && this.standing) this.tell(this.standing, now);
      if (now) this.standing = now;
      await delay(lookEveryMs);
    }
    this.isLooking = false;
  }

  private tell(before: Standing, now: Standing): void {
    const names = new Set([...Object.keys(before.batches), ...Object.keys(now.batches)]);
    const batches = [...names].filter((batch) => before.batches[batch] !== now.batches[batch]);
    const shop = before.shop !== now.shop;
    if (batches.length === 0 && !shop) return;
    const change = { id: idOf(now), batches, shop };
    for (const listener of this.listeners) listener(change);
  }
}

function idOf(standing: Standing): string {
  const batches = Object.entries(standing.batches).sort(([a], [b]) => (a < b ? -1 : 1));
  return createHash("sha256")
    .update(JSON.stringify([batches, standing.shop]))
    .digest("base64url")
    .slice(0, 22);
}
