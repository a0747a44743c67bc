import { useState } from "preact/hooks";
import { api, ask } from "./client.js";
import { Ruler } from "./ruler.js";
import type { Correction, Job } from "./shop.js";
import { readNumber, show, showSigned } from "./words.js";

interface CorrectionProps {
  correction: Correction;
  part: Job["part"];
  /** The reason stands above already. */
  isSaid: boolean;
  isLost: boolean;
  done: (words: string) => void;
}

const headings = {
  change: "Change an offset",
  leave_alone: "Leave the offset alone",
  measure_again: "Measure again",
  change_tool: "Change the tool",
  find_cause: "Find the cause",
  check_gauge: "Check the gauge",
} as const;
const findings = {
  nothing: "found nothing",
  setup_put_right: "set-up put right",
  register_put_right: "offset put right and entered",
  edge_changed: "tool changed and entered",
} as const;

/** What is advised about an offset, and what was done about it. */
export function CorrectionCard({ correction, part, isSaid, isLost, done }: CorrectionProps) {
  const [fault, setFault] = useState("");
  const { kind, unit, register_label: label } = correction;
  if (correction.correction_id === null) return null;
  const path = { correction_id: correction.correction_id };
  const answer = async (form: HTMLFormElement, how: string) => {
    const typed = new FormData(form);
    const text = (name: string) => String(typed.get(name) ?? "").trim();
    const by = text("by");
    setFault("");
    if (by === "") return setFault("Say who you are: the record keeps a name beside every change.");
    const number = (name: string, needed: string) => {
      const value = readNumber(text(name));
      if (value === undefined && (needed !== "" || text(name) !== ""))
        throw new Error(needed || `"${text(name)}" is no number. Type it like ${show(-0.02)}.`);
      return value;
    };
    try {
      if (how === "decline") {
        if (text("reason") === "") throw new Error("Say in a few words why not.");
        const { next } = await ask(
          api.POST("/v1/corrections/{correction_id}/decline", {
            params: { path },
            body: { reason: text("reason"), by },
          }),
        );
        return done(next.why);
      }
      if (how in findings) {
        const { next } = await ask(
          api.POST("/v1/corrections/{correction_id}/finding", {
            params: { path },
            body: { found: how as keyof typeof findings, by },
          }),
        );
        return done(next.why);
      }
      const found = number("found", "");
      const other = how === "other" ? number("other", "Type the value that was really set.") : undefined;
      const { next } = await ask(
        api.POST("/v1/corrections/{correction_id}/apply", {
          params: { path },
          body: {
            by,
            ...(found !== undefined && { value_found: found }),
            ...(other !== undefined && { value_after: other }),
          },
        }),
      );
      done(`Entered. ${next.why}`);
    } catch (error) {
      setFault((error as Error).message);
    }
  };

  return (
    <section class="correction" aria-label={`${headings[kind]}${label ? `: ${label}` : ""}`}>
      <h3>
        {headings[kind]} {label && <span class="label">{label}</span>}
      </h3>
      {kind === "change" && (
        <dl class="figures">
          <div>
            <dt>it shows now</dt>
            <dd>{show(correction.value_now, unit)}</dd>
          </div>
          <div>
            <dt>add</dt>
            <dd>{showSigned(correction.change, unit)}</dd>
          </div>
          <div>
            <dt>should then read</dt>
            <dd>{show(correction.value_after, unit)}</dd>
          </div>
        </dl>
      )}
      {!isSaid && <p>{correction.why}</p>}
      {kind === "change" &&
        correction.features.map((moved) => {
          const feature = part.features.find(({ feature_id }) => feature_id === moved.feature_id);
          if (!feature) return null;
          return (
            <div class="moved" key={`${moved.feature_id} ${moved.place}`}>
              <span>
                {feature.characteristic} {feature.name}
                {moved.place && `, ${moved.place}`}: {show(moved.expected_before)} →{" "}
                {show(moved.expected_after, moved.unit)}
              </span>
              <Ruler
                low={feature.lower_limit}
                high={feature.upper_limit}
                aim={feature.target}
                sizes={[
                  { at: moved.expected_before, name: "before" },
                  { at: moved.expected_after, name: "after" },
                ]}
              />
            </div>
          );
        })}
      {correction.arithmetic.length > 0 && (
        <details>
          <summary>How it is worked out</summary>
          <ol>
            {correction.arithmetic.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </details>
      )}
      {correction.cautions.length > 0 && (
        <ul class="cautions" aria-label="Cautions">
          {correction.cautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      )}
      {(kind === "change" || kind === "find_cause") && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            const how = (event.submitter as HTMLButtonElement | null)?.value ?? "";
            if (how !== "") void answer(event.currentTarget, how);
          }}
        >
          <label>
            your name <input name="by" autocomplete="name" />
          </label>
          {kind === "change" ? (
            <>
              <div class="choice">
                <label>
                  it really showed <input name="found" inputMode="decimal" autocomplete="off" /> {unit}
                </label>
                <button type="submit" class="main" value="set" disabled={isLost}>
                  set to {show(correction.value_after, unit)}
                </button>
              </div>
              <div class="choice">
                <label>
                  other value <input name="other" inputMode="decimal" autocomplete="off" /> {unit}
                </label>
                <button type="submit" value="other" disabled={isLost}>
                  set to another value
                </button>
              </div>
              <div class="choice">
                <label>
                  reason <input name="reason" autocomplete="off" />
                </label>
                <button type="submit" value="decline" disabled={isLost}>
                  not now
                </button>
              </div>
            </>
          ) : (
            Object.entries(findings).map(([found, words]) => (
              <button key={found} type="submit" value={found} disabled={isLost}>
                {words}
              </button>
            ))
          )}
        </form>
      )}
      {fault && <p role="alert">{fault}</p>}
    </section>
  );
}
