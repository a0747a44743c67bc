import { useEffect, useRef, useState } from "preact/hooks";
import type { components } from "../../../openapi/openapi.js";
import { api, ask, type Fault, Refused } from "../client.js";
import { Choice, Text } from "../fields.js";
import { hrefOf } from "../route.js";
import type { Shop } from "../shop.js";
import { FeatureCard, type Tried } from "./feature-card.js";
import {
  type FeatureDraft,
  fromKept,
  isBlank,
  type Kind,
  kindWords,
  likeFeatures,
  likeNumbers,
  newFeature,
  pasteRows,
  toSent,
} from "./feature-draft.js";
import { OffsetCautions } from "./tool-form.js";
import { useSend } from "./use-send.js";

type Part = components["schemas"]["Part"];
type PartSent = components["schemas"]["PartCreate"];
export type Tool = components["schemas"]["Tool"];
type Register = components["schemas"]["MachineRegister"];

interface PartFormProps {
  shop: Shop;
  tools: Tool[];
  workOffsets: Register[];
  /** The revision that is copied. */
  from?: Part;
  isLost: boolean;
  saved: (partId: string) => void;
}

interface Checked {
  tried: Map<number, Tried>;
  faults: Map<number, Fault[]>;
}

/** A part from its drawing: what stands in its title block, then feature after feature. */
export function PartForm({ shop, tools, workOffsets, from, isLost, saved }: PartFormProps) {
  const [head, setHead] = useState({
    number: from?.number ?? "",
    revision: "",
    name: from?.name ?? "",
    unit: from?.unit ?? "mm",
    material: from?.material ?? "",
    general: from?.general_tolerance ?? "",
    rule: from?.decision_rule ?? "simple",
  });
  const [features, setFeatures] = useState<FeatureDraft[]>(() =>
    from ? from.features.map((feature) => fromKept(feature, from)) : [{ ...newFeature(), number: "1" }],
  );
  const [like, setLike] = useState<FeatureDraft>();
  const [checked, setChecked] = useState<Checked>({ tried: new Map(), faults: new Map() });
  const [round, check] = useState(0);
  const [said, say] = useState("");
  const [focused, focus] = useState<number>();
  const list = useRef<HTMLDivElement>(null);
  const { send, faults, faultAt, fault, isBusy } = useSend();
  const set = (part: Partial<typeof head>) => setHead({ ...head, ...part });

  const cutters: Record<string, string> = { "": "nothing entered" };
  const offsets: Record<string, { label: string; unit: string }> = {};
  const gauges: Record<string, string> = { "": "not said" };
  for (const { tool_id, machine_id, number, name, unit, registers } of tools) {
    const machine = shop.machines.find((one) => one.machine_id === machine_id)?.name;
    const tool = `${shop.machines.length > 1 ? `${machine}, ` : ""}tool ${number}: ${name}`;
    for (const { register_id, label } of registers) {
      cutters[`register:${register_id}`] = `${label} (${tool})`;
      offsets[`register:${register_id}`] = { label, unit };
    }
    cutters[`tool:${tool_id}`] = `no offset, the tool gives the size (${tool})`;
  }
  for (const { register_id, label, unit } of workOffsets) {
    cutters[`register:${register_id}`] = `${label} (work offset)`;
    offsets[`register:${register_id}`] = { label, unit };
  }
  for (const [id, { name }] of shop.gauges) gauges[id] = name;

  const toPart = (drafts: FeatureDraft[]): PartSent => ({
    number: head.number.trim() || "?",
    revision: head.revision.trim() || "?",
    unit: head.unit,
    decision_rule: head.rule,
    guard_band_factor: from?.guard_band_factor ?? 1,
    risk: from?.risk ?? 0.005,
    largest_interval: from?.largest_interval ?? 10,
    ...(head.name.trim() !== "" && { name: head.name.trim() }),
    ...(head.material.trim() !== "" && { material: head.material.trim() }),
    ...(from?.expansion_from === "given" && {
      expansion_coefficient: from.expansion_coefficient,
      ...(from.expansion_uncertainty !== null && { expansion_uncertainty: from.expansion_uncertainty }),
    }),
    ...(head.general !== "" && { general_tolerance: head.general as "m" }),
    ...(from?.title_block && head.general === "" && { title_block: from.title_block }),
    features: drafts.map(toSent),
  });

  // What was left is tried; a feature is not called wrong while it is still being typed.
  useEffect(() => {
    let isLate = false;
    const timer = setTimeout(() => {
      const drafts = features.filter((one) => !isBlank(one));
      tryFeatures(drafts, toPart).then(
        (answer) => isLate || setChecked(answer),
        () => undefined,
      );
    }, 300);
    return () => {
      isLate = true;
      clearTimeout(timer);
    };
  }, [round, features.length, head.unit, head.general]);

  useEffect(() => {
    if (focused === undefined) return;
    list.current?.querySelector<HTMLInputElement>(`[data-key="${focused}"] [data-field="number"]`)?.focus();
    focus(undefined);
  }, [focused]);

  const change = (key: number, part: Partial<FeatureDraft>) =>
    setFeatures((all) => all.map((one) => (one.key === key ? { ...one, ...part } : one)));
  const toNext = (key: number) => {
    const index = features.findIndex((one) => one.key === key);
    const next = features[index + 1] ?? newFeature(features[index]);
    if (!features[index + 1]) setFeatures([...features, next]);
    check((before) => before + 1);
    focus(next.key);
  };
  const paste = (key: number, text: string): boolean => {
    const index = features.findIndex((one) => one.key === key);
    const at = features[index];
    const rows = pasteRows(text, features[index - 1]);
    if (!at || !rows) return false;
    setFeatures([...features.slice(0, index), ...rows, ...features.slice(isBlank(at) ? index + 1 : index)]);
    check((before) => before + 1);
    say(
      `${rows.length} features pasted. Compare the limits beside each with the drawing: two deviations without signs were taken as plus and minus. Choose each one's kind.`,
    );
    return true;
  };
  const submit = () =>
    send(async () => {
      const drafts = features.filter((one) => !isBlank(one));
      const body = toPart(drafts);
      try {
        const part = await ask(
          api.POST("/v1/parts", {
            body: { ...body, number: head.number.trim(), revision: head.revision.trim() },
          }),
        );
        saved(part.part_id);
        location.hash = hrefOf("setup", ["part", part.part_id]);
      } catch (error) {
        if (error instanceof Refused) setChecked({ ...checked, faults: byFeature(drafts, error.faults) });
        throw error;
      }
    });
  const noKind = features.filter((one) => one.kind === "" && !isBlank(one));

  return (
    <form
      class="entry"
      aria-label={from ? `New revision of ${from.number}` : "New part"}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Text
        label="drawing number"
        value={head.number}
        required
        type={(number) => set({ number })}
        fault={faultAt("/number")}
      />
      <Text
        label="revision"
        value={head.revision}
        required
        type={(revision) => set({ revision })}
        fault={faultAt("/revision")}
      />
      <Text label="name" value={head.name} type={(name) => set({ name })} fault={faultAt("/name")} />
      <Choice
        label="drawing is in"
        value={head.unit}
        words={{ mm: "mm", inch: "inch" }}
        choose={(unit) => set({ unit: unit as "mm" })}
      />
      <Text
        label="material"
        value={head.material}
        type={(material) => set({ material })}
        fault={faultAt("/material")}
      />
      <Text
        label="general tolerance: ISO 2768-"
        value={head.general}
        type={(general) => set({ general: general.trim() as "m" })}
        fault={faultAt("/general_tolerance")}
      />
      <Choice
        label="a reading near a limit"
        value={head.rule}
        words={{
          simple: "counts as it reads",
          guarded_acceptance: "is good only if surely inside",
          guarded_rejection: "is bad only if surely outside",
          iso_14253: "is too close to call (ISO 14253-1)",
        }}
        choose={(rule) => set({ rule: rule as "simple" })}
      />
      <h3 class="wide">Features</h3>
      <p class="wide">
        Enter goes on to the next feature. Rows of a spreadsheet may be pasted into any field: number, name if
        any, nominal, then ± or a fit, or + and −.
      </p>
      {said && (
        <p class="wide" role="status">
          {said}
        </p>
      )}
      {noKind.length > 1 && (
        <Choice
          label={`kind of all ${noKind.length} that have none`}
          value=""
          words={kindWords}
          choose={(kind) => {
            setFeatures(features.map((one) => (noKind.includes(one) ? { ...one, kind: kind as Kind } : one)));
            check((before) => before + 1);
          }}
        />
      )}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: hears what its fields are given, and does nothing by itself */}
      <div
        class="wide features"
        ref={list}
        onFocusOut={() => check((before) => before + 1)}
        onChange={() => check((before) => before + 1)}
        onKeyDown={(event) => {
          const target = event.target as HTMLElement;
          if (event.key !== "Enter" || target.tagName !== "INPUT") return;
          const key = Number(target.closest<HTMLElement>("[data-key]")?.dataset.key);
          if (!key) return;
          event.preventDefault();
          toNext(key);
        }}
        onPaste={(event) => {
          const target = event.target as HTMLElement;
          const key = Number(target.closest<HTMLElement>("[data-key]")?.dataset.key);
          if (paste(key, event.clipboardData?.getData("text/plain") ?? "")) event.preventDefault();
        }}
      >
        {features.map((draft) => (
          <FeatureCard
            key={draft.key}
            draft={draft}
            unit={head.unit}
            cutters={cutters}
            offsets={offsets}
            gauges={gauges}
            tried={checked.tried.get(draft.key)}
            faults={checked.faults.get(draft.key) ?? []}
            change={(part) => change(draft.key, part)}
            remove={() => setFeatures(features.filter(({ key }) => key !== draft.key))}
            makeLike={() => setLike(draft)}
          />
        ))}
      </div>
      {like && (
        <LikeHoles
          one={like}
          done={(made) => {
            setLike(undefined);
            if (!made) return;
            setFeatures(features.flatMap((one) => (one.key === like.key ? made : [one])));
            say(`${made.length} features in place of ${like.number}.`);
            check((before) => before + 1);
          }}
        />
      )}
      <button
        type="button"
        onClick={() => {
          const next = newFeature(features.at(-1));
          setFeatures([...features, next]);
          focus(next.key);
        }}
      >
        add a feature
      </button>
      <OffsetCautions />
      <button type="submit" class="main" disabled={isLost || isBusy}>
        set the part up
      </button>
      {fault && (
        <p role="alert">
          {faults.some(({ pointer }) => pointer.startsWith("/features/"))
            ? "Not set up: something is wrong with a feature. It is said at its fields."
            : fault}
        </p>
      )}
    </form>
  );
}

/** Ten like holes in one go. */
function LikeHoles({ one, done }: { one: FeatureDraft; done: (made?: FeatureDraft[]) => void }) {
  const [name, setName] = useState(one.name === "" ? "holes" : one.name);
  const [count, setCount] = useState("10");
  const [style, setStyle] = useState<"dotted" | "running">("dotted");
  const n = Number(count);
  const numbers =
    Number.isInteger(n) && n >= 2 && n <= 500 ? likeNumbers(one.number.trim(), n, style) : undefined;
  return (
    <fieldset class="entry like" aria-label={`Like ${one.number}`}>
      <Text label="how many alike" value={count} numeric type={setCount} />
      <Text label="together they are called" value={name} type={setName} />
      <Choice
        label="numbered"
        value={style}
        words={{ dotted: `${one.number}.1, ${one.number}.2 …`, running: `${one.number} and on` }}
        choose={(chosen) => setStyle(chosen as "dotted")}
      />
      <p class="sentence">
        {numbers
          ? `${numbers[0]} to ${numbers.at(-1)}, in the order in which the tool makes them.`
          : "That makes no numbers: give it a number, and 2 to 500 of them."}
      </p>
      <button
        type="button"
        disabled={!numbers || name.trim() === ""}
        onClick={() => numbers && done(likeFeatures(one, name.trim(), numbers))}
      >
        make them
      </button>
      <button type="button" onClick={() => done()}>
        not now
      </button>
    </fieldset>
  );
}

/** Faults by the feature that they are of, their pointers from there. */
function byFeature(drafts: FeatureDraft[], faults: readonly Fault[]): Map<number, Fault[]> {
  const found = new Map<number, Fault[]>();
  for (const { pointer, detail } of faults) {
    const [, index, rest] = /^\/features\/(\d+)(.*)$/.exec(pointer) ?? [];
    const key = drafts[Number(index)]?.key;
    if (key !== undefined) found.set(key, [...(found.get(key) ?? []), { pointer: rest ?? "", detail }]);
  }
  return found;
}

/** What the service makes of the features; those that it refuses keep the others from being tried no longer than once. */
async function tryFeatures(
  drafts: FeatureDraft[],
  toPart: (drafts: FeatureDraft[]) => PartSent,
): Promise<Checked> {
  const faults = new Map<number, Fault[]>();
  let rest = drafts;
  // Form first, then sense: the service answers the faults of the one before it looks for the other.
  for (let round = 0; round < 3 && rest.length > 0; round++) {
    const now = rest;
    try {
      const { features } = await ask(api.POST("/v1/parts/trials", { body: toPart(now) }));
      return { faults, tried: new Map(now.map(({ key }, i) => [key, features[i]!])) };
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      const found = byFeature(now, error.faults);
      if (found.size === 0) break;
      for (const [key, all] of found) faults.set(key, all);
      rest = now.filter(({ key }) => !found.has(key));
    }
  }
  return { faults, tried: new Map() };
}
