import { readFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { parseArgs } from "node:util";

export interface Settings {
  /** File or folder that is followed. */
  path: string;
  service: URL;
  key: string | undefined;
  /** Parameters of each import: layout, batch, gauge, taken_by, first_piece. */
  query: Readonly<Record<string, string>>;
  /** Of a folder: the files whose names end so. */
  ending: string;
  stateFolder: string;
  pollMs: number;
  /** A file that has not changed for so long has come to its end; undefined: it may always grow. */
  finishedAfterMs: number | undefined;
  once: boolean;
  check: boolean;
  dryRun: boolean;
  refusedFile: string | undefined;
}

export class UsageError extends Error {}

export const usage = `onsize-upload PATH --to http://address:8790 --layout NAME [more]
onsize-upload --config FILE [more]

Reads a log, or every file of a folder, into onsize, and goes on as they grow. Nothing is lost and nothing comes in twice,
whatever is switched off in between.

  --to ADDRESS           the service
  --layout NAME          how the files are read
  --batch NAME           batch of all readings; without it each line says its own
  --gauge NAME           gauge of readings that name none
  --taken-by NAME        who took them, where the file does not say
  --first-piece N        where the layout counts pieces: the one of the first reading
  --ending .csv          of a folder only files whose names end so
  --once                 read what is there to its end and stop
  --check                say whether files, service, key, layout and batch are as they should be, and stop
  --finished-after S     a file unchanged for S seconds has come to its end, also without an end of its last line
  --dry-run              say what would be read, and keep nothing
  --refused FILE         write lines that are refused there, as a table for a spreadsheet
  --state FOLDER         where it remembers its place; without it beside the files, in .onsize-upload
  --poll S               look for news every S seconds (2)
  --config FILE          the same from a JSON file, such as {"path": "D:/logs", "to": "http://10.0.0.5:8790", "layout": "probe",
                         "ending": ".txt", "taken_by": "mill 1"}; names as above with _ for -, paths from its own folder on.
                         What stands on the command line counts before it
A key, where the service wants one, comes in the environment variable ONSIZE_KEY, or as "key" in the file.
While the service is away lines are kept in the state folder as well, should the log be emptied. Logs are never changed.
`;

const seconds = (text: string, name: string): number => {
  if (!/^\d{1,6}(\.\d{1,3})?$/.test(text))
    throw new UsageError(`--${name} is "${text}": give seconds, such as 2 or 0.5.`);
  return Number(text) * 1000;
};

const names = [
  "to",
  "layout",
  "batch",
  "gauge",
  "taken-by",
  "first-piece",
  "ending",
  "state",
  "poll",
  "finished-after",
  "refused",
] as const;
const flags = ["once", "check", "dry-run"] as const;
type Given = Partial<Record<(typeof names)[number] | "path" | "key", string>> &
  Partial<Record<(typeof flags)[number], boolean>>;

/** @throws {UsageError} saying what is wrong and what to give instead */
export function readSettings(args: readonly string[], env: NodeJS.ProcessEnv): Settings {
  const { values, positionals } = parse(args);
  const { config, ...named } = values;
  const [first, more] = positionals;
  if (more !== undefined) throw new UsageError(`One file or folder at a time: "${more}" is a second one.`);
  const given: Given = {
    ...(config === undefined ? {} : readConfig(config)),
    ...named,
    ...(first !== undefined && { path: first }),
  };
  const { path, to, layout } = given;
  if (path === undefined) throw new UsageError("Say which file or folder is to be read.");
  if (to === undefined || !URL.canParse(to) || !/^https?:/.test(to)) {
    throw new UsageError("--to is the service's address, such as http://127.0.0.1:8790.");
  }
  if (layout === undefined)
    throw new UsageError("--layout is the name of the layout by which the files are read.");
  const query: Record<string, string> = { layout };
  if (given.batch !== undefined) query.batch = given.batch;
  if (given.gauge !== undefined) query.gauge = given.gauge;
  if (given["taken-by"] !== undefined) query.taken_by = given["taken-by"];
  if (given["first-piece"] !== undefined) query.first_piece = given["first-piece"];
  const finished = given["finished-after"];
  return {
    path: resolve(path),
    service: new URL(to),
    key: env.ONSIZE_KEY || given.key,
    query,
    ending: given.ending ?? "",
    stateFolder: resolve(given.state ?? `${path}/../.onsize-upload`),
    pollMs: seconds(given.poll ?? "2", "poll"),
    finishedAfterMs: finished === undefined ? undefined : seconds(finished, "finished-after"),
    once: given.once ?? false,
    check: given.check ?? false,
    dryRun: given["dry-run"] ?? false,
    refusedFile: given.refused === undefined ? undefined : resolve(given.refused),
  };
}

/** Settings from a file, by the names of the options with _ for -; paths are taken from its folder on. */
function readConfig(file: string): Given {
  let read: unknown;
  try {
    read = JSON.parse(readFileSync(file, "utf8").replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new UsageError(`${file} can't be read as JSON: ${error instanceof Error ? error.message : error}`);
  }
  if (typeof read !== "object" || read === null || Array.isArray(read)) {
    throw new UsageError(`${file} has to be one JSON object, such as {"path": "logs", "layout": "probe"}.`);
  }
  const given: Record<string, string | boolean> = {};
  for (const [key, value] of Object.entries(read)) {
    const name = key.replaceAll("_", "-");
    const isFlag = (flags as readonly string[]).includes(name);
    if (!isFlag && ![...names, "path", "key"].some((one) => one === name)) {
      throw new UsageError(
        `${file}: "${key}" is not known here; there are ${[...names, "path", "key", ...flags].map((one) => one.replaceAll("-", "_")).join(", ")}.`,
      );
    }
    if (isFlag ? typeof value !== "boolean" : typeof value !== "string" && typeof value !== "number") {
      throw new UsageError(`${file}: "${key}" has to be ${isFlag ? "true or false" : "a text or a number"}.`);
    }
    const isPath = name === "path" || name === "state" || name === "refused";
    given[name] = isFlag
      ? (value as boolean)
      : isPath
        ? resolve(dirname(file), String(value))
        : String(value);
  }
  return given as Given;
}

function parse(args: readonly string[]) {
  const text = { type: "string" } as const;
  const flag = { type: "boolean" } as const;
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        config: text,
        to: text,
        layout: text,
        batch: text,
        gauge: text,
        "taken-by": text,
        "first-piece": text,
        ending: text,
        state: text,
        poll: text,
        "finished-after": text,
        refused: text,
        once: flag,
        check: flag,
        "dry-run": flag,
      },
    });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}
