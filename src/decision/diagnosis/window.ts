import type { Circumstances } from "../../core/diagnosis/causes.js";
import type { Observation } from "../../core/diagnosis/observation.js";
import { isSize } from "../../core/feature-kind.js";
import { fromNumeric } from "../../core/quantity.js";
import type { FieldError } from "../../http/problem.js";
import { type BatchView, featureAt, valueAt } from "../batch-view.js";
import type { FeatureView } from "../feature-view.js";
import { type DiagnosedBatch, type DiagnosedReading, movedSince } from "./subject.js";

/** So many readings of each feature are looked at, and as many of those before; fewer where the part has many features. */
const readingsPerFeature = 24;
const mostReadings = 6000;
const lastPiece = 9_999_999;

/** Readings of a feature on these pieces; the latest `most`. */
export interface PieceRange {
  featureId: string;
  fromPiece: number;
  toPiece: number;
  most: number;
}

export interface DiagnosedRow {
  feature_id: string;
  place: string | null;
  piece: number;
  gauge_id: string;
  seat: string | null;
  value_mm: string;
  /** Of a position that came as offsets. */
  dx_mm: string | null;
  dy_mm: string | null;
  gauge_variance: number;
}

export interface Asked {
  piece?: number | undefined;
  from_piece?: number | undefined;
  since_piece?: number | undefined;
}

export interface Window {
  ranges: PieceRange[];
  since: number | undefined;
}

/** What cannot be of the pieces asked about. */
export function refuseWindow({ piece = lastPiece, from_piece = 1, since_piece = 1 }: Asked): FieldError[] {
  const errors: FieldError[] = [];
  if (from_piece > piece)
    errors.push({ pointer: "from_piece", detail: `lies after piece ${piece}: send one up to it` });
  if (since_piece > piece)
    errors.push({ pointer: "since_piece", detail: `lies after piece ${piece}: send one up to it` });
  if (since_piece > 1 && since_piece <= from_piece)
    errors.push({
      pointer: "since_piece",
      detail: `leaves no piece before it from piece ${from_piece} on: send a later one, or an earlier from_piece`,
    });
  return errors;
}

/** Which pieces are looked at: those named, else the latest in which nothing happened that registers do not account for. */
export function windowOf(view: BatchView, query: Asked): Window {
  const { piece, from_piece: first, since_piece } = query;
  const until = piece ?? lastPiece;
  const since = since_piece ?? (first === undefined ? openSince(view, until) : undefined);
  const perPlace = Math.max(2, Math.min(readingsPerFeature, Math.floor(mostReadings / view.features.length)));
  // Of angles, roughness, counts and what passes or fails no cause here says anything.
  const told = view.features.filter(({ kind }) => isSize(kind) || kind === "position");
  const featureIds = [...new Set(told.map(({ featureId }) => featureId))];
  const ranges = featureIds.flatMap((featureId): PieceRange[] => {
    const feature = view.featureById.get(featureId)!;
    const most = perPlace * (feature.places?.length ?? 1);
    const steady = steadyFrom(view, feature, since ?? until);
    if (since !== undefined) {
      const before = { featureId, fromPiece: first ?? steady, toPiece: since - 1, most };
      return [
        before,
        {
          featureId,
          fromPiece: piece === undefined || first !== undefined ? since : piece,
          toPiece: until,
          most,
        },
      ];
    }
    const fromPiece = first ?? piece ?? steady;
    return [{ featureId, fromPiece, toPiece: until, most }];
  });
  return { ranges, since };
}

/** The piece from which on a jump is open, or the odd piece that nobody has followed up. */
function openSince(view: BatchView, until: number): number | undefined {
  const open = view.blocks.flatMap(
    ({ cache: { after } }) =>
      after.cause?.firstPiece ?? after.suspect?.piece ?? after.seatSuspects?.map(({ piece }) => piece) ?? [],
  );
  const pieces = open.filter((piece) => piece <= until);
  return pieces.length > 0 ? Math.min(...pieces) : undefined;
}

/** The first piece since which nothing has happened to a feature that its registers do not account for. */
function steadyFrom(view: BatchView, feature: FeatureView, until: number): number {
  const { block, journal } = view.blocks[feature.block]!;
  const { effects, tool } = block.features[feature.index]!;
  const tools = new Set([
    tool,
    ...block.registers.flatMap((register, r) => (effects[r] === 0 ? [] : register.tool)),
  ]);
  const broken = journal.events.filter((event) => {
    if (event.piece > until) return false;
    if (event.kind === "fresh_edge") return tools.has(event.tool);
    return ["touched", "upset", "put_right", "jump", "unfounded"].includes(event.kind);
  });
  return Math.max(1, ...broken.map(({ piece }) => piece));
}

/** Where the machine last began cold, as far as it shows in these pieces. */
export function coldFrom(view: BatchView, observations: readonly Observation[]): number {
  const last = Math.max(0, ...observations.map(({ piece }) => piece));
  const pauses = view.blocks.flatMap(({ journal }) =>
    journal.events.flatMap(({ kind, piece }) => (kind === "pause" && piece <= last ? [piece] : [])),
  );
  return Math.max(1, ...pauses);
}

/** Changes of registers that count between the last piece read before and the first one read since. */
export function changesAt(
  { view, registerIds }: DiagnosedBatch,
  observations: readonly Observation[],
  since: number,
): Circumstances["changes"] {
  const before = Math.max(0, ...observations.flatMap(({ piece }) => (piece < since ? piece : [])));
  return view.blocks.flatMap(({ block, journal }) =>
    journal.changes.flatMap((change) => {
      if (change.withEdge || change.cut > 1 || change.piece <= before || change.piece > since) return [];
      const moved =
        block.registers[change.register] ?? block.workOffsets![change.register - block.registers.length]!;
      const { registerId } = moved;
      const changeMm = (change.valuePm - valueAt(view, registerId, change.piece - 1, 1)) / 1e9;
      return changeMm === 0
        ? []
        : [{ register: registerIds.indexOf(registerId), piece: change.piece, changeMm }];
    }),
  );
}

/**
 * A stored reading as a deviation from target, with what the registers hold on the last piece looked at; a position as its two
 * offsets, if they were told.
 */
export function toReadings(batch: DiagnosedBatch, row: DiagnosedRow, last: number): DiagnosedReading[] {
  const { view, gauges } = batch;
  const feature = featureAt(view, row.feature_id, row.place);
  if (!feature) return [];
  const both = {
    feature,
    piece: row.piece,
    gauge: gauges.findIndex((gauge) => gauge.gauge_id === row.gauge_id),
    seat: row.seat,
    readingMm2: row.gauge_variance,
  };
  if (feature.kind === "position") {
    if (row.dx_mm === null || row.dy_mm === null) return [];
    return [
      { ...both, component: "x", deviationMm: fromNumeric(row.dx_mm) / 1e9 },
      { ...both, component: "y", deviationMm: fromNumeric(row.dy_mm) / 1e9 },
    ];
  }
  const offTarget = (fromNumeric(row.value_mm) - feature.targetPm) / 1e9;
  const moved = movedSince(view, feature, row.piece, row.seat, last);
  return [{ ...both, component: "size", deviationMm: offTarget + moved }];
}
