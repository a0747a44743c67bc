import { createHash, randomBytes, timingSafeEqual } from "node:crypto";
import { sql } from "kysely";
import type { Db } from "../db/client.js";
import type { Role } from "./roles.js";

/** Who a request is from. */
export interface KeyHolder {
  readonly name: string;
  readonly role: Role;
}

interface KeyRow extends KeyHolder {
  key_id: string;
  prefix: string;
  secret_hash: Buffer;
  revoked_at: string | null;
}

/** Longest that a key revoked on another replica is still taken here. */
const freshMs = 5000;
/** Sooner than this the table is not read again for a key that nobody knows. */
const newKeyMs = 1000;
const usedEveryMs = 60_000;

const nameOfFirstKey = "ONSIZE_ADMIN_KEY";

/**
 * The keys as the table has them, held in memory for a few seconds: a shop has tens of them, and a look-up for each request would
 * cost more than the request. The first key, from the environment, is never written anywhere.
 */
export class KeyRing {
  private byPrefix = new Map<string, KeyRow>();
  private loadedAt = Number.NEGATIVE_INFINITY;
  private loading: Promise<void> | undefined;
  private readonly usedAt = new Map<string, number>();
  private readonly first: Buffer | undefined;

  constructor(
    private readonly db: Db,
    firstKey: string | undefined,
  ) {
    this.first = firstKey === undefined ? undefined : digest(firstKey);
  }

  /** False: no key was ever made, so that none is asked for. A shop that has revoked its last key is not open to everybody. */
  async isLocked(): Promise<boolean> {
    if (this.first) return true;
    await this.refresh(freshMs);
    return this.byPrefix.size > 0;
  }

  /** Whose key it is; undefined: nobody's, or it was revoked. */
  async find(key: string): Promise<KeyHolder | undefined> {
    if (this.first && timingSafeEqual(digest(key), this.first))
      return { name: nameOfFirstKey, role: "admin" };
    const prefix = prefixOf(key);
    if (prefix === undefined) return undefined;
    await this.refresh(freshMs);
    if (!this.byPrefix.has(prefix)) await this.refresh(newKeyMs);
    const row = this.byPrefix.get(prefix);
    if (!row || row.revoked_at !== null || !timingSafeEqual(digest(key), row.secret_hash)) return undefined;
    this.noteUse(row.key_id);
    return { name: row.name, role: row.role };
  }

  /** What was changed here counts at once. */
  forget(): void {
    this.loadedAt = Number.NEGATIVE_INFINITY;
  }

  private async refresh(oldestMs: number): Promise<void> {
    if (performance.now() - this.loadedAt < oldestMs) return;
    this.loading ??= this.load().finally(() => {
      this.loading = undefined;
    });
    await this.loading;
  }

  private async load(): Promise<void> {
    const begun = performance.now();
    const rows = await this.db
      .selectFrom("access_key")
      .select(["key_id", "name", "role", "prefix", "secret_hash", "revoked_at"])
      .execute();
    this.byPrefix = new Map(rows.map((row) => [row.prefix, row]));
    this.loadedAt = begun;
  }

  private noteUse(keyId: string): void {
    const now = performance.now();
    if (now - (this.usedAt.get(keyId) ?? Number.NEGATIVE_INFINITY) < usedEveryMs) return;
    this.usedAt.set(keyId, now);
    // Not waited for: a request does not fail for want of this note.
    sql`update access_key set last_used_at = now() where key_id = ${keyId}
        and (last_used_at is null or last_used_at < now() - interval '1 minute')`
      .execute(this.db)
      .catch(() => this.usedAt.delete(keyId));
  }
}

/** A new key: the text to be shown once, and what is kept of it. */
export function makeKey(): { key: string; prefix: string; secret_hash: Buffer } {
  const prefix = randomBytes(5).toString("hex");
  const key = `onsize_${prefix}_${randomBytes(32).toString("base64url")}`;
  return { key, prefix, secret_hash: digest(key) };
}

function prefixOf(key: string): string | undefined {
  return /^onsize_([0-9a-f]{10})_[\w-]{43}$/.exec(key)?.[1];
}

// The secret is 256 bits of chance, not a word that somebody chose: there is nothing to guess that a slow hash would make dearer,
// and a slow one would be paid with every request.
function digest(text: string): Buffer {
  return createHash("sha256").update(text).digest();
}
