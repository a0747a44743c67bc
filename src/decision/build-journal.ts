import type { Selectable } from "kysely";
import { isSize } from "../core/feature-kind.js";
import { fromNumeric } from "../core/quantity.js";
import type { Block } from "../core/wear-offset/block.js";
import { type BlockEvent, type Journal, type RegisterChange, wearOf } from "../core/wear-offset/progress.js";
import type { BatchStart, Database } from "../db/schema.js";
import type { BatchRows, StoredCause } from "./batch-rows.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

/** A register that was set up after the batch was opened began with the value it was set up with. */
export function startValue(register: Row<"register">, start: BatchStart): number {
  return fromNumeric(start.registers[register.register_id]?.value_mm ?? register.start_value_mm);
}

export function inCuttingOrder(a: Row<"register_entry">, b: Row<"register_entry">): number {
  return a.from_piece - b.from_piece || a.from_cut - b.from_cut || Number(a.entry_id) - Number(b.entry_id);
}

export function buildJournal(block: Block, rows: BatchRows): Journal {
  const { start } = rows.batch;
  const moved = [...block.registers, ...(block.workOffsets ?? [])];
  const registerAt = new Map(moved.map(({ registerId }, r) => [registerId, r]));
  const placesOf = (id: string) =>
    block.features.flatMap(({ featureId }, f) => (featureId === id ? [f] : []));
  const toolAt = new Map(block.tools.map((tool, t) => [tool.toolId, t]));
  const changes: RegisterChange[] = rows.entries
    .filter((entry) => registerAt.has(entry.register_id))
    .sort(inCuttingOrder)
    .map((entry) => ({
      register: registerAt.get(entry.register_id)!,
      piece: entry.from_piece,
      cut: entry.from_cut,
      valuePm: fromNumeric(entry.value_mm),
      withEdge: entry.origin === "edge",
    }));
  const events: BlockEvent[] = [];
  for (const edge of rows.edges) {
    const tool = toolAt.get(edge.tool_id);
    if (tool !== undefined) events.push({ kind: "fresh_edge", piece: edge.from_piece, tool });
  }
  for (const { kind, from_piece: piece } of rows.interruptions) {
    if (kind === "fixture_change" || kind === "program_change") events.push({ kind: "upset", piece });
    else events.push({ kind: "pause", piece });
  }
  for (const piece of changesOfNamed(block, rows)) events.push({ kind: "touched", piece });
  for (const finding of rows.findings) {
    const cause = finding.cause as StoredCause | null;
    const features = cause?.feature_ids.flatMap(placesOf) ?? [];
    if (!cause || features.length === 0) continue;
    if (finding.found === "nothing") {
      const register = cause.register_id === null ? undefined : registerAt.get(cause.register_id);
      const seat = cause.seat == null ? undefined : block.seats?.indexOf(cause.seat);
      const jump = { register, features, seat };
      if (cause.last_piece === cause.first_piece) {
        events.push({ kind: "unfounded", piece: cause.first_piece + 1, ...jump });
      } else events.push({ kind: "jump", piece: cause.first_piece, ...jump });
    } else {
      events.push({ kind: "put_right", piece: finding.from_piece ?? cause.first_piece });
    }
  }
  const rank = { fresh_edge: 0, put_right: 1, upset: 2, pause: 3, touched: 4, jump: 5, unfounded: 5 };
  events.sort((a, b) => a.piece - b.piece || rank[a.kind] - rank[b.kind]);
  const startOf = (registerId: string) =>
    startValue(rows.registers.find((row) => row.register_id === registerId)!, start);
  return {
    start: block.registers.map((register) => {
      const brought = start.registers[register.registerId];
      const h = register.halfMoveMm;
      const carried = brought?.carried;
      const valuePm = startOf(register.registerId);
      return {
        valuePm,
        doubtMm: brought?.memory.levels.length ? 0 : wearOf(valuePm) / 1e9,
        memory: brought?.memory ?? { levels: [], rates: [] },
        carried: carried
          ? {
              level: carried.level_mm,
              levelVariance: carried.level_variance + ((carried.same_part ? 0.4 : 2) * h) ** 2,
              rate: carried.rate_mm,
              covariance: carried.covariance,
              rateVariance: carried.rate_variance,
            }
          : undefined,
      };
    }),
    ...(block.workOffsets && { workOffsets: block.workOffsets.map((offset) => startOf(offset.registerId)) }),
    piecesCut: block.tools.map((tool) => start.tools[tool.toolId]?.pieces_cut ?? 0),
    changes,
    events,
  };
}

/** Pieces from which on a register holds another value that a feature only names: it is looked at again, no more. */
function changesOfNamed(block: Block, { features, cuts, entries }: BatchRows): number[] {
  const kindOf = (id: string) => features.find((feature) => feature.feature_id === id)!.kind;
  const ids = new Set(block.features.map(({ featureId }) => featureId).filter((id) => !isSize(kindOf(id))));
  const named = new Set(cuts.filter((cut) => ids.has(cut.feature_id)).map((cut) => cut.register_id));
  return entries
    .filter((entry) => named.has(entry.register_id) && entry.origin !== "edge")
    .map((entry) => (entry.from_cut > 1 ? entry.from_piece + 1 : entry.from_piece));
}
