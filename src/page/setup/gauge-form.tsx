import { useState } from "preact/hooks";
import { api, ask } from "../client.js";
import { Choice, Text } from "../fields.js";
import { hrefOf } from "../route.js";
import { numberOf, useSend } from "./use-send.js";

const kindWords = {
  micrometer: "micrometer",
  calliper: "calliper",
  bore_gauge: "bore gauge",
  height_gauge: "height gauge",
  plug_gauge: "plug gauge",
  ring_gauge: "ring gauge",
  snap_gauge: "snap gauge",
  thread_gauge: "thread gauge",
  protractor: "protractor",
  roughness_tester: "roughness tester",
  form_tester: "form tester",
  machine_probe: "probe in the machine",
  coordinate_machine: "coordinate measuring machine",
  other: "other",
} as const;

export function GaugeForm({ isLost, saved }: { isLost: boolean; saved: () => void }) {
  const [draft, setDraft] = useState({
    name: "",
    kind: "micrometer",
    unit: "mm",
    resolution: "",
    repeatability: "",
    uncertainty: "",
    due: "",
    reads: "size",
    master: "",
    sense: "normal",
  });
  const { send, faultAt, fault, isBusy } = useSend();
  const set = (part: Partial<typeof draft>) => setDraft({ ...draft, ...part });
  const isDeviation = draft.reads === "deviation";
  const submit = () =>
    send(async () => {
      await ask(
        api.POST("/v1/gauges", {
          body: {
            name: draft.name.trim(),
            kind: draft.kind as "micrometer",
            unit: draft.unit as "mm",
            coverage_factor: 2,
            reads: draft.reads as "size",
            ...(draft.resolution !== "" && { resolution: numberOf(draft.resolution) }),
            ...(draft.repeatability !== "" && { repeatability: numberOf(draft.repeatability) }),
            ...(draft.uncertainty !== "" && { expanded_uncertainty: numberOf(draft.uncertainty) }),
            ...(draft.due !== "" && { calibration_due: draft.due }),
            ...(isDeviation && { master_size: numberOf(draft.master), sense: draft.sense as "normal" }),
          },
        }),
      );
      saved();
      location.hash = hrefOf("setup");
    });
  return (
    <form
      class="entry"
      aria-label="New gauge"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Text
        label="name"
        value={draft.name}
        required
        type={(name) => set({ name })}
        fault={faultAt("/name")}
      />
      <Choice
        label="it is a"
        value={draft.kind}
        words={kindWords}
        choose={(kind) => set({ kind })}
        fault={faultAt("/kind")}
      />
      <Choice
        label="it reads in"
        value={draft.unit}
        words={{ mm: "mm", inch: "inch", deg: "degrees" }}
        choose={(unit) => set({ unit })}
      />
      <Text
        label={`smallest step it shows, ${draft.unit}`}
        value={draft.resolution}
        numeric
        type={(resolution) => set({ resolution })}
        fault={faultAt("/resolution")}
      />
      <Choice
        label="it shows"
        value={draft.reads}
        words={{ size: "the size", deviation: "the deviation from its master" }}
        choose={(reads) => set({ reads })}
      />
      {isDeviation && (
        <>
          <Text
            label={`size of its master, ${draft.unit}`}
            value={draft.master}
            numeric
            required
            type={(master) => set({ master })}
            fault={faultAt("/master_size")}
          />
          <Choice
            label="a larger piece makes it show"
            value={draft.sense}
            words={{ normal: "more", reversed: "less" }}
            choose={(sense) => set({ sense })}
          />
        </>
      )}
      <Text
        label={`expanded uncertainty U (k = 2), ${draft.unit}`}
        value={draft.uncertainty}
        numeric
        type={(uncertainty) => set({ uncertainty })}
        fault={faultAt("/expanded_uncertainty")}
      />
      <Text
        label={`standard deviation of repeated readings, ${draft.unit}`}
        value={draft.repeatability}
        numeric
        type={(repeatability) => set({ repeatability })}
        fault={faultAt("/repeatability")}
      />
      <label>
        calibrated until
        <input
          type="date"
          value={draft.due}
          aria-invalid={faultAt("/calibration_due") !== undefined}
          onInput={(event) => set({ due: event.currentTarget.value })}
        />
        {faultAt("/calibration_due") && <span class="fault">{faultAt("/calibration_due")}</span>}
      </label>
      <button type="submit" class="main" disabled={isLost || isBusy}>
        set the gauge up
      </button>
      {fault && <p role="alert">{fault}</p>}
    </form>
  );
}
