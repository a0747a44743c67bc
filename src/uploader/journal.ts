import { appendFile } from "node:fs/promises";
import { basename } from "node:path";
import { csvCell } from "../core/notation/csv-cell.js";
import type { ImportAnswer } from "./service.js";

const mostShown = 5;

/** What the program says of its doings, for whoever looks after the machine. */
export class Journal {
  private readonly said = new Map<string, string>();

  constructor(
    private readonly write: (line: string) => void,
    private readonly refusedFile: string | undefined,
  ) {}

  /** Says it once, until something else is said of the file. */
  say(path: string, message: string): void {
    if (this.said.get(path) === message) return;
    this.said.set(path, message);
    this.write(`${new Date().toISOString()} ${basename(path)}: ${message}\n`);
  }

  /** How the import of a file stands. */
  tell(path: string, answer: ImportAnswer): void {
    const { accepted, duplicates, refused_count, next_offset, next } = answer;
    const counts = [
      `${accepted} readings taken`,
      ...(duplicates > 0 ? [`${duplicates} were there already`] : []),
      ...(refused_count > 0 ? [`${refused_count} lines refused`] : []),
    ];
    const advice = next && next.action !== "run_on" ? ` ${next.why}` : "";
    this.say(path, `up to byte ${next_offset}: ${counts.join(", ")}.${advice}`);
    for (const { line, text, reason } of answer.refused.slice(0, mostShown)) {
      this.write(`  line ${line}: ${reason}\n    ${text.split("\n")[0]}\n`);
    }
    if (answer.refused.length > mostShown) this.write(`  and ${answer.refused.length - mostShown} more\n`);
    void this.keep(path, answer);
  }

  private async keep(path: string, { refused, import_id }: ImportAnswer): Promise<void> {
    if (this.refusedFile === undefined || refused.length === 0) return;
    const rows = refused.map(({ line, text, reason }) =>
      [
        csvCell(basename(path)),
        csvCell(Number(import_id)),
        csvCell(line),
        csvCell(text, { keepText: true }),
        csvCell(reason),
      ].join(","),
    );
    await appendFile(this.refusedFile, `${rows.join("\n")}\n`).catch((error: NodeJS.ErrnoException) =>
      this.say(
        path,
        `refused lines can't be written to ${this.refusedFile} (${error.code}); the service lists them`,
      ),
    );
  }
}
