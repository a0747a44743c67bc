import { useState } from "preact/hooks";
import { api, ask } from "./client.js";
import { CorrectionCard } from "./correction.js";
import { Measure, Result } from "./measure.js";
import { NewTool } from "./new-tool.js";
import { type Job, linesOf, loadJob, type Reading, type Shop } from "./shop.js";
import { useLive } from "./use-live.js";
import { nextShapes, sayNext, show } from "./words.js";

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
  const {
    value: job,
    fault,
    again: refresh,
  } = useLive(
    () => loadJob(batchId, again),
    [batchId, again],
    ({ batches, shop }) => shop || batches.includes(batchId),
  );
  if (!job) return <p role={fault ? "alert" : undefined}>{fault ? fault.message : "One moment …"}</p>;

  const { next, cut } = job;
  // What has just been entered stands there at once, before all is asked for again.
  const isNew =
    last?.piece === job.piece && job.readings.every(({ reading_id }) => reading_id !== last.reading_id);
  const lines = linesOf(isNew ? { ...job, readings: [...job.readings, last] } : job);
  const asksOf = job.corrections.filter(({ kind }) => kind !== "leave_alone");
  const interrupt = async (kind: "stop" | "person_change", words: string) => {
    try {
      const answer = await ask(
        api.POST("/v1/batches/{batch_id}/interruptions", {
          params: { path: { batch_id: batchId } },
          body: { kind },
        }),
      );
      say(`${words} ${answer.next.why}`);
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
    const before = await loadJob(batchId, { piece, cut: 1 });
    setAgain({ piece, cut: Math.max(1, ...before.readings.map((reading) => reading.cut)) + 1 });
    say(`Piece ${piece} again.`);
  };

  return (
    <>
      <section class={`next ${nextShapes[next.action]}`} aria-live="polite">
        <h2>{again ? `Measure piece ${job.piece} again` : (sayOffset(job) ?? sayNext(next))}</h2>
        <p>{next.why}</p>
      </section>
      {said && !said.includes(next.why) && (
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
          isSaid={next.why.includes(correction.why)}
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
              gauges={gauges}
              batchId={batchId}
              piece={job.piece}
              cut={cut}
              isFirst={line === lines.find(({ reading }) => !reading)}
              isLost={isLost}
              done={async (words, reading) => {
                say(words);
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

/** Which offset is to be set to what, where that is the one thing to do. */
function sayOffset({ next, corrections }: Job): string | undefined {
  if (next.action !== "set_offset") return undefined;
  const change = corrections.find(({ kind }) => kind === "change");
  return change && `Set ${change.register_label} to ${show(change.value_after, change.unit)}`;
}
