import { api, ask, askAll, Refused } from "../client.js";
import { DocumentLink } from "../document-link.js";
import { Plot, pathOf } from "../plot.js";
import { hrefOf } from "../route.js";
import { loadPart, type ScreenProps } from "../shop.js";
import { useLive } from "../use-live.js";
import { ordinal, show, showSigned, verdictWords } from "../words.js";

export default function FeatureScreen({ route }: ScreenProps) {
  const [featureId] = route.of;
  const batchId = route.query.get("batch");
  if (featureId === undefined || batchId === null)
    return <p role="alert">A feature is looked at from its job: open the job and choose one there.</p>;
  const [place, seat] = [route.query.get("place"), route.query.get("seat")];
  return (
    <OneFeature
      key={`${featureId} ${batchId}`}
      featureId={featureId}
      batchId={batchId}
      place={place}
      seat={seat}
    />
  );
}

interface FeatureProps {
  featureId: string;
  batchId: string;
  place: string | null;
  seat: string | null;
}

const attributes = ["go_no_go", "visual"];
const mostPieces = 300;

async function loadFeature({ featureId, batchId, place, seat }: FeatureProps) {
  const batch = await ask(api.GET("/v1/batches/{batch_id}", { params: { path: { batch_id: batchId } } }));
  const part = await loadPart(batch.part_id);
  const feature = part.features.find(({ feature_id }) => feature_id === featureId);
  if (!feature) throw new Refused(404, `Job ${batch.name} has no such feature.`);
  const places = feature.places ?? [];
  const wanted = place ?? places[0];
  const window = {
    batch_id: batchId,
    ...(wanted !== undefined && { place: wanted }),
    ...(seat !== null && { seat }),
  };
  const path = { feature_id: featureId };
  const isSized = !attributes.includes(feature.kind);
  const kind = feature.kind === "count" ? ("c" as const) : ("individuals" as const);
  const [chart, unforeseen, capability, interval, readings] = await Promise.all([
    isSized
      ? orNothing(
          ask(
            api.GET("/v1/features/{feature_id}/chart", {
              params: { path, query: { kind, last: mostPieces, ...window } },
            }),
          ),
        )
      : undefined,
    // Where an offset moves it, tests on the sizes would only find the wear: what was not foreseen is tested instead.
    isSized && feature.cut_by.length > 0
      ? orNothing(
          ask(
            api.GET("/v1/features/{feature_id}/chart", {
              params: { path, query: { kind: "innovations", last: mostPieces, ...window } },
            }),
          ),
        )
      : undefined,
    isSized && feature.kind !== "count"
      ? orNothing(ask(api.GET("/v1/features/{feature_id}/capability", { params: { path, query: window } })))
      : undefined,
    ask(api.GET("/v1/features/{feature_id}/interval", { params: { path, query: { batch_id: batchId } } })),
    ask(
      api.GET("/v1/readings", {
        params: { query: { batch_id: batchId, feature_id: featureId, limit: 500 } },
      }),
    ),
  ]);
  const corrections = await askAll((cursor) =>
    ask(
      api.GET("/v1/corrections", {
        params: { query: { status: "applied", batch_id: batchId, limit: 500, ...(cursor && { cursor }) } },
      }),
    ),
  );
  return {
    batch,
    part,
    feature,
    place: wanted ?? null,
    chart,
    signals: unforeseen ? signalsOf(unforeseen).map(sayUnforeseen) : signalsOf(chart),
    isForeseen: unforeseen !== undefined,
    capability,
    interval,
    readings: readings.items.filter(
      (one) =>
        !one.voided && (wanted === undefined || one.place === wanted) && (seat === null || one.seat === seat),
    ),
    corrections: corrections.filter(({ features }) =>
      features.some(({ feature_id }) => feature_id === featureId),
    ),
  };
}
type Known = Awaited<ReturnType<typeof loadFeature>>;
type Chart = NonNullable<Known["chart"]>;

/** Patterns on the upper panel of a chart, each piece with what is said of it. */
function signalsOf(chart: { panels: { name: string }[]; signals: ChartSignal[] } | undefined): ChartSignal[] {
  return chart ? chart.signals.filter(({ panel }) => panel === chart.panels[0]?.name) : [];
}
/** What was not foreseen is charted in standard deviations, which say nothing at the machine. */
function sayUnforeseen(signal: ChartSignal): ChartSignal {
  const says = signal.rule.endsWith("_1")
    ? `Piece ${show(signal.piece)} is not where wear would have put it. Measure it again, then look for what changed.`
    : `Up to piece ${show(signal.piece)} the sizes keep to one side of what was foreseen: look for what changed.`;
  return { ...signal, says };
}
interface ChartSignal {
  panel: string;
  piece: number;
  rule: string;
  says: string;
}

/** What is not refused: too few pieces for a chart are no fault. */
async function orNothing<T>(answer: Promise<T>): Promise<T | undefined> {
  try {
    return await answer;
  } catch (error) {
    if (error instanceof Refused && (error.status === 422 || error.status === 404)) return undefined;
    throw error;
  }
}

function OneFeature(props: FeatureProps) {
  const { featureId, batchId, seat } = props;
  const { value: known, fault } = useLive(() => loadFeature(props), [featureId, batchId, props.place, seat]);
  if (!known) return <p role={fault ? "alert" : undefined}>{fault?.message ?? "One moment …"}</p>;
  const { batch, feature, place, chart, capability, interval, readings } = known;
  const to = (change: Record<string, string>) =>
    hrefOf("feature", [featureId], {
      batch: batchId,
      ...(place !== null && { place }),
      ...(seat !== null && { seat }),
      ...change,
    });
  const withoutSeat = hrefOf("feature", [featureId], { batch: batchId, ...(place !== null && { place }) });
  return (
    <>
      <h2 class="title">
        {feature.characteristic} <span class="aside">{feature.name}</span>
      </h2>
      <p>
        <a href={hrefOf("job", [batchId])}>{batch.name}</a>. {sayRequirement(feature)}
      </p>
      {(feature.places ?? []).length > 1 && (
        <nav aria-label="Places">
          {feature.places!.map((one) => (
            <a key={one} href={to({ place: one })} aria-current={one === place ? "page" : undefined}>
              {one}
            </a>
          ))}
        </nav>
      )}
      {batch.seats.length > 1 && (
        <nav aria-label="Seats">
          <a href={withoutSeat} aria-current={seat === null ? "page" : undefined}>
            all seats
          </a>
          {batch.seats.map((one) => (
            <a key={one} href={to({ seat: one })} aria-current={one === seat ? "page" : undefined}>
              seat {one}
            </a>
          ))}
        </nav>
      )}
      <p class="large" data-testid="capability">
        {sayCapability(capability, readings, known.isForeseen)}
      </p>
      <p>
        {interval.every === 1 ? "Every piece" : `Every ${ordinal(interval.every)} piece`} is measured, next
        piece {show(interval.next_piece)}. {interval.why.charAt(0).toUpperCase() + interval.why.slice(1)}.
      </p>
      {chart?.panels[0] ? (
        <RunChart known={known} chart={chart} />
      ) : (
        <p>
          {readings.length === 0 ? "Nothing has been measured yet." : "Too few pieces for a picture yet."}
        </p>
      )}
      <Table known={known} />
      {(capability || chart) && <QualityDesk known={known} />}
    </>
  );
}

function sayRequirement({
  lower_limit: low,
  upper_limit: high,
  target,
  unit,
  kind,
}: Known["feature"]): string {
  if (attributes.includes(kind)) return "It passes or fails.";
  if (low === null && high === null) return "It has no limits.";
  const limits =
    low === null
      ? `at most ${show(high, unit)}`
      : high === null
        ? `at least ${show(low, unit)}`
        : `${show(low)} to ${show(high, unit)}`;
  return target === null ? `${limits}.` : `${limits}, aim ${show(target, unit)}.`;
}

/**
 * Capability in one plain sentence. Its bounds are those that the answer itself goes by: 1.33 with its lower confidence
 * limit, and 1. Wandering is only said where no wear is foreseen: a tool that wears is not steady, and need not be.
 */
function sayCapability(
  capability: Known["capability"],
  readings: readonly { verdict: Known["readings"][number]["verdict"] }[],
  isForeseen: boolean,
): string {
  if (!capability) {
    const out = readings.filter(({ verdict }) => verdict === "nonconforming").length;
    return readings.length === 0
      ? "Not measured in this job yet."
      : `${show(readings.length)} readings, ${out === 0 ? "none" : show(out)} out of limits.`;
  }
  const { shipped, overall, steady, pieces, enough } = capability;
  const index = overall?.ppk;
  const outside = shipped?.outside ?? 0;
  const out = outside === 0 ? "none out of limits" : `${show(outside)} out of limits`;
  if (!enough || !index) return `${show(pieces)} pieces measured, ${out}: too few to say more.`;
  const measured = `(${show(pieces)} pieces measured, ${out})`;
  const wander = steady || isForeseen ? "" : " It wanders more than chance alone would make it.";
  if (index.value < 1)
    return `Does not hold its limits surely: pieces out of limits are to be expected ${measured}.${wander}`;
  if (outside > 0) return `Most pieces lie well inside the limits, yet not all ${measured}.${wander}`;
  if (index.low >= 1.33) return `Holds its limits with room to spare ${measured}.${wander}`;
  if (index.value >= 1.33)
    return `Seems to hold its limits with room to spare; more readings would make it sure ${measured}.${wander}`;
  return `Just holds its limits ${measured}.${wander}`;
}

const causes = { start: "start", edge: "fresh edge", correction: "offset changed" } as const;

function RunChart({ known, chart }: { known: Known; chart: Chart }) {
  const { feature, corrections, readings, signals } = known;
  const { points } = chart.panels[0]!;
  const { lower_limit: low, upper_limit: high, target } = chart;
  const unit = chart.unit === "1" ? "" : chart.unit;
  const isOut = (value: number) => (low !== null && value < low) || (high !== null && value > high);
  const said = new Map(signals.map(({ piece, says }) => [piece, says]));
  const doubtful = readings.filter(
    ({ piece, size }) => size !== null && chart.doubtful_pieces.includes(piece),
  );
  const limits = [low, high, target].filter((value) => value !== null);
  const setTo = (piece: number) =>
    corrections
      .filter(({ value_set, from_piece }) => value_set !== null && from_piece === piece)
      .map(({ register_label, value_set, unit: of }) => `${register_label} to ${show(value_set, of)}`)
      .join(", ");
  const values = [...points.map(({ value }) => value), ...doubtful.map(({ size }) => size!), ...limits];
  const starts = chart.phases.filter(({ why }) => why !== "start");
  return (
    <>
      <Plot
        label={`${feature.characteristic} ${feature.name ?? ""}, size from piece to piece`}
        pieces={[points[0]!.piece, points.at(-1)!.piece]}
        values={values}
        unit={unit}
        along="piece"
        marks={[
          ...(high !== null ? [{ at: high, word: "largest" }] : []),
          ...(low !== null ? [{ at: low, word: "smallest" }] : []),
          ...(target !== null ? [{ at: target, word: "aim" }] : []),
        ]}
        points={points.map(({ piece, value }) => ({
          piece,
          value,
          says: [
            `Piece ${show(piece)}: ${show(value, unit)}${target === null ? "" : `, ${showSigned(Number((value - target).toFixed(6)))} from the aim`}.`,
            isOut(value) ? "Out of limits." : "",
            said.get(piece) ?? "",
          ]
            .filter(Boolean)
            .join(" "),
        }))}
      >
        {({ left, right, top, bottom, x, y }) => (
          <>
            {low !== null && high !== null && (
              <rect class="room" x={left} y={y(high)} width={right - left} height={y(low) - y(high)} />
            )}
            {[low, high].map(
              (limit) =>
                limit !== null && <path key={limit} class="limit" d={`M${left} ${y(limit)}H${right}`} />,
            )}
            {target !== null && <path class="aim" d={`M${left} ${y(target)}H${right}`} />}
            {starts.map(({ number, why, from_piece }) => (
              <g key={number}>
                <path
                  class={why === "edge" ? "seam edge" : "seam"}
                  d={`M${x(from_piece)} ${top}V${bottom}`}
                />
                <path
                  class="change"
                  d={
                    why === "edge"
                      ? `M${x(from_piece) - 6} ${bottom}h12v-9h-12z`
                      : `M${x(from_piece)} ${bottom - 10}l-6 10h12z`
                  }
                />
              </g>
            ))}
            {chart.phases.map(({ number }) => (
              <path
                key={number}
                class="run"
                d={pathOf(
                  points
                    .filter(({ phase }) => phase === number)
                    .map(({ piece, value }) => [x(piece), y(value)] as const),
                )}
              />
            ))}
            <path
              class="dots"
              d={points
                .map(({ piece, value }) => `M${x(piece).toFixed(1)} ${y(value).toFixed(1)}h0`)
                .join("")}
            />
            {points.map(
              ({ piece, value }) =>
                isOut(value) && (
                  <path key={piece} class="out" d={`M${x(piece) - 6} ${y(value) - 6}l12 12m0-12l-12 12`} />
                ),
            )}
            {points.map(
              ({ piece, value }) =>
                said.has(piece) && (
                  <path key={piece} class="signal" d={`M${x(piece)} ${y(value) - 9}l9 9-9 9-9-9z`} />
                ),
            )}
            {doubtful.map(({ reading_id, piece, size }) => (
              <circle key={reading_id} class="doubtful" cx={x(piece)} cy={y(size!)} r="6" />
            ))}
          </>
        )}
      </Plot>
      <ul class="legend">
        {starts.some(({ why }) => why === "correction") && (
          <li>
            <svg viewBox="0 0 30 12" aria-hidden="true">
              <path class="change" d="M15 1l-6 10h12z" />
            </svg>
            {causes.correction}
          </li>
        )}
        {starts.some(({ why }) => why === "edge") && (
          <li>
            <svg viewBox="0 0 30 12" aria-hidden="true">
              <path class="change" d="M9 2h12v9h-12z" />
            </svg>
            {causes.edge}
          </li>
        )}
        {signals.length > 0 && (
          <li>
            <svg viewBox="0 0 30 12" aria-hidden="true">
              <path class="signal" d="M15 0l6 6-6 6-6-6z" />
            </svg>
            worth a look
          </li>
        )}
        {points.some(({ value }) => isOut(value)) && (
          <li>
            <svg viewBox="0 0 30 12" aria-hidden="true">
              <path class="out" d="M10 1l10 10m0-10l-10 10" />
            </svg>
            out of limits
          </li>
        )}
        {doubtful.length > 0 && (
          <li>
            <svg viewBox="0 0 30 12" aria-hidden="true">
              <circle class="doubtful" cx="15" cy="6" r="5" />
            </svg>
            surprising, not confirmed yet
          </li>
        )}
      </ul>
      {starts.length > 0 && (
        <details>
          <summary>{show(starts.length)} times something was changed</summary>
          <ul>
            {starts.map(({ number, why, from_piece }) => (
              <li key={number}>
                From piece {show(from_piece)}: {causes[why]} {why === "correction" && setTo(from_piece)}
              </li>
            ))}
          </ul>
        </details>
      )}
      {signals.length > 0 && (
        <section aria-label="Worth a look">
          <h3>Worth a look</h3>
          <ul>
            {signals.slice(-5).map(({ piece, rule, says }) => (
              <li key={`${piece} ${rule}`}>{says}</li>
            ))}
          </ul>
          {signals.length > 5 && <p>And {show(signals.length - 5)} earlier.</p>}
        </section>
      )}
    </>
  );
}

function Table({ known }: { known: Known }) {
  const { readings } = known;
  if (readings.length === 0) return null;
  return (
    <details>
      <summary>{show(readings.length)} readings as a table</summary>
      <div class="wide">
        <table>
          <thead>
            <tr>
              <th scope="col">piece</th>
              <th scope="col">reading</th>
              <th scope="col">from the aim</th>
              <th scope="col">what it says</th>
              <th scope="col">who</th>
            </tr>
          </thead>
          <tbody>
            {readings
              .slice()
              .sort((a, b) => b.piece - a.piece || b.cut - a.cut)
              .map((one) => (
                <tr key={one.reading_id}>
                  <th scope="row">
                    {show(one.piece)}
                    {one.cut > 1 && `, cut ${one.cut}`}
                  </th>
                  <td>{one.size === null ? (one.result ?? one.state) : show(one.size, one.size_unit)}</td>
                  <td>{one.from_target === null ? "–" : showSigned(one.from_target)}</td>
                  <td>{verdictWords[one.verdict]}</td>
                  <td>{one.taken_by ?? "–"}</td>
                </tr>
              ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

/** The quality desk's numbers, one step away. */
function QualityDesk({ known }: { known: Known }) {
  const { capability, chart, feature, batch, place } = known;
  const range = (index: { value: number; low: number; high: number } | null | undefined) =>
    index ? `${show(index.value)} (${show(index.low)} to ${show(index.high)})` : "–";
  const rows = capability
    ? ([
        ["Cp", capability.within?.cp, "from piece to piece, between corrections"],
        ["Cpk", capability.within?.cpk, "the same to the nearer limit"],
        ["Pp", capability.overall?.pp, "all readings together"],
        ["Ppk", capability.overall?.ppk, "the same to the nearer limit"],
      ] as const)
    : [];
  const query = new URLSearchParams({
    kind: feature.kind === "count" ? "c" : "individuals",
    batch_id: batch.batch_id,
    last: String(mostPieces),
    format: "svg",
    ...(place !== null && { place }),
  });
  return (
    <details>
      <summary>Numbers for the quality desk</summary>
      {capability && (
        <div class="wide">
          <table>
            <thead>
              <tr>
                <th scope="col">index</th>
                <th scope="col">value (limits at {show(capability.confidence * 100)} %)</th>
                <th scope="col">of what</th>
              </tr>
            </thead>
            <tbody>
              {rows.map(([name, index, of]) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td>{range(index as Parameters<typeof range>[0])}</td>
                  <td>{of}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <ul>
        {[...(capability?.says ?? []), ...(chart?.says ?? [])].map((says) => (
          <li key={says}>{says}</li>
        ))}
      </ul>
      {chart && (
        <p>
          <DocumentLink path={`/v1/features/${feature.feature_id}/chart?${query}`}>
            Control chart as a picture
          </DocumentLink>
        </p>
      )}
    </details>
  );
}
