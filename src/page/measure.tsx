import { useRef, useState } from "preact/hooks";
import { api, ask, Refused } from "./client.js";
import { Ruler } from "./ruler.js";
import type { Line, Reading, Shop } from "./shop.js";
import {
  dispositionWords,
  readAngle,
  readNumber,
  sayLimits,
  show,
  showSigned,
  verdictWords,
} from "./words.js";

interface MeasureProps {
  line: Line;
  gauges: Shop["gauges"];
  batchId: string;
  piece: number;
  cut: number;
  isFirst: boolean;
  isLost: boolean;
  done: (next: string, reading: Reading | undefined) => void;
}

const choices = {
  go_no_go: [
    ["pass", "goes, no-go does not"],
    ["go_refuses", "go refuses"],
    ["no_go_enters", "no-go enters"],
  ],
  visual: [
    ["pass", "good"],
    ["fail", "not good"],
  ],
} as const;
const lengthUnits = [
  ["mm", "mm"],
  ["um", "µm"],
  ["inch", "inch"],
] as const;
const unitWords: Record<string, string> = { um: "µm", deg: "°" };
const marks = { conforming: "●", nonconforming: "✕", uncertain: "◐" } as const;

/** One feature of the piece: what to take, a field for it, and what came of it. */
export function Measure({ line, gauges, batchId, piece, cut, isFirst, isLost, done }: MeasureProps) {
  const [fault, setFault] = useState("");
  const [isSending, setSending] = useState(false);
  const { feature, place, reading, due } = line;
  const kind = feature.kind;
  const [chosenGauge, chooseGauge] = useState("");
  const gaugeId = due.gauge_id ?? (chosenGauge || null);
  const gauge = gaugeId === null ? undefined : gauges.get(gaugeId);
  const isLength = feature.unit === "mm" || feature.unit === "inch";
  const unit = isLength && gauge && gauge.unit !== "deg" ? gauge.unit : feature.unit?.replace("µ", "u");
  const attempt = useRef<{ said: string; key: string; at: string } | undefined>(undefined);
  const send = async (measured: object) => {
    setFault("");
    setSending(true);
    // The same again after an answer that was lost is the same reading, not a second one.
    const said = JSON.stringify([piece, cut, measured]);
    if (attempt.current?.said !== said) {
      attempt.current = { said, key: crypto.randomUUID(), at: new Date().toISOString() };
    }
    const { key, at } = attempt.current;
    try {
      const { next, readings } = await ask(
        api.POST("/v1/readings", {
          headers: { "idempotency-key": key },
          body: {
            batch_id: batchId,
            feature_id: feature.feature_id,
            piece,
            ...(cut > 1 && { cut }),
            ...(place !== null && { place }),
            ...(gaugeId !== null && { gauge_id: gaugeId }),
            measured_at: at,
            ...measured,
          },
        }),
      );
      attempt.current = undefined;
      done(next.why, readings[0]);
    } catch (error) {
      if (error instanceof Refused && error.status < 500) attempt.current = undefined;
      setFault((error as Error).message);
    } finally {
      setSending(false);
    }
  };
  const name = `${feature.characteristic} ${feature.name ?? kind}${place === null ? "" : `, ${place}`}`;
  const faultId = `fault-${line.key.replace(" ", "-")}`;
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const { unit: chosen, ...typed } = Object.fromEntries(
      new FormData(event.currentTarget as HTMLFormElement),
    );
    const read = kind === "angle" ? readAngle : readNumber;
    const numbers = Object.entries(typed).map(([key, text]) => [key, read(String(text))] as const);
    const wrong = numbers.find(([, number]) => number === undefined);
    if (wrong) return setFault(`"${typed[wrong[0]]}" is no number. Type it like ${show(12.005)}.`);
    if (kind === "count") return void send({ count: Number(numbers[0]?.[1]) });
    return void send({ ...Object.fromEntries(numbers), ...(chosen && { unit: chosen }) });
  };

  return (
    <li class={reading ? reading.verdict : isFirst ? "due first" : "due"}>
      <div class="what">
        <b>{name}</b>
        <span>
          {sayLimits(feature.lower_limit, feature.upper_limit, feature.unit) ?? kind.replaceAll("_", "-")}
          {gauge && ` · ${gauge.name}`}
          {gauge?.reads === "deviation" && " · type what it shows, with its sign"}
          {due.sure_piece && " · take this very piece at the machine"}
        </span>
      </div>
      {!reading && due.gauge_id === null && kind !== "visual" && kind !== "count" && (
        <label>
          with{" "}
          <select value={chosenGauge} onChange={(event) => chooseGauge(event.currentTarget.value)}>
            <option value="">which gauge?</option>
            {[...gauges.values()].map(({ gauge_id, name: words }) => (
              <option key={gauge_id} value={gauge_id}>
                {words}
              </option>
            ))}
          </select>
        </label>
      )}
      {reading ? (
        <Result reading={reading} />
      ) : kind === "go_no_go" || kind === "visual" ? (
        <fieldset disabled={isLost || isSending} aria-label={name}>
          {choices[kind].map(([result, words]) => (
            <button key={result} type="button" onClick={() => send({ result })}>
              {words}
            </button>
          ))}
        </fieldset>
      ) : (
        <form onSubmit={submit}>
          {(kind === "position" ? ["dx", "dy"] : ["value"]).map((field, i) => (
            <label key={field}>
              <span class={field === "value" ? "unseen" : ""}>{field === "value" ? name : field}</span>
              <input
                name={field}
                inputMode="decimal"
                autocomplete="off"
                required
                aria-describedby={fault ? faultId : undefined}
                ref={(input) => {
                  // Goes where the hand is needed next, and never takes the field from somebody who types.
                  if (input && isFirst && i === 0 && document.activeElement === document.body) input.focus();
                }}
              />
            </label>
          ))}
          {isLength ? (
            <select name="unit" aria-label={`unit of ${name}`}>
              {lengthUnits.map(([value, words]) => (
                <option key={value} value={value} selected={value === unit}>
                  {words}
                </option>
              ))}
            </select>
          ) : (
            unit && (
              <span class="unit">
                {unitWords[unit] ?? unit}
                <input type="hidden" name="unit" value={unit} />
              </span>
            )
          )}
          <button type="submit" disabled={isLost || isSending}>
            enter
          </button>
        </form>
      )}
      {fault && (
        <p role="alert" id={faultId}>
          {fault}
        </p>
      )}
    </li>
  );
}

/** What came of a reading: in words, as a shape and on a ruler. */
export function Result({ reading }: { reading: Reading }) {
  return (
    <div class="result" data-testid="result">
      <strong>
        <span class="mark" aria-hidden="true">
          {marks[reading.verdict]}
        </span>{" "}
        {verdictWords[reading.verdict]}
      </strong>
      <span>
        {reading.size === null ? reading.result?.replaceAll("_", " ") : show(reading.size, reading.size_unit)}
        {reading.from_target !== null &&
          `, ${showSigned(reading.from_target, reading.size_unit)} from the aim`}
        {`: ${dispositionWords[reading.disposition]}`}
      </span>
      <Ruler
        low={reading.lower_limit}
        high={reading.upper_limit}
        aim={reading.target}
        sizes={reading.size === null ? [] : [{ at: reading.size, name: "measured" }]}
      />
      {reading.why && <span>{reading.why}</span>}
      {reading.advice && <span>{reading.advice}</span>}
      {reading.slip && <span>{reading.slip}</span>}
      {reading.hold && (
        <span>
          Keep pieces {reading.hold.from_piece} to {reading.hold.to_piece} apart.
        </span>
      )}
    </div>
  );
}
