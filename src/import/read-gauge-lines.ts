import { saysNoValue } from "../core/notation/read-number.js";
import { readUnit } from "../core/notation/read-unit.js";
import { type CompiledLayout, longestMatched } from "./compile-layout.js";
import type { Line } from "./decode-lines.js";
import type { Fields } from "./fields.js";
import type { LineParser } from "./read-lines.js";
import { skipped } from "./read-text-log.js";
import { type Found, shown } from "./source-record.js";

const longest = 200;
const gaugeLine =
  /^(?:([A-Za-z]{1,3}\d{0,2}|\d{1,2}) ?[:=] ?)?([+\-\u2212]? ?[\d.,]+|[-\u2212_]{2,})(?: ?([A-Za-z\u00b5\u03bc"°″]{1,10}\.?))?(?:\s+([^\d\s|][^\d|]{0,40}))?$/u;

/** A line per value, as a gauge's cable sends it: channel, sign, digits, unit glued on or apart, status. */
export class GaugeLineParser implements LineParser {
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
    const text = line.text.trim();
    if (line.fault === undefined && text === "") return [];
    const place = { line: line.no, lastLine: line.no };
    const unreadable = (reason: string): Found[] => [
      { kind: "unreadable", ...place, text: line.text, reason },
    ];
    if (line.fault !== undefined) return unreadable(line.fault);
    if (this.compiled.rules.some((rule) => rule.read(text.slice(0, longestMatched)))) {
      return [skipped(line, "a rule says that it tells nothing")];
    }
    const match = text.length > longest ? null : gaugeLine.exec(text);
    if (!match) return unreadable("has no number as a gauge sends it");
    const [, channel, value = "", letters = "", rest = ""] = match;
    const hasUnit = letters !== "" && readUnit(letters) !== undefined;
    const isGlued = letters !== "" && text.includes(value + letters);
    if (isGlued && !hasUnit) return unreadable(`has "${letters}" behind its number, which is no unit`);
    if (/\d/.test(value) && !/[.,]/.test(value) && !this.compiled.layout.scale) {
      return unreadable(
        `has the number ${value} without a decimal sign: say its scale in the layout (1 if it is whole)`,
      );
    }
    const status = `${hasUnit ? "" : letters} ${rest}`.trim();
    const fields: Fields = {
      ...(channel !== undefined && { channel }),
      value,
      ...(hasUnit && { unit: letters }),
      ...(status !== "" && { result: status }),
    };
    if (saysNoValue(value)) {
      return [{ kind: "unmeasured", ...place, text: shown(text), fields, reason: "the gauge sent dashes" }];
    }
    return [
      {
        kind: "record",
        ...place,
        text: line.text,
        fields,
        ...(line.dropped && { notes: ["control characters were left out"] }),
      },
    ];
  }
}
