import type { Selectable } from "kysely";
import type { Database } from "../db/schema.js";
import type { AnsweredAdvice } from "./answered-advice.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

export interface BatchRows {
  batch: Row<"batch">;
  machine: Row<"machine">;
  part: Row<"part">;
  features: Row<"feature">[];
  /** Limits that features have in the batch's operation instead of their own. */
  early: Row<"feature_operation_limits">[];
  cuts: Row<"feature_cut">[];
  tools: Row<"tool">[];
  registers: Row<"register">[];
  entries: Row<"register_entry">[];
  edges: { edge_id: string; tool_id: string; from_piece: number }[];
  interruptions: Row<"interruption">[];
  findings: { correction_no: number; found: string; from_piece: number | null; cause: unknown }[];
  answered: AnsweredAdvice[];
  states: Row<"block_state">[];
}

/** What a find_cause correction keeps of the jump that it asks about. */
export interface StoredCause {
  first_piece: number;
  /** The last odd piece so far; absent where it was not kept. */
  last_piece?: number;
  register_id: string | null;
  feature_ids: string[];
  /** The one seat whose pieces have jumped. */
  seat?: string | null;
}
