import { fromNumeric, parseLength, toUnit } from "../../core/quantity.js";
import type { Trx } from "../../db/client.js";
import { valueAt } from "../../decision/batch-view.js";
import { explainLargeChange } from "../../decision/check-change.js";
import { enterEdge } from "../../decision/enter-edge.js";
import { nextStep } from "../../decision/next-step.js";
import { openChange } from "../../decision/open-change.js";
import { enterRegisters } from "../../decision/register-entries.js";
import { listCurrentEdges, listCurrentValues } from "../../decision/register-queries.js";
import { replan } from "../../decision/replan.js";
import { setUpTool } from "../../decision/set-up-tool.js";
import { storeLength } from "../../http/lengths.js";
import { type FieldError, ProblemError, problemAt } from "../../http/problem.js";
import { findMachine, keepAsset, listTools, type ProposalRow, updateTool } from "./queries.js";
import type { Change, Choice, Done, Field, Item, ToolProposal, ToolProposalAccept } from "./schemas.js";

type Machine = NonNullable<Awaited<ReturnType<typeof findMachine>>>;
type Next = ToolProposal["next"];

/** A change that was chosen, with what the person has said beside it. */
interface Chosen {
  item: Item;
  change: Change;
  choice: Choice;
  pointer: string;
}

/** Tools first, so that edges and values are entered on what they have become. */
const order: Field[] = ["tool", "nominal_diameter", "life_pieces", "edge", "value_found"];

/**
 * Makes the changes that a person has chosen, all of them or none.
 * @throws {ProblemError} where a choice is not among what is proposed, lacks something, or what it would change has changed
 */
export async function acceptChoices(
  trx: Trx,
  proposal: ProposalRow,
  { choices, by }: ToolProposalAccept,
): Promise<{ done: Done[]; next: Next }> {
  const items = proposal.items as Item[];
  const chosen = choose(items, choices);
  const machine = await findMachine(trx, proposal.machine_id);
  if (!machine) throw new Error(`machine ${proposal.machine_id} is not there`);
  await refuseStale(trx, machine, chosen);
  const done: Done[] = [];
  const next = new Map<string, Next[number]["next"]>();
  for (const field of order) {
    for (const one of chosen.filter(({ change }) => change.field === field)) {
      done.push(await make(trx, machine, one, { by, done, next }));
    }
  }
  await keepAssets(trx, machine, chosen, done);
  return { done, next: [...next].map(([batch_id, step]) => ({ batch_id, next: step })) };
}

function choose(items: readonly Item[], choices: readonly Choice[]): Chosen[] {
  const errors: FieldError[] = [];
  const chosen: Chosen[] = [];
  choices.forEach((choice, i) => {
    const pointer = `/choices/${i}`;
    const item = items.find((one) => one.item === choice.item);
    if (!item) {
      errors.push({
        pointer: `${pointer}/item`,
        detail: `is none of its items, which are 1 to ${items.length}`,
      });
      return;
    }
    if (choices.findIndex((other) => other.item === choice.item) < i) {
      errors.push({ pointer: `${pointer}/item`, detail: "stands here twice: put its fields together" });
    }
    for (const [k, field] of choice.fields.entries()) {
      const at = `${pointer}/fields/${k}`;
      const change = item.changes.find((one) => one.field === field);
      if (choice.fields.indexOf(field) < k) errors.push({ pointer: at, detail: "stands here twice" });
      else if (!change) {
        const there = item.changes.map((one) => one.field);
        errors.push({
          pointer: at,
          detail: `is not proposed for item ${item.item}: ${there.length > 0 ? `that is ${there.join(", ")}` : "nothing is"}`,
        });
      } else if ((field === "tool" || field === "edge" || field === "value_found") && !choice[field]) {
        errors.push({ pointer: `${pointer}/${field}`, detail: missing[field] });
      } else chosen.push({ item, change, choice, pointer });
    }
    for (const field of ["tool", "edge", "value_found"] as const) {
      if (choice[field] && !choice.fields.includes(field)) {
        errors.push({
          pointer: `${pointer}/${field}`,
          detail: `is of no use without "${field}" among the fields`,
        });
      }
    }
    const isNew = item.changes.some(({ field }) => field === "tool");
    if (isNew && !choice.fields.includes("tool")) {
      errors.push({
        pointer: `${pointer}/fields`,
        detail: 'is about a tool that is not set up: choose "tool" too',
      });
    }
  });
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  return chosen;
}

const missing = {
  tool: "is missing: say what sort of tool it is, and its registers",
  edge: "is missing: say in which batch it counts, why it was changed, and what every register of the tool holds",
  value_found: "is missing: say in which batch it counts, and from which piece on",
};

/** What has changed since the proposal was made is not overwritten. */
async function refuseStale(trx: Trx, machine: Machine, chosen: readonly Chosen[]): Promise<void> {
  const tools = await listTools(trx, machine.machine_id);
  const values = await listCurrentValues(trx, machine.machine_id);
  const edges = await listCurrentEdges(trx, machine.machine_id);
  const errors: FieldError[] = [];
  for (const { item, change, choice, pointer } of chosen) {
    const tool = tools.find(({ tool_id }) => tool_id === item.tool_id);
    const value = values.find(({ register_id }) => register_id === item.register_id);
    const size = (mm: string | null | undefined) =>
      mm == null ? null : toUnit(fromNumeric(mm), machine.unit);
    const number = choice.tool?.number ?? item.tool_number;
    const now = {
      tool: tools.find((one) => one.number === number)?.name ?? null,
      nominal_diameter: size(tool?.nominal_diameter_mm),
      life_pieces: tool?.life_pieces ?? null,
      edge: edges.find(({ tool_id }) => tool_id === item.tool_id)?.number ?? null,
      value_found: size(value?.value_mm),
    }[change.field];
    if (now === change.from) continue;
    errors.push({
      pointer,
      detail: `${change.field} of item ${item.item} is ${now ?? "not there"} by now, and was ${change.from ?? "not there"} when this was proposed: send the document again and look at it afresh`,
    });
  }
  if (errors.length > 0) throw problemAt("conflict", errors);
}

interface Made {
  by: string;
  done: readonly Done[];
  next: Map<string, Next[number]["next"]>;
}

async function make(trx: Trx, machine: Machine, chosen: Chosen, made: Made): Promise<Done> {
  const { item, change } = chosen;
  const nothing: Done = {
    item: item.item,
    field: change.field,
    tool_id: null,
    edge_id: null,
    entry_id: null,
  };
  const toolId = item.tool_id ?? made.done.find((one) => one.item === item.item)?.tool_id ?? null;
  switch (change.field) {
    case "tool":
      return { ...nothing, tool_id: await makeTool(trx, machine, chosen) };
    case "nominal_diameter":
      await updateTool(trx, toolId!, { nominal_diameter_mm: storeLength(change.to, machine.unit) });
      return { ...nothing, tool_id: toolId };
    case "life_pieces":
      await updateTool(trx, toolId!, { life_pieces: Number(change.to) });
      return { ...nothing, tool_id: toolId };
    case "edge":
      return { ...nothing, tool_id: toolId, edge_id: await makeEdge(trx, machine, chosen, made) };
    case "value_found":
      return { ...nothing, tool_id: toolId, entry_id: await makeEntry(trx, machine, chosen, made) };
  }
}

async function makeTool(trx: Trx, machine: Machine, { item, choice, pointer }: Chosen): Promise<string> {
  const { number = item.tool_number, name = item.tool_name!, kind, registers } = choice.tool!;
  if (number === null) {
    throw problemAt("unprocessable", [
      { pointer: `${pointer}/tool/number`, detail: "is missing: the document says no tool number" },
    ]);
  }
  const body = { machine_id: machine.machine_id, number, name, kind, registers };
  return await setUpTool(trx, body, `${pointer}/tool`);
}

async function makeEdge(trx: Trx, machine: Machine, chosen: Chosen, { by, next }: Made): Promise<string> {
  const { item, choice, pointer } = chosen;
  const tool = {
    tool_id: item.tool_id!,
    number: item.tool_number!,
    name: item.tool_name!,
    machine_id: machine.machine_id,
    machine_name: machine.name,
    unit: machine.unit,
  };
  const body = { ...choice.edge!, by };
  const { edge, at, after } = await within(`${pointer}/edge`, () => enterEdge(trx, tool, body));
  next.set(at.batchId, nextStep(after.view, after.open, after.view.lastPieceCut, []));
  return edge.edge_id;
}

async function makeEntry(trx: Trx, machine: Machine, chosen: Chosen, { by, next }: Made): Promise<string> {
  const { item, change, choice, pointer } = chosen;
  const { confirmed, ...where } = choice.value_found!;
  const named = { machine_id: machine.machine_id, machine_name: machine.name };
  const { view, at, elsewhere, from } = await within(`${pointer}/value_found`, () =>
    openChange(trx, named, where),
  );
  const registerId = item.register_id!;
  const valuePm = parseLength(change.to, machine.unit)!;
  const beforePm = valueAt(view, registerId, at.fromPiece, at.fromCut);
  const tooLarge = confirmed
    ? undefined
    : explainLargeChange(view.machine, item.register_label!, valuePm, beforePm);
  if (tooLarge !== undefined) {
    throw problemAt("unprocessable", [{ pointer: `${pointer}/value_found`, detail: tooLarge }]);
  }
  const about = {
    origin: "found",
    reason: change.why,
    correction_no: null,
    edge_id: null,
    by_name: by,
  } as const;
  const [entry] = await enterRegisters(trx, at, elsewhere, [{ registerId, valuePm }], about);
  const replanned = (await replan(trx, from)).get(at.batchId);
  if (!entry || !replanned) throw new Error(`entry of register ${registerId} is not there`);
  next.set(at.batchId, nextStep(replanned.view, replanned.open, replanned.view.lastPieceCut, []));
  return entry.entry_id;
}

/** Points faults of a part of a request to where that part stands. */
async function within<T>(pointer: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof ProblemError) || !error.errors) throw error;
    throw problemAt(
      error.type,
      error.errors.map((fault) => ({ ...fault, pointer: `${pointer}${fault.pointer}` })),
    );
  }
}

/** From now on these assets are known to be these tools. */
async function keepAssets(
  trx: Trx,
  machine: Machine,
  chosen: readonly Chosen[],
  done: readonly Done[],
): Promise<void> {
  const items = new Set(chosen.map(({ item }) => item));
  for (const { item, asset, tool_id } of items) {
    const toolId = tool_id ?? done.find((one) => one.item === item)?.tool_id;
    if (!asset || !toolId) continue;
    await keepAsset(trx, {
      machine_id: machine.machine_id,
      asset_id: asset.asset_id,
      tool_id: toolId,
      serial: asset.serial,
    });
  }
}
