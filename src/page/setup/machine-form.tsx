import { useState } from "preact/hooks";
import { api, ask } from "../client.js";
import { Choice, Text } from "../fields.js";
import { hrefOf } from "../route.js";
import { numberOf, useSend } from "./use-send.js";

/** A machine tool to be set up. */
export function MachineForm({ isLost, saved }: { isLost: boolean; saved: () => void }) {
  const [draft, setDraft] = useState({
    name: "",
    kind: "mill",
    unit: "mm",
    step: "",
    most: "",
    towards: "",
    line: "",
  });
  const { send, faultAt, fault, isBusy } = useSend();
  const set = (part: Partial<typeof draft>) => setDraft({ ...draft, ...part });
  const submit = () =>
    send(async () => {
      const { machine_id } = await ask(
        api.POST("/v1/machines", {
          body: {
            name: draft.name.trim(),
            kind: draft.kind as "mill",
            unit: draft.unit as "mm",
            least_increment: numberOf(draft.step),
            largest_change: numberOf(draft.most),
            ...(draft.towards !== "" && { largest_change_towards_work: numberOf(draft.towards) }),
            ...(draft.line.trim() !== "" && { line_template: draft.line.trim() }),
          },
        }),
      );
      saved();
      location.hash = hrefOf("setup", ["machine", machine_id]);
    });
  return (
    <form
      class="entry"
      aria-label="New machine"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Text
        label="name"
        value={draft.name}
        type={(name) => set({ name })}
        fault={faultAt("/name")}
        required
      />
      <Choice
        label="it is a"
        value={draft.kind}
        words={{ mill: "mill", lathe: "lathe" }}
        choose={(kind) => set({ kind })}
      />
      <Choice
        label="its control keeps offsets in"
        value={draft.unit}
        words={{ mm: "mm", inch: "inch" }}
        choose={(unit) => set({ unit })}
      />
      <Text
        label={`smallest step it takes, ${draft.unit}`}
        value={draft.step}
        numeric
        required
        type={(step) => set({ step })}
        fault={faultAt("/least_increment")}
      />
      <Text
        label={`most that one correction may change, ${draft.unit}`}
        value={draft.most}
        numeric
        required
        type={(most) => set({ most })}
        fault={faultAt("/largest_change")}
      />
      <Text
        label={`most towards the work, if less, ${draft.unit}`}
        value={draft.towards}
        numeric
        type={(towards) => set({ towards })}
        fault={faultAt("/largest_change_towards_work")}
      />
      <Text
        label="line that its control takes, with {register}, {change}; empty: keyed by hand"
        value={draft.line}
        wide
        type={(line) => set({ line })}
        fault={faultAt("/line_template")}
      />
      <button type="submit" class="main" disabled={isLost || isBusy}>
        set the machine up
      </button>
      {fault && <p role="alert">{fault}</p>}
    </form>
  );
}
