import { type CompiledLayout, longestMatched } from "./compile-layout.js";
import type { Line } from "./decode-lines.js";
import { type FieldName, type Fields, isFieldName } from "./fields.js";
import type { LineParser } from "./read-lines.js";
import { skipped } from "./read-text-log.js";
import type { Found } from "./source-record.js";

/** One JSON object per line (NDJSON); numbers and texts alike, what is null or absent says nothing. */
export class JsonLineParser implements LineParser {
  constructor(private readonly compiled: CompiledLayout) {}

  take(lines: readonly Line[]): Found[] {
    return lines.flatMap((line) => this.takeLine(line));
  }
  end(): Found[] {
    return [];
  }
  waiting() {
    return undefined;
  }
  state() {
    return undefined;
  }

  private takeLine(line: Line): Found[] {
    const { no, text, fault } = line;
    const place = { line: no, lastLine: no, text };
    if (fault !== undefined) return [{ kind: "unreadable", ...place, reason: fault }];
    if (text.trim() === "") return [];
    if (this.compiled.rules.some((rule) => rule.read(text.slice(0, longestMatched)))) {
      return [skipped(line, "a rule says that it tells nothing")];
    }
    let parsed: unknown;
    try {
      parsed = JSON.parse(text);
    } catch {
      return [{ kind: "unreadable", ...place, reason: "is no JSON" }];
    }
    if (typeof parsed !== "object" || parsed === null || Array.isArray(parsed)) {
      return [{ kind: "unreadable", ...place, reason: "is no JSON object" }];
    }
    const fields = this.fieldsOf(parsed as Record<string, unknown>);
    return [
      "fault" in fields
        ? { kind: "unreadable", ...place, reason: fields.fault as string }
        : { kind: "record", ...place, fields: fields as Fields },
    ];
  }

  private fieldsOf(object: Record<string, unknown>): Fields | { fault: string } {
    const { members, decimal_sign: decimalSign } = this.compiled.layout;
    const named = Object.entries(members);
    const wanted =
      named.length > 0
        ? named
        : Object.keys(object)
            .filter(isFieldName)
            .map((name) => [name, name]);
    const fields: Fields = {};
    for (const [field, path] of wanted as [FieldName, string][]) {
      const value = memberAt(object, path);
      if (value === undefined || value === null) continue;
      if (typeof value === "number") {
        fields[field] = decimalSign === "," ? String(value).replace(".", ",") : String(value);
      } else if (typeof value === "string" || typeof value === "boolean") {
        const text = String(value);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is refused
        if (/[\u0000-\u001f\u007f]/.test(text)) return { fault: `holds a control character in ${path}` };
        fields[field] = text;
      } else return { fault: `holds more than a text or a number in ${path}` };
    }
    return fields;
  }
}

function memberAt(object: Record<string, unknown>, path: string): unknown {
  if (Object.hasOwn(object, path)) return object[path];
  let at: unknown = object;
  for (const step of path.split(".")) {
    if (typeof at !== "object" || at === null || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string, unknown>)[step];
  }
  return at;
}
