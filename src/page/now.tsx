import { useState } from "preact/hooks";
import { api, ask } from "./client.js";
import { CorrectionCard } from "./correction.js";
import { Measure, Result } from "./measure.js";
import { NewTool } from "./new-tool.js";
import { type Job, linesOf, loadJob, type Reading, type Shop } from "./shop.js";
import { useLive } from "./use-live.js";
import { show } from "./words.js";

interface NowProps {
  batchId: string;
  gauges: Shop["gauges"];
  isLost: boolean;
}

/** The one thing to do next on this job, and what is needed to do it. */
export function Now({ batchId, gauges, isLost }: NowProps) {
  const [again, setAgain] = useState<{ piece: number; cut: number }>();
  const [isNewTool, setNewTool] = useState(false);
  const [said, say] = useState("");
  const [last, setLast] = useState<Reading>();
  const { value: job, fault, again: refresh } = useLive(() => loadJob(batchId, again), [batchId, again]);
  if (!job) return <p role={fault ? "alert" : undefined}>{fault ? fault.message : "One moment …"}</p>;

  const cut = again?.cut ?? 1;
  const lines = linesOf(job, cut);
  const asksOf = job.corrections.filter(({ kind }) => kind !== "leave_alone");
  const interrupt = async (kind: "stop" | "person_change", words: string) => {
    try {
      const { next } = await ask(
        api.POST("/v1/batches/{batch_id}/interruptions", {
          params: { path: { batch_id: batchId } },
          body: { kind },
        }),
      );
      say(`${words} ${next.why}`);
    } catch (error) {
      say((error as Error).message);
    }
    await refresh();
  };
  const cutAgain = async () => {
    const { last_piece_cut: piece } = await ask(
      api.GET("/v1/batches/{batch_id}", { params: { path: { batch_id: batchId } } }),
    );
    if (piece < 1) return say("No piece has been measured yet, so none can have been cut again.");
    const before = await loadJob(batchId, { piece });
    setAgain({ piece, cut: Math.max(1, ...before.readings.map((reading) => reading.cut)) + 1 });
    say(`Piece ${piece} again.`);
  };

  return (
    <>
      <section class={`next ${doing(job, asksOf.length)}`} aria-live="polite">
        <h2>{sentence(job, lines.filter(({ reading }) => !reading).length, cut)}</h2>
        <p>
          {asksOf[0]?.why ??
            job.plan.features[0]?.why ??
            job.plan.left_out[0]?.why ??
            `Next to measure: piece ${job.plan.next_pieces[0] ?? "–"}.`}
        </p>
      </section>
      {said && said !== asksOf[0]?.why && (
        <p class="said" role="status">
          {said}
        </p>
      )}
      {last && !lines.some(({ reading }) => reading?.reading_id === last.reading_id) && (
        <section class={last.verdict} aria-label="The last reading">
          <h3>
            {last.characteristic}, piece {show(last.piece)}
          </h3>
          <Result reading={last} />
        </section>
      )}
      {asksOf.map((correction) => (
        <CorrectionCard
          key={correction.correction_id}
          correction={correction}
          part={job.part}
          isLost={isLost}
          done={async (words) => {
            say(words);
            await refresh();
          }}
        />
      ))}
      <section aria-label={`Measure piece ${job.piece}`}>
        <h3>
          Piece {show(job.piece)}
          {cut > 1 && `, cut ${cut}`}
          {job.plan.seat && `, seat ${job.plan.seat}`}
          {again && (
            <button type="button" onClick={() => setAgain(undefined)}>
              go on with the next piece
            </button>
          )}
        </h3>
        {lines.length === 0 && <p>Nothing to measure on this piece.</p>}
        <ol class="lines">
          {lines.map((line) => (
            <Measure
              key={`${line.key} ${job.piece} ${cut}`}
              line={line}
              gauge={line.due.gauge_id === null ? undefined : gauges.get(line.due.gauge_id)}
              batchId={batchId}
              piece={job.piece}
              cut={cut}
              isFirst={line === lines.find(({ reading }) => !reading)}
              isLost={isLost}
              done={async (next, reading) => {
                say(next);
                setLast(reading);
                await refresh();
              }}
            />
          ))}
        </ol>
      </section>
      <section class="happened" aria-label="What happened">
        <button type="button" disabled={isLost} onClick={() => interrupt("stop", "Stopped.")}>
          stopped
        </button>
        <button
          type="button"
          disabled={isLost}
          onClick={() => setNewTool(!isNewTool)}
          aria-expanded={isNewTool}
        >
          new tool
        </button>
        <button
          type="button"
          disabled={isLost}
          onClick={() => interrupt("person_change", "Somebody else is at the machine.")}
        >
          other person
        </button>
        <button type="button" disabled={isLost} onClick={cutAgain}>
          cut again
        </button>
      </section>
      {isNewTool && (
        <NewTool
          batch={job.batch}
          isLost={isLost}
          done={async (words) => {
            say(words);
            setNewTool(false);
            await refresh();
          }}
        />
      )}
    </>
  );
}

function doing(job: Job, asks: number): string {
  if (job.corrections.some(({ kind }) => kind === "find_cause")) return "halt";
  return asks > 0 || job.plan.features.length > 0 ? "act" : "run";
}

function sentence(job: Job, missing: number, cut: number): string {
  const of = (wanted: string) => job.corrections.find(({ kind }) => kind === wanted);
  const change = of("change");
  if (of("find_cause")) return "Stop and find the cause";
  if (of("change_tool")) return "Change the tool";
  if (change)
    return `Set ${change.register_label ?? "the offset"} to ${show(change.value_after, change.unit)}`;
  if (of("check_gauge")) return "Check the gauge";
  if (of("measure_again")) return "Measure again";
  if (missing > 0) return cut > 1 ? `Measure piece ${job.piece} again` : `Measure piece ${job.piece}`;
  return `Run on to piece ${job.plan.next_pieces[0] ?? job.piece + 1}`;
}
