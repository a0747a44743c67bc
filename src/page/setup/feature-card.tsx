import type { components } from "../../../openapi/openapi.js";
import type { Fault } from "../client.js";
import { Choice, Text } from "../fields.js";
import { show, showSigned } from "../words.js";
import {
  type CutDraft,
  type FeatureDraft,
  hasNominal,
  type Kind,
  kindWords,
  memberOf,
  noCut,
  type Way,
  waysOf,
  wayWords,
} from "./feature-draft.js";

export type Tried = components["schemas"]["PartTrial"]["features"][number];

const forms = [
  "straightness",
  "flatness",
  "roundness",
  "cylindricity",
  "line_profile",
  "surface_profile",
  "parallelism",
  "perpendicularity",
  "angularity",
  "concentricity",
  "coaxiality",
  "symmetry",
  "circular_run_out",
  "total_run_out",
];
const gauged = {
  bore: "a bore",
  shaft: "a shaft",
  internal_thread: "an inside thread",
  external_thread: "an outside thread",
};

interface FeatureCardProps {
  draft: FeatureDraft;
  unit: string;
  /** Offsets and tools that may cut it, by what stands for them. */
  cutters: Record<string, string>;
  offsets: Record<string, { label: string; unit: string }>;
  gauges: Record<string, string>;
  /** What the service makes of it. */
  tried: Tried | undefined;
  faults: Fault[];
  change: (part: Partial<FeatureDraft>) => void;
  remove: () => void;
  makeLike: () => void;
}

/** One feature of the drawing. */
export function FeatureCard(props: FeatureCardProps) {
  const { draft, unit, cutters, offsets, gauges, tried, faults, change, remove, makeLike } = props;
  const { kind, cuts } = draft;
  const ways = waysOf(kind);
  const way = ways.includes(draft.way) ? draft.way : ways[0];
  const shownUnit = kind === "angle" ? "°" : kind === "roughness" ? (unit === "mm" ? "µm" : "µin") : unit;
  const shown = new Set<string>();
  const faultAt = (...members: string[]) => {
    const found = faults.filter(({ pointer }) => members.includes(pointer));
    for (const { pointer } of found) shown.add(pointer);
    return found.length === 0 ? undefined : found.map(({ detail }) => detail).join("; ");
  };
  const field = (name: keyof typeof memberOf) => ({
    value: draft[name],
    type: (value: string) => change({ [name]: value }),
    fault: faultAt(`/${memberOf[name]}`),
  });
  const setCut = (index: number, part: Partial<CutDraft>) =>
    change({ cuts: cuts.map((cut, i) => (i === index ? { ...cut, ...part } : cut)) });
  const isSize = ["external", "internal", "depth", "height", "length"].includes(kind);

  const card = (
    <>
      <Text label="number" {...field("number")} name="number" narrow />
      <Text label="name" {...field("name")} />
      <Choice
        label="kind"
        value={kind}
        words={kindWords}
        choose={(one) => change({ kind: one as Kind, detail: "" })}
        fault={faultAt("/kind")}
      />
      {kind === "form" && (
        <Choice
          label="which"
          value={draft.detail}
          words={{
            "": "choose …",
            ...Object.fromEntries(forms.map((form) => [form, form.replaceAll("_", " ")])),
          }}
          choose={(detail) => change({ detail })}
          fault={faultAt("/geometric_characteristic")}
        />
      )}
      {kind === "go_no_go" && (
        <Choice
          label="gauge is brought to"
          value={draft.detail}
          words={{ "": "choose …", ...gauged }}
          choose={(detail) => change({ detail })}
          fault={faultAt("/gauged")}
        />
      )}
      {kind === "roughness" && (
        <Text
          label="parameter, such as Ra"
          value={draft.detail}
          type={(detail) => change({ detail })}
          fault={faultAt("/roughness_parameter")}
        />
      )}
      {hasNominal(kind) && <Text label={`nominal, ${shownUnit}`} numeric {...field("nominal")} />}
      {ways.length > 1 && (
        <Choice
          label="limits by"
          value={way ?? ""}
          words={Object.fromEntries(ways.map((one) => [one, wayWords[one]]))}
          choose={(one) => change({ way: one as Way })}
        />
      )}
      {way === "plus_minus" && (
        <Text
          label={`±, ${shownUnit}`}
          numeric
          value={draft.upper}
          type={(upper) => change({ upper })}
          fault={faultAt("/upper_deviation", "/lower_deviation")}
        />
      )}
      {(way === "deviations" || way === "limits") && (
        <>
          <Text
            label={way === "limits" ? `largest, ${shownUnit}` : `upper deviation, ${shownUnit}`}
            numeric
            value={draft.upper}
            type={(upper) => change({ upper })}
            fault={faultAt(way === "limits" ? "/upper_limit" : "/upper_deviation")}
          />
          {kind !== "position" && kind !== "form" && (
            <Text
              label={way === "limits" ? `smallest, ${shownUnit}` : `lower deviation, ${shownUnit}`}
              numeric
              value={draft.lower}
              type={(lower) => change({ lower })}
              fault={faultAt(way === "limits" ? "/lower_limit" : "/lower_deviation")}
            />
          )}
        </>
      )}
      {way === "fit" && <Text label="fit" {...field("fit")} />}
      {way === "general" && (
        <Choice
          label="class"
          value={draft.general}
          words={{ "": "the part's", f: "f", m: "m", c: "c", v: "v", H: "H", K: "K", L: "L" }}
          choose={(general) => change({ general })}
          fault={faultAt("/general_tolerance", "/lower_deviation")}
        />
      )}
      {ways.length > 0 && <Text label={`aim, if not the middle`} numeric {...field("target")} />}
      <Choice
        label="measured with"
        value={draft.gauge}
        words={gauges}
        choose={(gauge) => change({ gauge })}
        fault={faultAt("/gauge_id", "/reference_gauge_id")}
      />
      <Choice
        label="importance"
        value={draft.importance}
        words={{ ordinary: "ordinary", key: "key", critical: "critical" }}
        choose={(importance) => change({ importance: importance as "key" })}
      />
      <Text label="operation" {...field("operation")} />
      <Text label="places, such as top, bottom" {...field("places")} />
      {cuts.map((cut, index) => (
        // An offset has its place in the list and no name until it is chosen.
        <fieldset key={`cut ${index}`} class="entry cut" aria-label={`Cut by, ${index + 1}`}>
          <Choice
            label="cut by"
            value={cut.by}
            words={cutters}
            choose={(by) => setCut(index, { ...noCut, by })}
            fault={faultAt(
              `/cut_by/${index}/register_id`,
              `/cut_by/${index}/tool_id`,
              `/cut_by/${index}/effect`,
              `/cut_by/${index}`,
            )}
          />
          {cut.by.startsWith("register:") && isSize && (
            <>
              <Choice
                label="which cuts"
                value={cut.walls}
                words={{ "": "as the kind says", 2: "both sides of it", 1: "one side of it" }}
                choose={(walls) => setCut(index, { walls: walls as "1", effect: null })}
                fault={faultAt(`/cut_by/${index}/walls`)}
              />
              <Choice
                label="plus makes it"
                value={cut.plus}
                words={{ "": "as the set-up says", bigger: "bigger", smaller: "smaller" }}
                choose={(plus) => setCut(index, { plus: plus as "bigger", effect: null })}
                fault={faultAt(`/cut_by/${index}/plus_makes`)}
              />
            </>
          )}
          <Effect cut={cut} tried={tried} offset={offsets[cut.by]} />
          {index > 0 && (
            <button type="button" onClick={() => change({ cuts: cuts.filter((_, i) => i !== index) })}>
              not by this
            </button>
          )}
        </fieldset>
      ))}
      {tried && (tried.lower_limit !== null || tried.upper_limit !== null) && (
        <p class="sentence">
          Good from {tried.lower_limit === null ? "0 or any smaller size" : show(tried.lower_limit)} to{" "}
          {tried.upper_limit === null ? "any larger size" : show(tried.upper_limit, tried.unit)}
          {tried.target !== null && `; aim ${show(tried.target, tried.unit)}`}.
          {draft.pattern && ` ${draft.pattern.order} of ${draft.pattern.of} ${draft.pattern.name}.`}
        </p>
      )}
      <div class="row">
        <button type="button" onClick={() => change({ cuts: [...cuts, noCut] })}>
          another offset
        </button>
        <button type="button" onClick={makeLike}>
          like holes …
        </button>
        <button type="button" onClick={remove}>
          take away
        </button>
      </div>
    </>
  );
  const others = faults.filter(({ pointer }) => !shown.has(pointer));
  return (
    <fieldset class="entry feature" aria-label={`Feature ${draft.number}`} data-key={draft.key}>
      {card}
      {others.length > 0 && (
        <p class="fault">
          {others.map(({ pointer, detail }) => `${pointer.slice(1)}: ${detail}`).join("; ")}
        </p>
      )}
    </fieldset>
  );
}

/** Which way the offset moves this feature, as the service works it out. */
function Effect({
  cut,
  tried,
  offset,
}: {
  cut: CutDraft;
  tried: Tried | undefined;
  offset: { label: string; unit: string } | undefined;
}) {
  const [what, id] = cut.by.split(":");
  if (what === "tool") return <p class="sentence">No offset moves it: its tool gives the size.</p>;
  const effect = tried?.cut_by.find(({ register_id }) => register_id === id)?.effect;
  if (!offset || effect === undefined || effect === null) return null;
  const step = offset.unit === "inch" ? 0.001 : 0.01;
  return (
    <p class="sentence">
      Plus makes it <b>{effect > 0 ? "bigger" : "smaller"}</b>: {showSigned(step, offset.unit)} in{" "}
      {offset.label} changes it by {showSigned(effect * step, offset.unit)}.
    </p>
  );
}
