import { resolve } from "node:path";
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
  dryRun: boolean;
  refusedFile: string | undefined;
}

export class UsageError extends Error {}

export const usage = `onsize-upload PATH --to http://address:8790 --layout NAME [more]

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
  --finished-after S     a file unchanged for S seconds has come to its end, also without an end of its last line
  --dry-run              say what would be read, and keep nothing
  --refused FILE         write lines that are refused there, as a table for a spreadsheet
  --state FOLDER         where it remembers its place; without it beside the files, in .onsize-upload
  --poll S               look for news every S seconds (2)
A key, where the service wants one, comes in the environment variable ONSIZE_KEY.
`;

const seconds = (text: string, name: string): number => {
  if (!/^\d{1,6}(\.\d{1,3})?$/.test(text))
    throw new UsageError(`--${name} is "${text}": give seconds, such as 2 or 0.5.`);
  return Number(text) * 1000;
};

/** @throws {UsageError} saying what is wrong and what to give instead */
export function readSettings(args: readonly string[], env: NodeJS.ProcessEnv): Settings {
  const { values, positionals } = parse(args);
  const [path, more] = positionals;
  if (path === undefined) throw new UsageError("Say which file or folder is to be read.");
  if (more !== undefined) throw new UsageError(`One file or folder at a time: "${more}" is a second one.`);
  if (values.to === undefined || !URL.canParse(values.to) || !/^https?:/.test(values.to)) {
    throw new UsageError("--to is the service's address, such as http://127.0.0.1:8790.");
  }
  if (values.layout === undefined)
    throw new UsageError("--layout is the name of the layout by which the files are read.");
  const query: Record<string, string> = { layout: values.layout };
  if (values.batch !== undefined) query.batch = values.batch;
  if (values.gauge !== undefined) query.gauge = values.gauge;
  if (values["taken-by"] !== undefined) query.taken_by = values["taken-by"];
  if (values["first-piece"] !== undefined) query.first_piece = values["first-piece"];
  const finished = values["finished-after"];
  return {
    path: resolve(path),
    service: new URL(values.to),
    key: env.ONSIZE_KEY || undefined,
    query,
    ending: values.ending ?? "",
    stateFolder: resolve(values.state ?? `${path}/../.onsize-upload`),
    pollMs: seconds(values.poll ?? "2", "poll"),
    finishedAfterMs: finished === undefined ? undefined : seconds(finished, "finished-after"),
    once: values.once ?? false,
    dryRun: values["dry-run"] ?? false,
    refusedFile: values.refused === undefined ? undefined : resolve(values.refused),
  };
}

function parse(args: readonly string[]) {
  const text = { type: "string" } as const;
  const flag = { type: "boolean" } as const;
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
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
        "dry-run": flag,
      },
    });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}
