import { useState } from "preact/hooks";
import { api, ask } from "../client.js";
import { Choice, Text } from "../fields.js";
import type { Shop } from "../shop.js";
import { show } from "../words.js";
import { numberOf, useSend } from "./use-send.js";

type Machine = Shop["machines"][number];

interface OffsetDraft {
  key: number;
  number: string;
  label: string;
  controls: string;
  holds: string;
  sign: string;
  value: string;
  most: string;
}

const controlsWords = {
  mill: { radial: "the cutter's radius or diameter", axial: "the tool's length" },
  lathe: {
    x: "x",
    z: "z",
    radial: "a driven cutter's radius or diameter",
    axial: "a driven cutter's length",
  },
};

/** Which way an offset of this kind moves what it cuts, in a sentence; the sign is that of the usual control. */
function explainOffset(
  { controls, holds, sign }: Pick<OffsetDraft, "controls" | "holds" | "sign">,
  unit: string,
): string {
  const step = unit === "inch" ? 0.001 : 0.01;
  const isReversed = sign === "reversed";
  const [more, less] = isReversed ? ["smaller", "bigger"] : ["bigger", "smaller"];
  const sized = show(step * (holds === "radius" ? 2 : 1), unit);
  const plus = `Plus ${show(step, unit)}`;
  if (controls === "radial") {
    return `${plus} makes an outside size cut on both sides ${sized} ${more}, and a slot, bore or pocket cut on both sides ${sized} ${less}.`;
  }
  if (controls === "x") return `${plus} makes every turned diameter, outside or inside, ${sized} ${more}.`;
  if (controls === "axial") {
    const [higher, deeper] = isReversed ? ["lower", "deeper"] : ["higher", "shallower"];
    return `${plus} makes a height ${show(step, unit)} ${higher} and a depth ${show(step, unit)} ${deeper}.`;
  }
  return "Which way z moves a length depends on its face: that is asked at each feature.";
}

const cautions = [
  "Read each value off the control's screen, with its sign: a wrong sign makes the next part worse, and can crash the tool.",
  "Enter the wear offset, not the geometry offset: compare number and label with the screen.",
  "Try the first change with a small plus on a piece that may be lost, and see that the size moves the way it says here.",
  "The machine maker's manual, the shop's rules and whoever answers for the machine come first.",
];

export function OffsetCautions() {
  return (
    <ul class="cautions" aria-label="Cautions">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}

let keys = 0;
function newOffset(machine: Machine, number: string, before: OffsetDraft[]): OffsetDraft {
  const controls = Object.keys(controlsWords[machine.kind])[Math.min(before.length, 1)]!;
  const holds = controls === "radial" || controls === "x" ? "" : "none";
  return { key: ++keys, number, label: "", controls, holds, sign: "normal", value: "", most: "" };
}

/** A tool with its offsets, labelled as the control shows them. */
export function ToolForm({
  machine,
  isLost,
  saved,
}: {
  machine: Machine;
  isLost: boolean;
  saved: (words: string) => void;
}) {
  const blank = {
    number: "",
    name: "",
    kind: machine.kind === "mill" ? "end_mill" : "turning",
    diameter: "",
    life: "",
  };
  const [draft, setDraft] = useState(blank);
  const [offsets, setOffsets] = useState<OffsetDraft[]>(() => [newOffset(machine, "", [])]);
  const { send, faultAt, fault, isBusy } = useSend();
  const set = (part: Partial<typeof draft>) => setDraft({ ...draft, ...part });
  const setOffset = (key: number, part: Partial<OffsetDraft>) =>
    setOffsets(offsets.map((one) => (one.key === key ? { ...one, ...part } : one)));
  const { unit } = machine;

  const submit = () =>
    send(async () => {
      const missing = offsets.find(({ holds }) => holds === "");
      if (missing)
        throw new Error(`Say whether ${missing.label || "the offset"} holds a radius or a diameter.`);
      await ask(
        api.POST("/v1/tools", {
          body: {
            machine_id: machine.machine_id,
            number: Number(draft.number),
            name: draft.name.trim(),
            kind: draft.kind,
            ...(draft.diameter !== "" && { nominal_diameter: numberOf(draft.diameter) }),
            ...(draft.life !== "" && { life_pieces: Number(draft.life) }),
            registers: offsets.map(({ number, label, controls, holds, sign, value, most }) => ({
              number: Number(number),
              label: label.trim(),
              controls: controls as "radial",
              ...(holds !== "none" && { holds: holds as "radius" }),
              sign: sign as "normal",
              value: numberOf(value),
              ...(most !== "" && { largest_total: numberOf(most) }),
            })),
          },
        }),
      );
      saved(`Tool ${draft.number} is set up.`);
      setDraft(blank);
      setOffsets([newOffset(machine, "", [])]);
    });

  return (
    <form
      class="entry"
      aria-label="New tool"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Text
        label="tool number"
        value={draft.number}
        numeric
        required
        type={(number) => set({ number })}
        fault={faultAt("/number")}
      />
      <Text
        label="what it is"
        value={draft.name}
        required
        type={(name) => set({ name })}
        fault={faultAt("/name")}
      />
      <Choice
        label="sort"
        value={draft.kind}
        words={{
          end_mill: "end mill",
          face_mill: "face mill",
          drill: "drill",
          reamer: "reamer",
          boring: "boring tool",
          turning: "turning tool",
          grooving: "grooving tool",
          tap: "tap",
          thread_mill: "thread mill",
          other: "other",
        }}
        choose={(kind) => set({ kind })}
      />
      <Text
        label={`diameter, ${unit}`}
        value={draft.diameter}
        numeric
        type={(diameter) => set({ diameter })}
        fault={faultAt("/nominal_diameter")}
      />
      <Text
        label="an edge lasts about … pieces"
        value={draft.life}
        numeric
        type={(life) => set({ life })}
        fault={faultAt("/life_pieces")}
      />
      {offsets.map((offset, index) => (
        <fieldset class="entry offset" key={offset.key} aria-label={`Offset ${index + 1}`}>
          <Text
            label="offset, as the control labels it"
            value={offset.label}
            required
            type={(label) => setOffset(offset.key, { label })}
            fault={faultAt(`/registers/${index}/label`)}
          />
          <Text
            label="its number"
            value={offset.number}
            numeric
            required
            type={(number) => setOffset(offset.key, { number })}
            fault={faultAt(`/registers/${index}/number`)}
          />
          <Choice
            label="it shifts"
            value={offset.controls}
            words={controlsWords[machine.kind]}
            choose={(controls) =>
              setOffset(offset.key, {
                controls,
                holds: controls === "radial" || controls === "x" ? "" : "none",
              })
            }
          />
          {offset.holds !== "none" && (
            <Choice
              label="the control holds a"
              value={offset.holds}
              words={{ "": "choose …", radius: "radius", diameter: "diameter" }}
              choose={(holds) => setOffset(offset.key, { holds })}
              fault={faultAt(`/registers/${index}/holds`)}
            />
          )}
          <Choice
            label="sign"
            value={offset.sign}
            words={{ normal: "usual", reversed: "reversed at this control" }}
            choose={(sign) => setOffset(offset.key, { sign })}
          />
          <Text
            label={`it shows now, ${unit}`}
            value={offset.value}
            numeric
            required
            type={(value) => setOffset(offset.key, { value })}
            fault={faultAt(`/registers/${index}/value`)}
          />
          <Text
            label={`most for one edge altogether, ${unit}`}
            value={offset.most}
            numeric
            type={(most) => setOffset(offset.key, { most })}
            fault={faultAt(`/registers/${index}/largest_total`)}
          />
          {offset.holds !== "" && <p class="sentence">{explainOffset(offset, unit)}</p>}
          <button type="button" onClick={() => setOffsets(offsets.filter(({ key }) => key !== offset.key))}>
            take this offset away
          </button>
        </fieldset>
      ))}
      <button type="button" onClick={() => setOffsets([...offsets, newOffset(machine, "", offsets)])}>
        add an offset
      </button>
      {offsets.length === 0 && <p>No offset moves what this tool cuts, as with a reamer.</p>}
      <OffsetCautions />
      <button type="submit" class="main" disabled={isLost || isBusy}>
        set the tool up
      </button>
      {fault && <p role="alert">{fault}</p>}
    </form>
  );
}
