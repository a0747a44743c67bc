import type { Reading, Wear } from "./client.js";
import type { Shift } from "./shift.js";
import type { Shop } from "./shop.js";
import { sayLength, type Teller } from "./tell.js";

const rules: Record<string, string> = {
  simple: "a size inside or on its limits is in tolerance",
};

/** The shop as the service has it. */
export function showShop(tell: Teller, shop: Shop): void {
  const { part, batches, machines, gauges, tools } = shop;
  const cutToSize = part.features.filter(({ operation }) => operation !== "30");
  tell.heading("A shop of our own invention, as the service has it");
  tell.table(
    ["machine", "tool", "wear registers"],
    Object.values(tools).map((tool) => [
      Object.values(machines).find(({ machine_id }) => machine_id === tool.machine_id)!.name,
      `${tool.number} ${tool.name}`,
      tool.registers.map(({ label }) => label).join(", ") || "none: it cuts its own size",
    ]),
  );
  const gaugeOf = new Map(Object.values(gauges).map(({ gauge_id, name }) => [gauge_id, name]));
  const labels = new Map([...shop.registers].map(([label, { register_id }]) => [register_id, label]));
  tell.line();
  tell.table(
    ["feature", ">lower limit", ">upper limit", "gauge", "+0.010 mm keyed"],
    cutToSize.map((feature) => {
      const [cut] = feature.cut_by;
      const moved = cut?.register_id
        ? `${labels.get(cut.register_id)}: ${sayLength(0.01 * (cut.effect ?? 0), part.unit, true)}`
        : "no register moves it";
      return [
        `${feature.characteristic} ${feature.name}${feature.importance === "critical" ? " (critical)" : ""}`,
        sayLength(feature.lower_limit!, part.unit),
        sayLength(feature.upper_limit!, part.unit),
        gaugeOf.get(feature.gauge_id!) ?? "",
        moved,
      ];
    }),
  );
  tell.line();
  const rule = `${part.decision_rule} (${rules[part.decision_rule]})`;
  tell.say(`Part ${part.number} revision ${part.revision}, ${part.name}; decision rule: ${rule}.`);
  tell.say(
    `Batch ${batches.lathe.name} turns features 1 to 3 on ${machines.lathe.name}, batch ${batches.mill.name} mills the others on ${machines.mill.name}.`,
  );
  const rest = part.features.length - cutToSize.length;
  tell.say(
    `The drawing asks for ${rest} characteristics more, which no register moves; a batch of their own looks at them in scene 11.`,
  );
}

/** Sizes of a log: a row per feature, a column per piece. */
export function showSizes(shift: Shift, tell: Teller, readings: readonly Reading[]): void {
  const pieces = [...new Set(readings.map(({ piece }) => piece))].sort((a, b) => a - b);
  const features = [...new Set(readings.map(({ feature_id }) => feature_id))];
  const rows = features.map((featureId) => [
    shift.nameFeature(featureId),
    ...pieces.map((piece) => {
      const found = readings.find((one) => one.piece === piece && one.feature_id === featureId);
      return found ? sayLength(found.size, found.size_unit) : "";
    }),
  ]);
  tell.line();
  tell.table(["feature", ...pieces.map((piece) => `>piece ${piece}`)], rows);
}

/** What is due next in a batch, and why the rest is not. */
export async function showPlan(shift: Shift, tell: Teller, place: "mill" | "lathe"): Promise<void> {
  const soonest = await shift.checks(place);
  const [later] = soonest.next_pieces;
  const plan =
    soonest.features.length > 0 || later === undefined ? soonest : await shift.checks(place, later);
  const { batches, machines } = shift.shop;
  tell.line();
  tell.line(
    `    Check plan of batch ${batches[place].name} on ${machines[place].name}: piece ${plan.piece} is next.`,
  );
  const measured = grouped(
    plan.features.map(({ feature_id, why }) => ({ name: shift.nameFeature(feature_id), why })),
  );
  const left = grouped(
    plan.left_out.map(({ feature_id, why }) => ({ name: shift.nameFeature(feature_id), why })),
  );
  tell.list([
    ...measured.map(([why, names]) => `measure ${names}: ${why}`),
    ...left.map(([why, names]) => `not ${names}: ${why}`),
    ...(plan.next_pieces.length > 0
      ? [`after it, if all goes well: pieces ${plan.next_pieces.join(", ")}`]
      : []),
  ]);
}

function grouped(items: readonly { name: string; why: string }[]): [string, string][] {
  const reasons = [...new Set(items.map(({ why }) => why))];
  return reasons.map((why) => [
    why,
    items.flatMap((item) => (item.why === why ? [item.name] : [])).join(", "),
  ]);
}

function sayRate({ wear_rate_per_piece: rate, unit }: Wear["registers"][number]): string {
  if (rate === null) return "-";
  const perPiece = unit === "mm" ? `${(1000 * rate).toFixed(2)} um` : `${rate.toFixed(6)} ${unit}`;
  return perPiece.replace(/^-(?=[0.]+ )/, "");
}

/** What registers hold, how they wear and where a fresh edge should start. */
export function showWear(tell: Teller, tools: readonly Wear[]): void {
  const head = [
    "register",
    ">edge",
    ">pieces",
    ">holds",
    ">since edge",
    ">per piece",
    ">to limit",
    ">fresh edge",
    ">safe start",
  ];
  const rows = tools.flatMap(({ edge, registers }) =>
    registers.map((one) => [
      one.label,
      String(edge.number),
      String(edge.pieces_cut),
      sayLength(one.value_now, one.unit, true),
      sayLength(one.cumulative_change, one.unit, true),
      sayRate(one),
      one.pieces_to_limit === null ? "not seen" : `${one.pieces_to_limit} pieces`,
      one.proposed_start === null ? "-" : sayLength(one.proposed_start, one.unit, true),
      one.safe_start === null ? "-" : sayLength(one.safe_start, one.unit, true),
    ]),
  );
  tell.line();
  tell.table(head, rows);
}
