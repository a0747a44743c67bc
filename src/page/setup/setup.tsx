import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { components } from "../../../openapi/openapi.js";
import { api, ask, askAll } from "../client.js";
import { Choice, Text } from "../fields.js";
import { hrefOf } from "../route.js";
import type { ScreenProps, Shop } from "../shop.js";
import { show } from "../words.js";
import { GaugeForm } from "./gauge-form.js";
import { CloseJob, JobForm } from "./job-form.js";
import { MachineForm } from "./machine-form.js";
import { PartForm, type Tool } from "./part-form.js";
import { OffsetCautions, ToolForm } from "./tool-form.js";
import { numberOf, useSend } from "./use-send.js";

type Part = components["schemas"]["Part"];
type Register = components["schemas"]["MachineRegister"];

/** What the shop has set up besides what *Now* knows. */
async function loadSetup(shop: Shop) {
  const [tools, parts, registers, gauges, machines] = await Promise.all([
    askAll((cursor) => ask(api.GET("/v1/tools", { params: { query: { ...(cursor && { cursor }) } } }))),
    askAll((cursor) => ask(api.GET("/v1/parts", { params: { query: { ...(cursor && { cursor }) } } }))),
    Promise.all(shop.machines.map(({ machine_id }) => listRegisters(machine_id))),
    askAll((cursor) => ask(api.GET("/v1/gauges", { params: { query: { ...(cursor && { cursor }) } } }))),
    askAll((cursor) => ask(api.GET("/v1/machines", { params: { query: { ...(cursor && { cursor }) } } }))),
  ]);
  const now: Shop = { ...shop, machines, gauges: new Map(gauges.map((gauge) => [gauge.gauge_id, gauge])) };
  return { tools, parts, shop: now, workOffsets: registers.flat().filter(({ tool_id }) => tool_id === null) };
}

function listRegisters(machineId: string): Promise<Register[]> {
  return askAll((cursor) =>
    ask(
      api.GET("/v1/machines/{machine_id}/registers", {
        params: { path: { machine_id: machineId }, query: { ...(cursor && { cursor }) } },
      }),
    ),
  );
}

/** Machines, tools with their offsets, gauges, parts and jobs: everything that is entered before the first piece. */
export default function Setup({ route, shop: known, isLost }: ScreenProps) {
  const [state, setState] = useState<Awaited<ReturnType<typeof loadSetup>>>();
  const [fault, setFault] = useState("");
  const [round, again] = useState(0);
  useEffect(() => {
    loadSetup(known).then(setState, (error: Error) => setFault(error.message));
  }, [round, route.of.join("/"), known.machines.length]);
  const saved = () => again(round + 1);
  if (fault) return <p role="alert">{fault}</p>;
  if (!state) return <p>One moment …</p>;
  const [what = "", id = ""] = route.of;
  const { tools, parts, workOffsets, shop } = state;
  const title = (words: string) => (
    <h2 class="title">
      <a href={hrefOf("setup")}>Set-up</a> › {words}
    </h2>
  );

  if (what === "machine" && id === "new")
    return (
      <>
        {title("new machine")}
        <MachineForm isLost={isLost} saved={saved} />
      </>
    );
  const machine = shop.machines.find(({ machine_id }) => machine_id === id);
  if (what === "machine" && machine)
    return (
      <>
        {title(machine.name)}
        <MachineView
          machine={machine}
          tools={tools.filter(({ machine_id }) => machine_id === id)}
          workOffsets={workOffsets.filter(({ machine_id }) => machine_id === id)}
          isLost={isLost}
          saved={saved}
        />
      </>
    );
  if (what === "gauge")
    return (
      <>
        {title("new gauge")}
        <GaugeForm isLost={isLost} saved={saved} />
      </>
    );
  if (what === "part" && id === "new")
    return (
      <>
        {title("new part")}
        <PartForm shop={shop} tools={tools} workOffsets={workOffsets} isLost={isLost} saved={saved} />
      </>
    );
  if (what === "part")
    return (
      <PartView
        key={id}
        partId={id}
        isCopied={route.query.has("copy")}
        shop={shop}
        tools={tools}
        workOffsets={workOffsets}
        isLost={isLost}
        saved={saved}
      />
    );
  if (what === "job" && id === "new")
    return (
      <>
        {title("new job")}
        <JobForm
          shop={shop}
          parts={parts}
          partId={route.query.get("part") ?? ""}
          isLost={isLost}
          saved={saved}
        />
      </>
    );
  const job = known.batches.find(({ batch_id }) => batch_id === id);
  if (what === "job" && job)
    return (
      <>
        {title(`close ${job.name}`)}
        <CloseJob batchId={id} isLost={isLost} saved={saved} />
      </>
    );

  return (
    <>
      <h2 class="title">Set-up</h2>
      <div class="lists">
        <List title="Machines" add="a machine" href={hrefOf("setup", ["machine", "new"])}>
          {shop.machines.map(({ machine_id, name, kind }) => (
            <li key={machine_id}>
              <a href={hrefOf("setup", ["machine", machine_id])}>{name}</a>, {kind},{" "}
              {countTools(tools.filter((tool) => tool.machine_id === machine_id).length)}
            </li>
          ))}
        </List>
        <List title="Gauges" add="a gauge" href={hrefOf("setup", ["gauge", "new"])}>
          {[...shop.gauges.values()].map(({ gauge_id, name, resolution, unit, calibration_due }) => (
            <li key={gauge_id}>
              {name}
              {resolution !== null && `, shows ${show(resolution, unit)}`}
              {calibration_due && `, calibrated until ${calibration_due}`}
            </li>
          ))}
        </List>
        <List title="Parts" add="a part" href={hrefOf("setup", ["part", "new"])}>
          {[...parts].reverse().map(({ part_id, number, revision, name }) => (
            <li key={part_id}>
              <a href={hrefOf("setup", ["part", part_id])}>
                {number} rev {revision}
              </a>{" "}
              {name}
            </li>
          ))}
        </List>
        <List title="Jobs in work" add="a job" href={hrefOf("setup", ["job", "new"])}>
          {known.batches.map(({ batch_id, name, machine_id }) => (
            <li key={batch_id}>
              <a href={hrefOf("now", [batch_id])}>{name}</a> on{" "}
              {shop.machines.find((one) => one.machine_id === machine_id)?.name} ·{" "}
              <a href={hrefOf("setup", ["job", batch_id])}>close {name}</a>
            </li>
          ))}
        </List>
      </div>
    </>
  );
}

function countTools(count: number): string {
  return count === 1 ? "1 tool" : `${count} tools`;
}

function List(props: { title: string; add: string; href: string; children: ComponentChildren }) {
  return (
    <section aria-label={props.title}>
      <h3>{props.title}</h3>
      <ul>{props.children}</ul>
      <nav aria-label={`New in ${props.title}`}>
        <a href={props.href}>enter {props.add}</a>
      </nav>
    </section>
  );
}

interface MachineViewProps {
  machine: Shop["machines"][number];
  tools: Tool[];
  workOffsets: Register[];
  isLost: boolean;
  saved: () => void;
}

function MachineView({ machine, tools, workOffsets, isLost, saved }: MachineViewProps) {
  const [said, say] = useState("");
  return (
    <>
      <p>
        {machine.kind}, offsets in {machine.unit}, smallest step {show(machine.least_increment, machine.unit)}
        , at most {show(machine.largest_change, machine.unit)} for one correction
      </p>
      {said && <p role="status">{said}</p>}
      <ul>
        {tools.map(({ tool_id, number, name, registers }) => (
          <li key={tool_id}>
            tool {number} {name}
            {registers.map(({ register_id, label, holds, sign }) => (
              <span key={register_id}>
                {" "}
                <span class="label">{label}</span> {holds ?? ""} {sign === "reversed" && "sign reversed"}
              </span>
            ))}
          </li>
        ))}
        {workOffsets.map(({ register_id, label, seat }) => (
          <li key={register_id}>
            work offset <span class="label">{label}</span> {seat && `of seat ${seat}`}
          </li>
        ))}
      </ul>
      <h3>Another tool</h3>
      <ToolForm
        machine={machine}
        isLost={isLost}
        saved={(words) => {
          say(words);
          saved();
        }}
      />
      <details>
        <summary>A work offset, such as G54</summary>
        <WorkOffsetForm machine={machine} isLost={isLost} saved={saved} />
      </details>
    </>
  );
}

function WorkOffsetForm({ machine, isLost, saved }: Omit<MachineViewProps, "tools" | "workOffsets">) {
  const [draft, setDraft] = useState({ number: "", label: "", controls: "work_x", seat: "", value: "" });
  const { send, faultAt, fault, isBusy } = useSend();
  const set = (part: Partial<typeof draft>) => setDraft({ ...draft, ...part });
  return (
    <form
      class="entry"
      aria-label="New work offset"
      onSubmit={(event) => {
        event.preventDefault();
        void send(async () => {
          await ask(
            api.POST("/v1/machines/{machine_id}/registers", {
              params: { path: { machine_id: machine.machine_id } },
              body: {
                number: Number(draft.number),
                label: draft.label.trim(),
                controls: draft.controls as "work_x",
                value: numberOf(draft.value),
                ...(draft.seat.trim() !== "" && { seat: draft.seat.trim() }),
              },
            }),
          );
          saved();
        });
      }}
    >
      <Text
        label="as the control labels it"
        value={draft.label}
        required
        type={(label) => set({ label })}
        fault={faultAt("/label")}
      />
      <Text
        label="its number"
        value={draft.number}
        numeric
        required
        type={(number) => set({ number })}
        fault={faultAt("/number")}
      />
      <Choice
        label="it shifts the work along"
        value={draft.controls}
        words={{ work_x: "x", work_y: "y", work_z: "z" }}
        choose={(controls) => set({ controls })}
      />
      <Text
        label="of the seat, if one only"
        value={draft.seat}
        type={(seat) => set({ seat })}
        fault={faultAt("/seat")}
      />
      <Text
        label={`it shows now, ${machine.unit}`}
        value={draft.value}
        numeric
        required
        type={(value) => set({ value })}
        fault={faultAt("/value")}
      />
      <p class="sentence">Which way it moves a size is asked at each feature.</p>
      <OffsetCautions />
      <button type="submit" disabled={isLost || isBusy}>
        set the work offset up
      </button>
      {fault && <p role="alert">{fault}</p>}
    </form>
  );
}

interface PartViewProps {
  partId: string;
  isCopied: boolean;
  shop: Shop;
  tools: Tool[];
  workOffsets: Register[];
  isLost: boolean;
  saved: () => void;
}

/** A part as it is kept; or, copied, the form of its next revision. */
function PartView({ partId, isCopied, shop, tools, workOffsets, isLost, saved }: PartViewProps) {
  const [part, setPart] = useState<Part>();
  const [fault, setFault] = useState("");
  useEffect(() => {
    ask(api.GET("/v1/parts/{part_id}", { params: { path: { part_id: partId } } })).then(
      setPart,
      (error: Error) => setFault(error.message),
    );
  }, [partId]);
  if (fault) return <p role="alert">{fault}</p>;
  if (!part) return <p>One moment …</p>;
  const labels = new Map(
    [...tools.flatMap(({ registers }) => registers), ...workOffsets].map(({ register_id, label }) => [
      register_id,
      label,
    ]),
  );
  return (
    <>
      <h2 class="title">
        <a href={hrefOf("setup")}>Set-up</a> › {part.number} rev {part.revision}{" "}
        {isCopied && "› next revision"}
      </h2>
      {isCopied ? (
        <PartForm
          shop={shop}
          tools={tools}
          workOffsets={workOffsets}
          from={part}
          isLost={isLost}
          saved={saved}
        />
      ) : (
        <>
          <p>
            {part.name} {part.material && `, ${part.material}`}
          </p>
          <ul class="kept">
            {part.features.map((feature) => (
              <li key={feature.feature_id}>
                <b>{feature.characteristic}</b> {feature.name} {feature.nominal} {feature.unit}:{" "}
                {show(feature.lower_limit)} to {show(feature.upper_limit, feature.unit)}, aim{" "}
                {show(feature.target, feature.unit)}
                {feature.pattern &&
                  `, ${feature.pattern.order} of ${feature.pattern.of} ${feature.pattern.name}`}
                {feature.gauge_id && `, ${shop.gauges.get(feature.gauge_id)?.name}`}
                {feature.cut_by.map(({ register_id, effect }) =>
                  register_id === null || effect === null
                    ? ""
                    : `, plus in ${labels.get(register_id)} makes it ${effect > 0 ? "bigger" : "smaller"}`,
                )}
              </li>
            ))}
          </ul>
          <nav aria-label="With this part">
            <a href={hrefOf("setup", ["job", "new"], { part: partId })}>open a job of it</a>
            <a href={hrefOf("setup", ["part", partId], { copy: "1" })}>copy it as the next revision</a>
          </nav>
        </>
      )}
    </>
  );
}
