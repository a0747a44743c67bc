import { createReadStream } from "node:fs";
import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { FollowedFile } from "./follow-file.js";
import type { Journal } from "./journal.js";
import { NotNow, Refused, send } from "./service.js";
import type { Settings } from "./settings.js";

const longestWaitMs = 60_000;

/** Follows a file or all files of a folder until `stopped`, or with `once` until each has been read to its end. */
export async function run(settings: Settings, journal: Journal, stopped: AbortSignal): Promise<boolean> {
  if (settings.dryRun) return await tryAll(settings, journal);
  const followed = new Map<string, FollowedFile>();
  let waitMs = settings.pollMs;
  for (;;) {
    let isNews = false;
    let failed = false;
    for (const path of await filesOf(settings)) {
      const file = followed.get(path) ?? new FollowedFile(settings, path, journal);
      followed.set(path, file);
      try {
        isNews = (await file.look()) || isNews;
      } catch (error) {
        failed = true;
        journal.say(path, explain(error));
      }
    }
    if (stopped.aborted || (settings.once && !failed && !isNews)) break;
    // Twice as long after each failure, and not all machines of a shop at the same moment.
    waitMs = failed
      ? Math.min(longestWaitMs, Math.max(waitMs, 500) * (1.5 + Math.random()))
      : settings.pollMs;
    if (settings.once && isNews && !failed) continue;
    await setTimeout(waitMs, undefined, { signal: stopped }).catch(() => undefined);
    if (stopped.aborted) break;
  }
  for (const file of followed.values()) await file.close();
  return true;
}

/** Says what would be read of each file, and keeps nothing. */
async function tryAll(settings: Settings, journal: Journal): Promise<boolean> {
  let good = true;
  for (const path of await filesOf(settings)) {
    try {
      const query = { ...settings.query, dry_run: "true" };
      journal.tell(path, await send(settings, "/v1/readings/imports", query, createReadStream(path)));
    } catch (error) {
      good = false;
      journal.say(path, explain(error));
    }
  }
  return good;
}

function explain(error: unknown): string {
  if (error instanceof NotNow) return `${error.message}. It is tried again.`;
  if (error instanceof Refused) return `${error.message} It is tried again when that is mended.`;
  return `can't be read (${error instanceof Error ? error.message : String(error)}). It is tried again.`;
}

async function filesOf({ path, ending }: Settings): Promise<string[]> {
  const found = await stat(path).catch(() => undefined);
  if (!found?.isDirectory()) return [path];
  const entries = await readdir(path, { withFileTypes: true }).catch(() => []);
  return entries
    .filter((entry) => entry.isFile() && entry.name.endsWith(ending) && !entry.name.startsWith("."))
    .map((entry) => join(path, entry.name))
    .sort();
}
