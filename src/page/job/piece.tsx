import { api, ask } from "../client.js";
import { hrefOf } from "../route.js";
import { useLive } from "../use-live.js";
import { ordinal, show, showSigned, verdictWords } from "../words.js";
import { dispositionWords } from "./load-job.js";

interface PieceProps {
  batchId: string;
  piece: number;
  /** Where the link goes that leaves the piece. */
  close: string;
  decide: () => void;
}

/** All that is known of one piece, and why it stands as it does. */
export function Piece({ batchId, piece, close, decide }: PieceProps) {
  const { value: known, fault } = useLive(
    () =>
      ask(
        api.GET("/v1/batches/{batch_id}/pieces/{piece}", { params: { path: { batch_id: batchId, piece } } }),
      ),
    [batchId, piece],
  );
  if (!known) return <p role={fault ? "alert" : undefined}>{fault?.message ?? "One moment …"}</p>;
  return (
    <section class="correction" aria-label={`Piece ${piece}`}>
      <h3>
        Piece {show(piece)}
        {known.seat && `, seat ${known.seat}`}
        {known.serials.length > 0 && `, no. ${known.serials.join(", ")}`}: {known.on_hold && "held, "}
        {dispositionWords[known.disposition]}
      </h3>
      <p>{known.why}</p>
      <div class="wide">
        <table>
          <tbody>
            {known.features.map((feature) => (
              <tr key={`${feature.feature_id} ${feature.place}`}>
                <th scope="row">
                  <a href={hrefOf("feature", [feature.feature_id], { batch: batchId })}>
                    {feature.characteristic} {feature.name} {feature.place}
                  </a>
                </th>
                <td>
                  {feature.readings
                    .filter(({ voided }) => !voided)
                    .map((one) => (
                      <div key={one.reading_id}>
                        {one.size === null ? (one.result ?? one.state) : show(one.size, one.size_unit)}
                        {one.from_target !== null && ` (${showSigned(one.from_target)})`}:{" "}
                        {verdictWords[one.verdict]}
                        {one.cut > 1 && `, cut ${one.cut}`}
                        {one.taken_by && `, ${one.taken_by}`}
                      </div>
                    ))}
                </td>
                <td>{feature.why}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {known.edges.length > 0 && (
        <p>
          Cut with{" "}
          {known.edges.map(({ tool_id, tool_number, tool, number, pieces_cut }, i) => (
            <span key={tool_id}>
              {i > 0 && ", "}
              <a href={hrefOf("tool", [tool_id])}>
                T{tool_number} {tool}
              </a>
              {number !== null && `, edge ${number}`}
              {pieces_cut !== null && `, its ${ordinal(pieces_cut)} piece`}
            </span>
          ))}
          .{" "}
          {known.registers
            .filter(({ cut }) => cut === known.cuts)
            .map(({ label, value, unit }) => `${label} at ${show(value, unit)}`)
            .join(", ")}
        </p>
      )}
      <div class="happened">
        <button type="button" onClick={decide}>
          decide about piece {show(piece)}
        </button>
        <a class="document" href={close}>
          close
        </a>
      </div>
    </section>
  );
}
