import { hrefOf } from "../route.js";
import { show, showSigned } from "../words.js";
import { dispositionWords, piecesPerPage, type WholeJob } from "./load-job.js";

type Table = WholeJob["table"];
type Row = Table["items"][number];
type Cell = Row["cells"][number];
type Column = Table["features"][number];

/** What stands for a feature that was not measured: a sign, and the words for it. */
const unmeasured: Record<Exclude<Cell["proof"], "measured">, [sign: string, words: string]> = {
  covered: ["·", "between good pieces"],
  not_closed: ["…", "no good piece after it yet"],
  missed: ["○", "should have been measured"],
  in_doubt: ["?", "in doubt"],
  rework_due: ["↻", "cut again, not measured since"],
};

/** Pieces by feature: in each column a mark wanders between the limits as the sizes do, from piece to piece downwards. */
export function PieceGrid({ job: { batch, table, first } }: { job: WholeJob }) {
  const last = batch.last_piece_cut;
  if (last === 0) return <p>No piece has been cut yet.</p>;
  const decimals = table.features.map((_, i) =>
    Math.max(0, ...table.items.map(({ cells }) => decimalsOf(cells[i]!.from_target))),
  );
  const at = (from: number) => hrefOf("job", [batch.batch_id], { from: String(Math.max(1, from)) });
  return (
    <section aria-label="Pieces by feature">
      <h3>
        Pieces {show(first)} to {show(Math.min(last, first + piecesPerPage - 1))} of {show(last)}
      </h3>
      <nav aria-label="Other pieces">
        {first > 1 && <a href={at(1)}>first</a>}
        {first > 1 && <a href={at(first - piecesPerPage)}>earlier</a>}
        {first + piecesPerPage <= last && <a href={at(first + piecesPerPage)}>later</a>}
        {first + piecesPerPage <= last && <a href={hrefOf("job", [batch.batch_id])}>latest</a>}
        <form
          onSubmit={(event) => {
            event.preventDefault();
            const wanted = Number(new FormData(event.currentTarget).get("piece"));
            if (Number.isInteger(wanted) && wanted > 0) location.hash = at(Math.min(wanted, last));
          }}
        >
          <label>
            from piece <input class="short" name="piece" inputMode="numeric" autocomplete="off" />
          </label>
          <button type="submit">go</button>
        </form>
      </nav>
      <section
        class="wide"
        aria-label="The table, scrolls sideways"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard, too
        tabIndex={0}
      >
        <table class="grid">
          <thead>
            <tr>
              <th scope="col">piece</th>
              <th scope="col">is</th>
              {table.features.map((column) => (
                <Head key={`${column.feature_id} ${column.place}`} column={column} batchId={batch.batch_id} />
              ))}
            </tr>
          </thead>
          <tbody>
            {table.items.map((row) => (
              <tr key={row.piece} class={row.on_hold ? "on-hold" : undefined}>
                <th scope="row">
                  <a
                    href={hrefOf("job", [batch.batch_id], { from: String(first), piece: String(row.piece) })}
                    title={row.why}
                  >
                    {show(row.piece)}
                  </a>
                  {row.seat && <small> {row.seat}</small>}
                </th>
                <td>
                  {row.on_hold && <b>held, </b>}
                  {dispositionWords[row.disposition]}
                </td>
                {row.cells.map((cell, i) => (
                  <GridCell
                    key={`${table.features[i]!.feature_id} ${table.features[i]!.place}`}
                    cell={cell}
                    column={table.features[i]!}
                    decimals={decimals[i]!}
                  />
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <ul class="legend">
        <li>
          <span class="sample">
            <i class="tick" />
          </span>
          where the size lies: limits at the ends of the rail, aim in the middle; the number is the distance
          from the aim
        </li>
        <li>✕ out of limits</li>
        <li>≈ too close to call</li>
        {Object.values(unmeasured).map(([sign, words]) => (
          <li key={sign}>
            {sign} {words}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Head({ column, batchId }: { column: Column; batchId: string }) {
  const query = { batch: batchId, ...(column.place !== null && { place: column.place }) };
  return (
    <th scope="col">
      <a href={hrefOf("feature", [column.feature_id], query)}>
        {column.characteristic} {column.place}
        <small>{column.name}</small>
      </a>
    </th>
  );
}

function GridCell({ cell, column, decimals }: { cell: Cell; column: Column; decimals: number }) {
  if (cell.verdict === null) {
    const [sign, words] = cell.proof === "measured" ? ["–", "not measured"] : unmeasured[cell.proof];
    return (
      <td class={`none ${cell.proof}`}>
        <span aria-hidden="true">{sign}</span>
        <span class="unseen">{words}</span>
      </td>
    );
  }
  const sign = { conforming: "", nonconforming: "✕ ", uncertain: "≈ " }[cell.verdict];
  const words = { conforming: "", nonconforming: "out of limits, ", uncertain: "too close to call, " }[
    cell.verdict
  ];
  const text = cell.from_target === null ? cell.result : showSigned(cell.from_target, null, decimals);
  return (
    <td class={cell.verdict} title={cell.size === null ? undefined : show(cell.size, column.unit)}>
      {sign && <b aria-hidden="true">{sign}</b>}
      {words && <span class="unseen">{words}</span>}
      {text}
      {cell.cut !== null && cell.cut > 1 && <small> cut {cell.cut}</small>}
      {cell.proof !== "measured" && (
        <small>
          {" "}
          {unmeasured[cell.proof][0]}
          <span class="unseen"> {unmeasured[cell.proof][1]}</span>
        </small>
      )}
      {cell.tolerance_used !== null && cell.from_target !== null && (
        <span class="rail" aria-hidden="true">
          <i class="tick" style={{ left: `${place(cell.tolerance_used, cell.from_target)}%` }} />
        </span>
      )}
    </td>
  );
}

/** Decimals of a number, as far as they are shown: those of a column stand below each other. */
function decimalsOf(value: number | null): number {
  return value === null ? 0 : (String(Number(value.toFixed(5))).split(".")[1]?.length ?? 0);
}

/** Where the mark stands along the rail, in %: the aim in the middle, a limit at either end. */
function place(used: number, fromTarget: number): number {
  const side = Math.sign(fromTarget) * Math.min(1.15, Math.abs(used));
  return Number((50 + 50 * side).toFixed(1));
}
