import { type CompiledLayout, type CompiledRule, longestMatched } from "./compile-layout.js";
import type { Line } from "./decode-lines.js";
import type { Fields } from "./fields.js";
import type { LineParser } from "./read-lines.js";
import { type Found, shown } from "./source-record.js";

/** A record of several lines that has begun. */
interface OpenRecord {
  first: Line;
  last: Line;
  texts: string[];
  fields: Fields;
  unmeasured: string | undefined;
  fault: string | undefined;
  dropped: boolean;
}

const mostLines = 200;
const controlsLeftOut = "control characters were left out";

/** Lines by the rules of a layout: the first rule that fits says what a line is. */
export class TextLogParser implements LineParser {
  private context: Fields;
  private open: OpenRecord | undefined;
  private contextBefore: Fields;

  constructor(
    private readonly compiled: CompiledLayout,
    state: unknown,
  ) {
    this.context = (state as { context: Fields } | undefined)?.context ?? {};
    this.contextBefore = this.context;
  }

  take(lines: readonly Line[]): Found[] {
    return lines.flatMap((line) => this.takeLine(line));
  }

  end(): Found[] {
    return this.close();
  }

  waiting() {
    return this.open && { line: this.open.first, state: { context: this.contextBefore } };
  }

  state() {
    return { context: this.context };
  }

  private takeLine(line: Line): Found[] {
    if (line.fault !== undefined) return this.unreadable(line, line.fault);
    if (line.text.trim() === "") return [];
    if (line.text.length > longestMatched) {
      return this.unreadable(line, `is longer than ${longestMatched} characters, which no line of a log is`);
    }
    for (const rule of this.compiled.rules) {
      const fields = rule.read(line.text);
      if (typeof fields === "string") return this.unreadable(line, fields);
      if (fields) return this.apply(rule, line, fields);
    }
    return this.compiled.layout.other_lines === "skip"
      ? [skipped(line, "no rule fits it")]
      : this.unreadable(line, "fits none of the layout's rules");
  }

  private apply({ kind }: CompiledRule, line: Line, fields: Fields): Found[] {
    switch (kind) {
      case "skip":
        return [skipped(line, "a rule says that it tells nothing")];
      case "context":
        this.context = { ...this.context, ...fields };
        return [skipped(line, "holds for what follows")];
      case "record":
        return [...this.close(), this.record(line, fields)];
      case "begin": {
        const found = this.close();
        this.contextBefore = this.context;
        this.open = {
          first: line,
          last: line,
          texts: [line.text],
          fields,
          unmeasured: undefined,
          fault: undefined,
          dropped: line.dropped,
        };
        return found;
      }
      case "part":
        if (!this.open) return this.unreadable(line, "goes on with a reading, but none has begun before it");
        this.join(this.open, line, fields);
        return this.open.texts.length >= mostLines ? this.close() : [];
      case "end":
        if (!this.open) return [skipped(line, "ends a reading, but none is open")];
        this.join(this.open, line, fields);
        return this.close();
      case "not_measured":
        if (this.open) {
          this.join(this.open, line, fields);
          this.open.unmeasured = line.text.trim();
          return [];
        }
        return [
          {
            kind: "unmeasured",
            line: line.no,
            lastLine: line.no,
            text: shown(line.text),
            fields: { ...this.context, ...fields },
            reason: "a rule says that it gave no number",
          },
        ];
    }
  }

  private join(open: OpenRecord, line: Line, fields: Fields): void {
    open.last = line;
    open.texts.push(line.text);
    open.dropped ||= line.dropped;
    for (const [name, value] of Object.entries(fields)) {
      const before = open.fields[name as keyof Fields];
      if (before !== undefined && before !== value)
        open.fault ??= `says ${name} twice: ${before} and ${value}`;
      open.fields = { ...open.fields, [name]: value };
    }
    if (open.texts.length >= mostLines) open.fault ??= `has no end after ${mostLines} lines`;
  }

  private record(line: Line, fields: Fields): Found {
    return {
      kind: "record",
      line: line.no,
      lastLine: line.no,
      text: line.text,
      fields: { ...this.context, ...fields },
      parser: { context: this.context },
      ...(line.dropped && { notes: [controlsLeftOut] }),
    };
  }

  private close(): Found[] {
    const { open } = this;
    this.open = undefined;
    if (!open) return [];
    const [line, lastLine, text] = [open.first.no, open.last.no, open.texts.join("\n")];
    const parser = { context: this.contextBefore };
    if (open.fault !== undefined) {
      return [{ kind: "unreadable", line, lastLine, text, reason: open.fault, parser }];
    }
    if (Object.keys(open.fields).length === 0)
      return [skipped(open.first, "begins a reading that never came")];
    const fields = { ...this.contextBefore, ...open.fields };
    if (open.unmeasured !== undefined) {
      return [{ kind: "unmeasured", line, lastLine, text: shown(text), fields, reason: open.unmeasured }];
    }
    return [
      {
        kind: "record",
        line,
        lastLine,
        text,
        fields,
        parser,
        ...(open.dropped && { notes: [controlsLeftOut] }),
      },
    ];
  }

  private unreadable(line: Line, reason: string): Found[] {
    const parser = { context: this.context };
    return [{ kind: "unreadable", line: line.no, lastLine: line.no, text: line.text, reason, parser }];
  }
}

export function skipped(line: Line, why: string): Found {
  return { kind: "skipped", line: line.no, text: shown(line.text), why };
}
