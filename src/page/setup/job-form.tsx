import { useEffect, useState } from "preact/hooks";
import type { components } from "../../../openapi/openapi.js";
import { api, ask } from "../client.js";
import { Choice, Text } from "../fields.js";
import { hrefOf } from "../route.js";
import type { Shop } from "../shop.js";
import { useSend } from "./use-send.js";

type Part = components["schemas"]["PartSummary"];

/** Opens a job: a part on a machine. */
export function JobForm({
  shop,
  parts,
  partId,
  isLost,
  saved,
}: {
  shop: Shop;
  parts: Part[];
  partId: string;
  isLost: boolean;
  saved: () => void;
}) {
  const [draft, setDraft] = useState({
    name: "",
    part: partId,
    machine: shop.machines.length === 1 ? shop.machines[0]!.machine_id : "",
    operation: "",
    quantity: "",
    seats: "",
  });
  const [operations, setOperations] = useState<string[]>([]);
  const { send, faultAt, fault, isBusy } = useSend();
  const set = (part: Partial<typeof draft>) => setDraft({ ...draft, ...part });
  useEffect(() => {
    if (draft.part === "") return;
    ask(api.GET("/v1/parts/{part_id}", { params: { path: { part_id: draft.part } } })).then(
      ({ features }) => setOperations([...new Set(features.flatMap(({ operation }) => operation ?? []))]),
      () => setOperations([]),
    );
  }, [draft.part]);
  const submit = () =>
    send(async () => {
      const seats = draft.seats
        .split(",")
        .map((seat) => seat.trim())
        .filter((seat) => seat !== "");
      const { batch_id } = await ask(
        api.POST("/v1/batches", {
          body: {
            name: draft.name.trim(),
            part_id: draft.part,
            machine_id: draft.machine,
            seats,
            ...(draft.operation !== "" && { operation: draft.operation }),
            ...(draft.quantity !== "" && { quantity: Number(draft.quantity) }),
          },
        }),
      );
      saved();
      location.hash = hrefOf("now", [batch_id]);
    });
  return (
    <form
      class="entry"
      aria-label="New job"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Text
        label="job, by its order number or name"
        value={draft.name}
        required
        type={(name) => set({ name })}
        fault={faultAt("/name")}
      />
      <Choice
        label="part"
        value={draft.part}
        words={Object.fromEntries([
          ["", "choose …"],
          ...parts.map(({ part_id, number, revision, name }) => [
            part_id,
            `${number} rev ${revision} ${name ?? ""}`,
          ]),
        ])}
        choose={(part) => set({ part, operation: "" })}
        fault={faultAt("/part_id")}
      />
      <Choice
        label="on machine"
        value={draft.machine}
        words={Object.fromEntries([
          ["", "choose …"],
          ...shop.machines.map(({ machine_id, name }) => [machine_id, name]),
        ])}
        choose={(machine) => set({ machine })}
        fault={faultAt("/machine_id")}
      />
      {operations.length > 0 && (
        <Choice
          label="operation"
          value={draft.operation}
          words={Object.fromEntries([["", "every feature"], ...operations.map((one) => [one, one])])}
          choose={(operation) => set({ operation })}
          fault={faultAt("/operation")}
        />
      )}
      <Text
        label="quantity"
        value={draft.quantity}
        numeric
        type={(quantity) => set({ quantity })}
        fault={faultAt("/quantity")}
      />
      <Text
        label="seats of the fixture in the order they are cut, such as A, B"
        value={draft.seats}
        type={(seats) => set({ seats })}
        fault={faultAt("/seats")}
      />
      <button type="submit" class="main" disabled={isLost || isBusy}>
        open the job
      </button>
      {fault && <p role="alert">{fault}</p>}
    </form>
  );
}

/** Closes a job: nothing more is cut in it. */
export function CloseJob({
  batchId,
  isLost,
  saved,
}: {
  batchId: string;
  isLost: boolean;
  saved: () => void;
}) {
  const [by, setBy] = useState("");
  const { send, fault, isBusy } = useSend();
  return (
    <form
      class="entry"
      onSubmit={(event) => {
        event.preventDefault();
        void send(async () => {
          await ask(
            api.POST("/v1/batches/{batch_id}/close", {
              params: { path: { batch_id: batchId } },
              body: { ...(by.trim() !== "" && { by: by.trim() }) },
            }),
          );
          saved();
          location.hash = hrefOf("setup");
        });
      }}
    >
      <p>Nothing more is cut in it after that, and open advice about its offsets is withdrawn.</p>
      <Text label="your name" value={by} required type={setBy} />
      <button type="submit" disabled={isLost || isBusy}>
        close the job
      </button>
      {fault && <p role="alert">{fault}</p>}
    </form>
  );
}
