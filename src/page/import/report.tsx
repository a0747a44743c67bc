import { useEffect, useState } from "preact/hooks";
import { api, ask } from "../client.js";
import { type Answer, listLines, type RefusedLine } from "./take-in.js";

type Counts = Omit<Answer, "refused" | "next" | "corrections" | "next_checks" | "joined">;

/** What became of a file, or would become: counts, and the refused lines with their reasons. */
export function Report({ counts, refused }: { counts: Counts; refused: RefusedLine[] }) {
  const isDry = counts.import_id === null;
  const rows: [number, string][] = [
    [counts.accepted, isDry ? "readings would be taken in" : "readings taken in"],
    [counts.verdicts.nonconforming, "of them out of limits"],
    [counts.verdicts.uncertain, "of them too close to call"],
    [counts.duplicates, "were there before and are not taken twice"],
    [counts.repeated, "say the very same as one before and count once"],
    [counts.not_measured, "say that nothing was measured"],
    [counts.limits_differ, "have other limits in the file than on the drawing here"],
    [counts.results_differ, "are judged otherwise by the file than here"],
    [counts.refused_count, "lines refused"],
  ];
  return (
    <section aria-label={isDry ? "Dry run" : "What became of it"} aria-live="polite" class="report">
      <h3>
        {isDry
          ? "Dry run: nothing is kept yet"
          : counts.status === "complete"
            ? "Taken in"
            : "Not at its end"}
      </h3>
      {counts.reason && <p role="alert">{counts.reason}</p>}
      <ul>
        {rows
          .filter(([count], index) => index === 0 || count > 0)
          .map(([count, words]) => (
            <li key={words}>
              <b>{count}</b> {words}
            </li>
          ))}
      </ul>
      {refused.length > 0 && <Refusals lines={refused} />}
    </section>
  );
}

function Refusals({ lines }: { lines: RefusedLine[] }) {
  return (
    <ol class="trial-lines" aria-label="Refused lines">
      {lines.map((line) => (
        <li key={`${line.line} ${line.text}`} class="refused">
          <span class="no">
            <span aria-hidden="true">✕</span> {line.line}
          </span>
          <code>{line.text}</code>
          <span class="sense">{line.reason}</span>
        </li>
      ))}
    </ol>
  );
}

/** A kept import with all its refused lines; after the layout was mended they are read again from here. */
export function KeptReport({ importId, isLost }: { importId: string; isLost: boolean }) {
  const [kept, setKept] = useState<{ counts: Counts; refused: RefusedLine[] }>();
  const [said, say] = useState("");
  const load = async () => {
    const counts = await ask(
      api.GET("/v1/imports/{import_id}", { params: { path: { import_id: importId } } }),
    );
    setKept({ counts, refused: await listLines(importId) });
  };
  const fail = (error: Error) => say(error.message);
  useEffect(() => {
    load().catch(fail);
  }, [importId]);
  const again = async () => {
    const before = kept?.counts.refused_count ?? 0;
    const { refused_count, next } = await ask(
      api.POST("/v1/imports/{import_id}/retry", { params: { path: { import_id: importId } } }),
    );
    await load();
    const mended = before - refused_count;
    say(`${mended} of ${before} refused lines are read now. ${next?.why ?? ""}`);
  };
  return (
    <>
      {kept && <Report {...kept} />}
      {said && <p role="status">{said}</p>}
      {kept && kept.refused.length > 0 && (
        <p>
          Mend the layout, or the part, above; then{" "}
          <button type="button" disabled={isLost} onClick={() => void again().catch(fail)}>
            read the refused lines again
          </button>
        </p>
      )}
    </>
  );
}
