import { useState } from "preact/hooks";
import { api, ask } from "../client.js";
import { show } from "../words.js";
import { sayRange, type WholeJob } from "./load-job.js";

const kinds = {
  rework: "cut again, to the drawing",
  scrap: "scrap",
  use_as_is: "use as it is",
  repair: "repair, though not to the drawing",
  return: "send back",
} as const;
type Kind = keyof typeof kinds;

interface DecideProps {
  batchId: string;
  about: { from: number; to: number };
  isLost: boolean;
  done: (words: string) => void;
  leave: () => void;
}

/** What is to become of pieces, and who says so. */
export function Decide({ batchId, about, isLost, done, leave }: DecideProps) {
  const [kind, setKind] = useState<Kind>("rework");
  const [fault, setFault] = useState("");
  const needsAuthority = kind === "use_as_is" || kind === "repair";
  const enter = async (form: HTMLFormElement) => {
    const typed = new FormData(form);
    const text = (name: string) => String(typed.get(name) ?? "").trim();
    const pieces = { from_piece: Number(text("from")), to_piece: Number(text("to")) };
    const given = (name: "authority" | "nonconformance" | "note") =>
      text(name) === "" ? {} : { [name]: text(name) };
    setFault("");
    try {
      if (!Object.values(pieces).every((piece) => Number.isInteger(piece) && piece > 0))
        throw new Error("Say which pieces, by their numbers.");
      if (text("by") === "")
        throw new Error("Say who you are: the record keeps a name beside every decision.");
      if (needsAuthority && text("authority") === "")
        throw new Error(
          "This does not end at the drawing: say who allowed it, such as the customer, and under which number.",
        );
      const { pieces_on_hold: left } = await ask(
        api.POST("/v1/batches/{batch_id}/decisions", {
          params: { path: { batch_id: batchId } },
          body: {
            pieces: [pieces],
            decision: kind,
            by: text("by"),
            ...given("authority"),
            ...given("nonconformance"),
            ...given("note"),
          },
        }),
      );
      done(
        `Entered: ${sayRange(pieces.from_piece, pieces.to_piece)}, ${kinds[kind]}. ${
          left === 0 ? "No piece is held back any more." : `${show(left)} held back still.`
        }`,
      );
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <section class="correction" aria-label="Decide about pieces">
      <h3>Decide about pieces</h3>
      <form
        class="tall"
        onSubmit={(event) => {
          event.preventDefault();
          void enter(event.currentTarget);
        }}
      >
        <label>
          from piece{" "}
          <input
            class="short"
            name="from"
            inputMode="numeric"
            autocomplete="off"
            defaultValue={String(about.from)}
          />
        </label>
        <label>
          to piece{" "}
          <input
            class="short"
            name="to"
            inputMode="numeric"
            autocomplete="off"
            defaultValue={String(about.to)}
          />
        </label>
        <fieldset>
          <legend class="unseen">what becomes of them</legend>
          {(Object.keys(kinds) as Kind[]).map((one) => (
            <label key={one}>
              <input
                type="radio"
                name="decision"
                value={one}
                checked={kind === one}
                onChange={() => setKind(one)}
              />{" "}
              {kinds[one]}
            </label>
          ))}
        </fieldset>
        <label>
          {needsAuthority ? "allowed by, with its number" : "allowed by (if anybody had to)"}{" "}
          <input class="long" name="authority" autocomplete="off" />
        </label>
        <label>
          report number <input name="nonconformance" autocomplete="off" />
        </label>
        <label>
          note <input class="long" name="note" autocomplete="off" />
        </label>
        <label>
          your name <input name="by" autocomplete="name" />
        </label>
        <button type="submit" class="main" disabled={isLost}>
          enter it
        </button>
        <button type="button" onClick={leave}>
          not now
        </button>
      </form>
      <p>
        {kind === "rework"
          ? "They count as good when they have been cut again and everything on them has been measured again."
          : "Safety-critical parts are released by qualified inspection, not by this page."}
      </p>
      {fault && <p role="alert">{fault}</p>}
    </section>
  );
}

interface DecisionsProps {
  decisions: WholeJob["decisions"];
  batchId: string;
  isLost: boolean;
  done: (words: string) => void;
}

/** What has been decided so far; what was entered by mistake is taken back with a reason. */
export function Decisions({ decisions, batchId, isLost, done }: DecisionsProps) {
  const [fault, setFault] = useState("");
  const standing = decisions.filter(({ voided }) => !voided);
  if (standing.length === 0) return null;
  const takeBack = async (form: HTMLFormElement, decisionId: string) => {
    const typed = new FormData(form);
    const text = (name: string) => String(typed.get(name) ?? "").trim();
    setFault("");
    try {
      if (text("reason") === "" || text("by") === "") throw new Error("Say why, and who you are.");
      await ask(
        api.POST("/v1/batches/{batch_id}/decisions/{decision_id}/void", {
          params: { path: { batch_id: batchId, decision_id: decisionId } },
          body: { reason: text("reason"), by: text("by") },
        }),
      );
      done("Taken back.");
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <section aria-label="Decided">
      <h3>Decided</h3>
      <ul class="plan">
        {standing
          .slice()
          .reverse()
          .map((one) => (
            <li key={one.decision_id}>
              <b>{sayRange(one.from_piece, one.to_piece)}</b>: {kinds[one.decision]}
              {one.authority && `, allowed by ${one.authority}`}
              {one.nonconformance && `, report ${one.nonconformance}`}
              {one.note && `, ${one.note}`}
              {one.by && ` (${one.by})`}
              <details>
                <summary>take it back</summary>
                <form
                  onSubmit={(event) => {
                    event.preventDefault();
                    void takeBack(event.currentTarget, one.decision_id);
                  }}
                >
                  <label>
                    why <input name="reason" autocomplete="off" />
                  </label>
                  <label>
                    your name <input name="by" autocomplete="name" />
                  </label>
                  <button type="submit" disabled={isLost}>
                    take it back
                  </button>
                </form>
              </details>
            </li>
          ))}
      </ul>
      {fault && <p role="alert">{fault}</p>}
    </section>
  );
}
