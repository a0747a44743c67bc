import { useState } from "preact/hooks";
import { api, ask } from "../client.js";
import { DocumentLink } from "../document-link.js";
import { hrefOf } from "../route.js";
import type { ScreenProps, Shop } from "../shop.js";
import { useLive } from "../use-live.js";
import { show } from "../words.js";
import { Decide, Decisions } from "./decide.js";
import { PieceGrid } from "./grid.js";
import { loadWholeJob, sayRange, type WholeJob } from "./load-job.js";
import { Piece } from "./piece.js";

export default function JobScreen({ route, shop, isLost }: ScreenProps) {
  const [batchId] = route.of;
  if (batchId === undefined) return <JobList shop={shop} />;
  const number = (name: string) => {
    const value = Number(route.query.get(name));
    return Number.isInteger(value) && value > 0 ? value : undefined;
  };
  return (
    <OneJob
      key={batchId}
      batchId={batchId}
      shop={shop}
      isLost={isLost}
      from={number("from")}
      piece={number("piece")}
    />
  );
}

function JobList({ shop }: { shop: Shop }) {
  const { value: closed, fault } = useLive(
    () => ask(api.GET("/v1/batches", { params: { query: { open: false, limit: 500 } } })),
    [],
  );
  const jobs = (list: Shop["batches"]) => (
    <ul class="choices">
      {list.map(({ batch_id, name, machine_id, last_piece_cut, quantity }) => (
        <li key={batch_id}>
          <a href={hrefOf("job", [batch_id])}>
            <b>{name}</b> {shop.machines.find((machine) => machine.machine_id === machine_id)?.name},{" "}
            {sayCount(last_piece_cut, quantity)}
          </a>
        </li>
      ))}
    </ul>
  );
  return (
    <>
      <h2 class="title">Jobs</h2>
      <h3>In work</h3>
      {shop.batches.length === 0 ? <p>None.</p> : jobs(shop.batches)}
      <h3>Done</h3>
      {fault && !closed && <p role="alert">{fault.message}</p>}
      {closed && (closed.items.length === 0 ? <p>None yet.</p> : jobs(closed.items.slice().reverse()))}
    </>
  );
}

function sayCount(cut: number, quantity: number | null): string {
  return quantity === null ? `${show(cut)} pieces cut` : `${show(cut)} of ${show(quantity)} pieces cut`;
}

interface JobProps {
  batchId: string;
  shop: Shop;
  isLost: boolean;
  from: number | undefined;
  piece: number | undefined;
}

function OneJob({ batchId, shop, isLost, from, piece }: JobProps) {
  const { value: job, fault, again } = useLive(() => loadWholeJob(batchId, from), [batchId, from]);
  const [about, setAbout] = useState<{ from: number; to: number }>();
  const [said, say] = useState("");
  if (!job) return <p role={fault ? "alert" : undefined}>{fault?.message ?? "One moment …"}</p>;
  const { batch, holds, part, plan } = job;
  const machine = shop.machines.find(({ machine_id }) => machine_id === batch.machine_id);
  const decided = async (words: string) => {
    say(words);
    setAbout(undefined);
    await again();
  };
  return (
    <>
      <h2 class="title">
        {batch.name}{" "}
        <span class="aside">
          {part.number} {part.revision} {part.name}
        </span>
      </h2>
      <p>
        {machine?.name}
        {batch.operation && `, operation ${batch.operation}`}.{" "}
        {sayCount(batch.last_piece_cut, batch.quantity)}
        {batch.closed_at ? ", job done" : ""}.{" "}
        {batch.seats.length > 0 &&
          `Seats ${batch.seats.join(", ")}${plan.seat ? `; piece ${plan.piece} sits in ${plan.seat}` : ""}. `}
        {!batch.closed_at && <a href={hrefOf("now", [batchId])}>What is to be done now</a>}
      </p>
      <Documents job={job} />
      {said && (
        <p class="said" role="status">
          {said}
        </p>
      )}
      <Holds holds={holds} decide={setAbout} />
      {about && (
        <Decide
          key={`${about.from} ${about.to}`}
          batchId={batchId}
          about={about}
          isLost={isLost}
          done={decided}
          leave={() => setAbout(undefined)}
        />
      )}
      {piece !== undefined && piece <= batch.last_piece_cut && (
        <Piece
          batchId={batchId}
          piece={piece}
          close={hrefOf("job", [batchId], from ? { from: String(from) } : {})}
          decide={() => setAbout({ from: piece, to: piece })}
        />
      )}
      <PieceGrid job={job} />
      {!batch.closed_at && !(batch.quantity !== null && batch.last_piece_cut >= batch.quantity) && (
        <Plan job={job} />
      )}
      <Decisions decisions={job.decisions} batchId={batchId} isLost={isLost} done={decided} />
    </>
  );
}

const extentWords = { full: "a full one", partial: "a partial one" } as const;

function Documents({ job: { batch, articles, due } }: { job: WholeJob }) {
  const report = `/v1/batches/${batch.batch_id}/report`;
  const standing = articles.filter(({ voided }) => !voided);
  return (
    <p class="documents">
      Report: <DocumentLink path={`${report}?format=html`}>to read</DocumentLink>{" "}
      <DocumentLink path={`${report}?format=pdf`}>to print (PDF)</DocumentLink>{" "}
      <DocumentLink path={`${report}?format=csv`}>as a table (CSV)</DocumentLink>
      {". "}
      First article:{" "}
      {standing.map(({ first_article_id: id, report_number: number }) => (
        <span key={id}>
          <DocumentLink path={`/v1/first-articles/${id}?format=html`}>{number}</DocumentLink>{" "}
          <DocumentLink path={`/v1/first-articles/${id}?format=pdf`}>{number} (PDF)</DocumentLink>{" "}
        </span>
      ))}
      {due.due ? `${due.extent ? extentWords[due.extent] : "one"} is due.` : standing.length === 0 && "none."}
    </p>
  );
}

function Holds({
  holds,
  decide,
}: {
  holds: WholeJob["holds"];
  decide: (about: { from: number; to: number }) => void;
}) {
  if (holds.pieces_on_hold === 0) return <p>No piece is held back.</p>;
  return (
    <section class="held-back" aria-label="Held back">
      <h3>
        {show(holds.pieces_on_hold)} {holds.pieces_on_hold === 1 ? "piece is" : "pieces are"} held back:{" "}
        {holds.on_hold.map(({ from_piece, to_piece }) => sayRange(from_piece, to_piece)).join(", ")}
      </h3>
      <ul>
        {holds.items.map((hold) => (
          <li key={`${hold.feature_id} ${hold.place} ${hold.seat} ${hold.from_piece}`}>
            <p>
              <b>
                {[hold.characteristic, hold.name, hold.place].filter(Boolean).join(" ")}
                {hold.seat && `, seat ${hold.seat}`}
              </b>
              : {hold.why}
            </p>
            {hold.measure_next.map(({ piece, why }) => (
              <p key={piece}>{why}</p>
            ))}
            <div class="happened">
              {hold.open.slice(0, 8).map(({ from_piece, to_piece }) => (
                <button
                  key={from_piece}
                  type="button"
                  onClick={() => decide({ from: from_piece, to: to_piece })}
                >
                  decide about {sayRange(from_piece, to_piece)}
                </button>
              ))}
            </div>
          </li>
        ))}
        {holds.reworks.flatMap(({ decision_id, waiting_for }) =>
          waiting_for.map(({ feature_id, characteristic, pieces }) => (
            <li key={`${decision_id} ${feature_id}`}>
              Cut again, to be measured again: {characteristic} on{" "}
              {pieces.map(({ from_piece, to_piece }) => sayRange(from_piece, to_piece)).join(", ")}
            </li>
          )),
        )}
      </ul>
      {holds.next_cursor && <p>Not all of them are listed here: settle these first.</p>}
    </section>
  );
}

const planWords: Record<string, string> = {
  every_piece: "every piece is looked at",
  relaxed: "some pieces are looked at",
};

/** What is measured when, as things stand. */
function Plan({ job: { batch, plan, part } }: { job: WholeJob }) {
  const nameOf = (id: string) => part.features.find(({ feature_id }) => feature_id === id)?.name;
  const lines = [
    ...plan.features.map(({ feature_id, characteristic, why }) => ({
      feature_id,
      characteristic,
      why,
      due: true,
    })),
    ...plan.left_out.map(({ feature_id, why }) => ({
      feature_id,
      characteristic:
        part.features.find((feature) => feature.feature_id === feature_id)?.characteristic ?? "",
      why,
      due: false,
    })),
  ];
  return (
    <section aria-label="What is measured when">
      <h3>What is measured when</h3>
      <p>
        Piece {show(plan.piece)}
        {planWords[plan.state] && `: ${planWords[plan.state]}`}. Next to measure:{" "}
        {plan.next_pieces.map((piece) => show(piece)).join(", ") || "none"}.
        {plan.wait_for_result && ` Cut nothing more until piece ${show(plan.piece)} is measured.`}
      </p>
      <ul class="plan">
        {lines.map(({ feature_id, characteristic, why, due }) => (
          <li key={`${feature_id} ${due}`}>
            <a href={hrefOf("feature", [feature_id], { batch: batch.batch_id })}>
              <b>{characteristic}</b> {nameOf(feature_id)}
            </a>{" "}
            <span>
              {due ? `on piece ${show(plan.piece)}: ` : ""}
              {why}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
