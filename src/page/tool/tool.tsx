import { useState } from "preact/hooks";
import { api, ask, askAll } from "../client.js";
import { Plot, pathOf } from "../plot.js";
import { hrefOf } from "../route.js";
import { loadTools, type ScreenProps, type Shop } from "../shop.js";
import { useLive } from "../use-live.js";
import { show, showSigned } from "../words.js";

export default function ToolScreen({ route, shop }: ScreenProps) {
  const [toolId] = route.of;
  return toolId === undefined ? (
    <ToolList shop={shop} />
  ) : (
    <OneTool key={toolId} toolId={toolId} shop={shop} wanted={route.query.get("edge")} />
  );
}

function ToolList({ shop }: { shop: Shop }) {
  const { value: tools, fault } = useLive(
    () => Promise.all(shop.machines.map(({ machine_id }) => loadTools(machine_id))),
    [shop.machines.length],
  );
  if (!tools) return <p role={fault ? "alert" : undefined}>{fault?.message ?? "One moment …"}</p>;
  return (
    <>
      <h2 class="title">Tools</h2>
      {shop.machines.map((machine, i) => (
        <section key={machine.machine_id} aria-label={machine.name}>
          <h3>{machine.name}</h3>
          <ul class="choices">
            {tools[i]?.map(({ tool_id, number, name }) => (
              <li key={tool_id}>
                <a href={hrefOf("tool", [tool_id])}>
                  <b>T{number}</b> {name}
                </a>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

async function loadTool(toolId: string, wanted: string | null) {
  const path = { tool_id: toolId };
  const [tool, wear, edges, life] = await Promise.all([
    ask(api.GET("/v1/tools/{tool_id}", { params: { path } })),
    ask(api.GET("/v1/tools/{tool_id}/wear", { params: { path } })),
    askAll((cursor) =>
      ask(api.GET("/v1/tools/{tool_id}/edges", { params: { path, query: { ...(cursor && { cursor }) } } })),
    ),
    ask(api.GET("/v1/tools/{tool_id}/edge-life", { params: { path } })),
  ]);
  const edge_id = wanted ?? wear.edge.edge_id;
  const offsets = await ask(
    api.GET("/v1/tools/{tool_id}/edges/{edge_id}/offsets", {
      params: { path: { tool_id: toolId, edge_id } },
    }),
  );
  return { tool, wear, edges: edges.filter(({ voided }) => !voided), life, offsets };
}
type Known = Awaited<ReturnType<typeof loadTool>>;
type Register = Known["offsets"]["registers"][number];

export const reasonWords: Record<string, string> = {
  start: "the first one",
  worn: "the one before was worn",
  broken: "the one before broke",
  chipped: "the one before chipped",
  indexed: "insert turned",
  new_insert: "new insert",
  other: "put in",
};
const endWords: Record<string, string> = {
  worn: "worn",
  broken: "broke",
  chipped: "chipped",
  indexed: "insert turned",
  new_insert: "insert changed",
  other: "taken out",
};

function OneTool({ toolId, shop, wanted }: { toolId: string; shop: Shop; wanted: string | null }) {
  const { value: known, fault } = useLive(() => loadTool(toolId, wanted), [toolId, wanted]);
  if (!known) return <p role={fault ? "alert" : undefined}>{fault?.message ?? "One moment …"}</p>;
  const { tool, wear, edges, life, offsets } = known;
  const machine = shop.machines.find(({ machine_id }) => machine_id === tool.machine_id);
  return (
    <>
      <h2 class="title">
        T{tool.number} <span class="aside">{tool.name}</span>
      </h2>
      <p>
        {machine?.name}. Edge {offsets.number} ({reasonWords[offsets.reason]}
        {offsets.in_use ? ", in use" : ""}): {show(offsets.pieces_cut)} pieces cut
        {offsets.planned_life !== null && ` of ${show(offsets.planned_life)} planned`}. {life.why}
      </p>
      {edges.length > 1 && (
        <nav aria-label="Edges">
          {edges
            .slice()
            .reverse()
            .slice(0, 12)
            .map((edge) => (
              <a
                key={edge.edge_id}
                href={hrefOf("tool", [toolId], edge.in_use ? {} : { edge: edge.edge_id })}
                aria-current={edge.edge_id === offsets.edge_id ? "page" : undefined}
              >
                edge {edge.number}
                <small>
                  {show(edge.pieces_cut)} pieces{edge.ended_by && `, ${endWords[edge.ended_by]}`}
                </small>
              </a>
            ))}
        </nav>
      )}
      {offsets.registers.length === 0 && <p>No offset belongs to this tool: it cuts as wide as it is.</p>}
      {offsets.registers.map((register) => (
        <Offset
          key={register.register_id}
          register={register}
          offsets={offsets}
          wear={wear.registers.find(({ register_id }) => register_id === register.register_id)}
        />
      ))}
    </>
  );
}

interface OffsetProps {
  register: Register;
  offsets: Known["offsets"];
  wear: Known["wear"]["registers"][number] | undefined;
}

/** One offset: what it holds, where it is heading, and how it came there. */
function Offset({ register, offsets, wear }: OffsetProps) {
  const { unit } = offsets;
  const { forecast, values } = register;
  const first = values[0];
  const last = values.at(-1);
  return (
    <section aria-label={register.label}>
      <h3>
        <span class="label">{register.label}</span>
      </h3>
      <dl class="figures">
        <div>
          <dt>{offsets.in_use ? "holds now" : "held at the end"}</dt>
          <dd>{show(offsets.in_use ? wear?.value_now : last?.value, unit)}</dd>
        </div>
        {first && last && (
          <div>
            <dt>since this edge began</dt>
            <dd>{showSigned(roundedDifference(last.value, first.value), unit)}</dd>
          </div>
        )}
        {offsets.in_use && (
          <div>
            <dt>good for</dt>
            <dd>
              {!forecast
                ? "not known yet"
                : wear?.pieces_to_limit
                  ? `${show(wear.pieces_to_limit)} pieces`
                  : "the edge's life"}
            </dd>
          </div>
        )}
      </dl>
      {forecast && <p>{sayDrift(forecast.rate_per_piece, unit, wear?.pieces_to_limit ?? null)}</p>}
      {!forecast && offsets.in_use && <p>No size that answers to it has been measured with this edge yet.</p>}
      {(forecast || values.some(({ value }) => value !== first?.value)) && (
        <OffsetPlot register={register} offsets={offsets} />
      )}
      <Changes register={register} unit={unit} batches={offsets.batches} />
    </section>
  );
}

function sayDrift(rate: number, unit: string, toLimit: number | null): string {
  const hundred = rate * 100;
  const drift =
    hundred === 0
      ? "Nothing asks for a change of it so far."
      : `Wear asks for about ${showSigned(Number(hundred.toPrecision(2)), unit)} in 100 pieces.`;
  return toLimit === null
    ? `${drift} As far as is known all sizes stay within their limits to the end of the planned life.`
    : `${drift} Left as it is, a size is expected out of limits in ${show(toLimit)} pieces.`;
}

function OffsetPlot({ register, offsets }: { register: Register; offsets: Known["offsets"] }) {
  const { values, forecast } = register;
  const { unit, pieces_cut: cut } = offsets;
  const ahead = forecast?.ahead ?? [];
  const end = Math.max(cut, ahead.at(-1)?.pieces_cut ?? 0, 1);
  const limits = ahead.flatMap(({ limit_low, limit_high }) => [limit_low, limit_high]);
  // The band grows wide where little is known: it is cut off where what is held, asked for or allowed ends.
  const seen = [
    ...values.map(({ value }) => value),
    ...ahead.map(({ aimed }) => aimed),
    ...limits.filter((value) => value !== null),
  ];
  const [least, most] = [Math.min(...seen), Math.max(...seen)];
  const cutOff = (value: number) => Math.max(least, Math.min(most, value));
  const now = values.at(-1)!;
  const start = values[0]!;
  const points = [
    ...values.map((one) => ({
      piece: one.pieces_cut,
      value: one.value,
      says: `After ${show(one.pieces_cut)} pieces: ${show(one.value, unit)}${one.by ? `, set by ${one.by}` : ""}.`,
    })),
    ...ahead.map((one) => ({
      piece: one.pieces_cut,
      value: one.aimed,
      says: `After ${show(one.pieces_cut)} pieces wear is expected to ask for ${show(rounded(one.aimed), unit)} (${show(rounded(one.low))} to ${show(rounded(one.high))}).`,
    })),
  ];
  const marks = [
    { at: now.value, word: offsets.in_use ? "now" : "end" },
    { at: start.value, word: "began" },
    ...(limits[1] != null ? [{ at: limits[1], word: "too much" }] : []),
    ...(limits[0] != null ? [{ at: limits[0], word: "too little" }] : []),
  ];
  return (
    <>
      <Plot
        label={`${register.label} over the pieces of this edge`}
        pieces={[0, end]}
        values={seen}
        unit={unit}
        along="pieces cut with this edge"
        marks={marks}
        points={points}
      >
        {({ right, top, bottom, x, y }) => (
          <>
            {ahead.length > 0 && (
              <path
                class="band"
                d={`${pathOf([
                  ...ahead.map((one) => [x(one.pieces_cut), y(cutOff(one.high))] as const),
                  ...ahead
                    .slice()
                    .reverse()
                    .map((one) => [x(one.pieces_cut), y(cutOff(one.low))] as const),
                ])}Z`}
              />
            )}
            {(["limit_low", "limit_high"] as const).map((side) => (
              <path
                key={side}
                class="limit"
                d={pathOf(
                  ahead.flatMap((one) =>
                    one[side] === null ? [] : [[x(one.pieces_cut), y(one[side])] as const],
                  ),
                )}
              />
            ))}
            <path
              class="expected"
              d={pathOf(ahead.map((one) => [x(one.pieces_cut), y(one.aimed)] as const))}
            />
            {offsets.batches.slice(1).map((batch) => (
              <path key={batch.batch_id} class="seam" d={`M${x(batch.pieces_cut)} ${top}V${bottom}`} />
            ))}
            {offsets.in_use && <path class="held-on" d={`M${x(cut)} ${y(now.value)}H${right}`} />}
            <path
              class="held"
              d={`M${x(start.pieces_cut)} ${y(start.value)}${values
                .slice(1)
                .map((one) => `H${x(one.pieces_cut).toFixed(1)}V${y(one.value).toFixed(1)}`)
                .join("")}H${x(Math.max(cut, now.pieces_cut)).toFixed(1)}`}
            />
            {values.slice(1).map((one, i) => {
              const isUp = one.value > values[i]!.value;
              if (one.value === values[i]!.value) return null;
              return (
                <path
                  key={`${one.batch_id} ${one.from_piece} ${one.from_cut}`}
                  class="change"
                  d={`M${x(one.pieces_cut)} ${y(one.value)}l-6 ${isUp ? 10 : -10}h12z`}
                />
              );
            })}
          </>
        )}
      </Plot>
      <ul class="legend">
        <li>
          <svg viewBox="0 0 30 12" aria-hidden="true">
            <path class="held" d="M0 9H15V3H30" />
            <path class="change" d="M15 3l-5 8h10z" />
          </svg>
          what it held; a triangle at each change, pointing the way it went
        </li>
        {ahead.length > 0 && (
          <>
            <li>
              <svg viewBox="0 0 30 12" aria-hidden="true">
                <path class="band" d="M0 1H30V11H0z" />
                <path class="expected" d="M0 6H30" />
              </svg>
              what wear is expected to ask for, 19 times out of 20 inside the band
            </li>
            <li>
              <svg viewBox="0 0 30 12" aria-hidden="true">
                <path class="limit" d="M0 6H30" />
              </svg>
              beyond this line a size is out of its limits
            </li>
          </>
        )}
        {offsets.batches.length > 1 && (
          <li>
            <svg viewBox="0 0 30 12" aria-hidden="true">
              <path class="seam" d="M15 0V12" />
            </svg>
            the next job begins
          </li>
        )}
      </ul>
    </>
  );
}

function Changes({
  register,
  unit,
  batches,
}: {
  register: Register;
  unit: string;
  batches: Known["offsets"]["batches"];
}) {
  const [all, setAll] = useState(false);
  const rows = register.values.slice().reverse();
  const shown = all ? rows : rows.slice(0, 8);
  if (rows.length === 0) return null;
  return (
    <details>
      <summary>{rows.length === 1 ? "Its value" : `All ${show(rows.length)} values`} as a table</summary>
      <div class="wide">
        <table>
          <thead>
            <tr>
              <th scope="col">job</th>
              <th scope="col">from piece</th>
              <th scope="col">pieces cut</th>
              <th scope="col">value</th>
              <th scope="col">why</th>
              <th scope="col">who</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((one) => (
              <tr key={`${one.batch_id} ${one.from_piece} ${one.from_cut}`}>
                <td>
                  <a href={hrefOf("job", [one.batch_id])}>
                    {batches.find(({ batch_id }) => batch_id === one.batch_id)?.batch}
                  </a>
                </td>
                <td>
                  {show(one.from_piece)}
                  {one.from_cut > 1 && `, cut ${one.from_cut}`}
                </td>
                <td>{show(one.pieces_cut)}</td>
                <td>{show(one.value, unit)}</td>
                <td>{one.correction_id ? "as advised" : (one.reason ?? (one.at ? "–" : "brought along"))}</td>
                <td>{one.by ?? "–"}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {rows.length > shown.length && (
        <button type="button" onClick={() => setAll(true)}>
          show all {show(rows.length)}
        </button>
      )}
    </details>
  );
}

function roundedDifference(a: number, b: number): number {
  return Number((a - b).toFixed(6));
}
function rounded(value: number): number {
  return Number(value.toFixed(5));
}
