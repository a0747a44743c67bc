import { constants, createReadStream } from "node:fs";
import { access, mkdir, open, readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { FollowedFile } from "./follow-file.js";
import type { Journal } from "./journal.js";
import { NotNow, Refused, send } from "./service.js";
import type { Settings } from "./settings.js";

const longestWaitMs = 60_000;

/** Follows a file or all files of a folder until `stopped`, or with `once` until each has been read to its end. */
export async function run(settings: Settings, journal: Journal, stopped: AbortSignal): Promise<boolean> {
  if (settings.check) return await check(settings, journal);
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
    await wait(waitMs, settings.pollMs, failed ? [...followed.values()] : [], stopped);
    if (stopped.aborted) break;
  }
  for (const file of followed.values()) await file.close();
  return true;
}

/** Waits; what the service does not take meanwhile is spooled as often as it would be looked at. */
async function wait(
  waitMs: number,
  pollMs: number,
  spooled: readonly FollowedFile[],
  stopped: AbortSignal,
): Promise<void> {
  for (let left = waitMs; left > 0 && !stopped.aborted; left -= pollMs) {
    await setTimeout(Math.min(left, pollMs), undefined, { signal: stopped }).catch(() => undefined);
    for (const file of spooled) await file.spool();
  }
}

/** Says of each thing that is needed whether it is there. */
async function check(settings: Settings, journal: Journal): Promise<boolean> {
  const { path, stateFolder, query } = settings;
  let good = true;
  const look = async (what: string, probe: () => Promise<string>) => {
    try {
      journal.say(what, `good: ${await probe()}`);
    } catch (error) {
      good = false;
      const message = error instanceof Error ? error.message : String(error);
      journal.say(what, `NOT GOOD: ${message}`);
    }
  };
  await look("files", async () => {
    const isFolder = (await stat(path)).isDirectory();
    const files = await filesOf(settings);
    for (const file of files) await (await open(file, "r")).close();
    return isFolder ? `${files.length} in ${path}` : path;
  });
  await look("state", async () => {
    await mkdir(stateFolder, { recursive: true });
    await access(stateFolder, constants.W_OK);
    return stateFolder;
  });
  await look("service", async () => {
    await send(settings, "/v1/readings/imports", { ...query, dry_run: "true" }, Buffer.alloc(0));
    const named = Object.entries(query).map(([name, value]) => `${name} "${value}"`);
    return `${settings.service.host} knows ${named.join(", ")}`;
  });
  return good;
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
