import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Account, findAccount, findClosedFolder } from "../../src/db/engine.js";

/** Postgres under root runs as another account, which may not reach the temporary folder of the session. */
async function findBase(account: Account | undefined): Promise<string> {
  if (!account) return tmpdir();
  for (const base of [tmpdir(), "/tmp", "/var/tmp"]) {
    if (!(await findClosedFolder(base, account))) return base;
  }
  return "/var/lib";
}

/** An empty folder that the embedded Postgres can reach. */
export async function createFolder(): Promise<string> {
  const account = await findAccount("");
  const folder = await mkdtemp(join(await findBase(account), "onsize-test-"));
  if (account) await chmod(folder, 0o755);
  return folder;
}

export async function removeFolder(folder: string): Promise<void> {
  await rm(folder, { recursive: true, force: true, maxRetries: 5 });
}
