import { useState } from "preact/hooks";
import type { components } from "../../../openapi/openapi.js";
import { choicesIn, type LayoutSent } from "./layout-draft.js";

type Trial = components["schemas"]["LogLayoutTrial"];
const mostShown = 300;
const marks = { reading: "✓", refused: "✕", skipped: "·", not_measured: "○" } as const;
const becomes = {
  reading: "",
  refused: "refused",
  skipped: "passed over",
  not_measured: "not measured",
} as const;

/** What would be read, line by line; what a refused line asks is to be chosen beside it. */
export function TrialLines({
  trial,
  isWhole,
  choose,
}: {
  trial: Trial;
  isWhole: boolean;
  choose: (change: Partial<LayoutSent>) => void;
}) {
  const [onlyRefused, showOnly] = useState(false);
  const refused = trial.lines.filter((line) => line.becomes === "refused");
  // Where many lines ask the same, the first of them stands for all.
  const asked = new Map<string, ReturnType<typeof choicesIn>[number]>();
  for (const { why } of refused)
    for (const choice of choicesIn(why ?? "")) {
      const key = JSON.stringify(choice.change);
      if (!asked.has(key)) asked.set(key, choice);
    }
  const lines = onlyRefused && refused.length > 0 ? refused : trial.lines;
  return (
    <section aria-label="What would be read" class="trial" aria-live="polite">
      <h3>
        {trial.readings} {trial.readings === 1 ? "reading" : "readings"}
        {trial.refused > 0 && `, ${trial.refused} refused`}
        {trial.not_measured > 0 && `, ${trial.not_measured} not measured`}
        {!isWhole && " in the first part of the file"}
      </h3>
      {trial.unreadable && <p role="alert">{trial.unreadable}</p>}
      {asked.size > 0 && (
        <fieldset class="asked">
          <legend>Which is it? Nothing is guessed.</legend>
          {[...asked.values()].map(({ words, change }) => (
            <button type="button" key={words} onClick={() => choose(change)}>
              {words}
            </button>
          ))}
        </fieldset>
      )}
      {refused.length > 0 && (
        <label>
          <input
            type="checkbox"
            checked={onlyRefused}
            onChange={(event) => showOnly(event.currentTarget.checked)}
          />{" "}
          only refused lines
        </label>
      )}
      <ol class="trial-lines">
        {lines.slice(0, mostShown).map((line) => (
          <li key={`${line.line} ${line.column}`} class={line.becomes}>
            <span class="no">
              <span aria-hidden="true">{marks[line.becomes]}</span> {line.line}
              {line.column && ` ${line.column}`}
            </span>
            <code>{line.text}</code>
            <span class="sense">
              {line.reading ? <Understood reading={line.reading} /> : becomes[line.becomes]}
              {line.why && line.becomes !== "skipped" && `: ${withoutRemedy(line.why)}`}
            </span>
          </li>
        ))}
      </ol>
      {lines.length > mostShown && <p>… and {lines.length - mostShown} lines more.</p>}
    </section>
  );
}

/** The buttons above say what to do, in the page's own words. */
function withoutRemedy(why: string): string {
  return choicesIn(why).length > 0
    ? why.replace(/(, but the decimal sign here is| Say it in the layout).*$/, "")
    : why;
}

function Understood({ reading }: { reading: NonNullable<Trial["lines"][number]["reading"]> }) {
  const { characteristic, piece, serial, place, value, unit, dx, dy, result, count, batch } = reading;
  const what = value ?? result ?? count ?? (dx === null ? "" : `${dx} / ${dy}`);
  return (
    <>
      <b>
        {what} {unit}
      </b>
      {characteristic ? ` feature ${characteristic}` : " of no feature"}
      {place && ` at ${place}`}
      {piece !== null ? `, piece ${piece}` : serial ? `, serial ${serial}` : ""}
      {batch && `, job ${batch}`}
    </>
  );
}
