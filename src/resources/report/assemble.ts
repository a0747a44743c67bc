import { joinRanges } from "../../core/containment/piece-ranges.js";
import { isSize } from "../../core/feature-kind.js";
import { fromNumeric } from "../../core/quantity.js";
import { smallLot } from "../../core/sampling/plan-checks.js";
import type { Db } from "../../db/client.js";
import type { BatchView } from "../../decision/batch-view.js";
import type { Containment } from "../../decision/containment.js";
import { decideMeasured } from "../../decision/decide-measured.js";
import type { FeatureView } from "../../decision/feature-view.js";
import { sayHold } from "../../decision/hold-advice.js";
import { showRanges } from "../../decision/hold-wire.js";
import { judgedOf } from "../../decision/learned-deviation.js";
import type { StoredReading } from "../../decision/piece-queries.js";
import { type ProvedFeature, type ProvedPiece, provePieces } from "../../decision/prove-pieces.js";
import { decidingOf, resultText } from "../../decision/result-text.js";
import { drawnOf, sayLimits, sayRequirement, textOf } from "../../decision/say-requirement.js";
import { sayRules } from "../../decision/say-rules.js";
import { optionalPm } from "../../decision/stored-size.js";
import type {
  Characteristic,
  ReportCapability,
  ReportGauge,
  ReportHead,
  ReportHold,
  ReportPiece,
  ReportRegister,
  ReportResult,
} from "../../report/report.js";
import {
  countReadings,
  type findBatch,
  listDecisions,
  listDrawn,
  listEdges,
  listEntries,
  listGaugesUsed,
  listInterruptions,
} from "./queries.js";
import { cautions, sayPlan } from "./say.js";

/** Pieces that are worked out at a time, so that memory does not grow with the batch. */
const piecesPerBand = 40;

type BatchRow = NonNullable<Awaited<ReturnType<typeof findBatch>>>;

export async function assembleHead(
  db: Db,
  view: BatchView,
  batch: BatchRow,
  containment: Containment,
  capability: ReportCapability[],
): Promise<ReportHead> {
  const { batchId } = view;
  const featureIds = [...view.featureById.keys()];
  const registerIds = view.blocks.flatMap(({ block }) => block.registers.map((r) => r.registerId));
  const [requirements, gauges, entries, edges, interruptions, decisions, readings] = await Promise.all([
    listDrawn(db, featureIds),
    listGaugesUsed(db, batchId, featureIds),
    listEntries(db, batchId, registerIds),
    listEdges(db, batchId),
    listInterruptions(db, batchId),
    listDecisions(db, batchId),
    countReadings(db, batchId, featureIds),
  ]);
  const features = inPartOrder(view);
  const drawing = new Map(requirements.map((row) => [row.feature_id, row]));
  const { unit } = view.machine;
  return {
    batch: {
      batch_id: batchId,
      name: batch.name,
      operation: batch.operation,
      quantity: batch.quantity,
      pieces_cut: view.lastPieceCut,
      machine: batch.machine,
      begun_at: batch.created_at,
      closed_at: batch.closed_at,
      closed_by: batch.closed_by,
    },
    part: {
      number: batch.number,
      revision: batch.revision,
      name: batch.part_name,
      unit: batch.unit,
      material: batch.material,
      decision_rule: batch.decision_rule,
    },
    made_at: new Date().toISOString(),
    decision_rules: sayRules(features),
    cautions,
    characteristics: features.map((feature): Characteristic => {
      const { lowerPm, upperPm, kind, early } = feature;
      return {
        feature_id: feature.featureId,
        characteristic: feature.characteristic,
        name: feature.name,
        kind,
        geometric_characteristic: feature.geometric,
        nominal: isSize(kind) || kind === "angle" ? textOf(feature.nominalPm, feature.unit) : null,
        requirement: early
          ? `${sayLimits(feature)} (${early.reason ?? `operation ${early.operation}`})`
          : sayRequirement(drawnOf(drawing.get(feature.featureId)!, batch.unit)),
        lower_limit: textOf(lowerPm, feature.unit),
        upper_limit: textOf(upperPm, feature.unit),
        unit: feature.unit === "1" ? null : feature.unit,
        importance: feature.importance,
        decision_rule: kind === "go_no_go" || kind === "visual" ? null : feature.rule,
        limits_of: early && (early.reason ?? `operation ${early.operation}`),
        places: feature.places === null ? null : [...feature.places],
      };
    }),
    gauges: gauges.map(
      (row): ReportGauge => ({
        gauge_id: row.gauge_id,
        name: row.name,
        kind: row.kind,
        unit: row.unit,
        expanded_uncertainty: textOf(optionalPm(row.expanded_uncertainty_mm), row.unit),
        coverage_factor: row.coverage_factor,
        calibration_due: row.calibration_due,
        reference: row.reference,
        readings: row.readings,
        first_at: row.first_at,
        last_at: row.last_at,
        checked_at: row.checked_at,
        check_error: textOf(optionalPm(row.error_mm), row.unit),
      }),
    ),
    registers: registerIds.map((id): ReportRegister => {
      const register = view.registers.get(id)!;
      const atStart = register.values[0]!.valuePm;
      let held = atStart;
      return {
        label: register.label,
        number: register.number,
        tool: register.toolId === null ? null : nameTool(view, register.toolId),
        unit,
        at_start: textOf(atStart, unit)!,
        entries: entries
          .filter((entry) => entry.register_id === id)
          .map((entry) => {
            const value = fromNumeric(entry.value_mm);
            const change = textOf(value - held, unit, true)!;
            held = value;
            return {
              from_piece: entry.from_piece,
              from_cut: entry.from_cut,
              value: textOf(value, unit)!,
              change,
              origin: entry.origin,
              reason: entry.reason,
              by: entry.by_name,
              at: entry.created_at,
            };
          }),
      };
    }),
    edges: edges.flatMap((edge) =>
      view.tools.has(edge.tool_id)
        ? [
            {
              tool: nameTool(view, edge.tool_id),
              edge: edge.number,
              from_piece: edge.from_piece,
              reason: edge.reason,
              by: edge.by_name,
            },
          ]
        : [],
    ),
    interruptions: interruptions.map(({ by_name: by, ...row }) => ({ ...row, by })),
    holds: containment.holds.flatMap(({ featureId, place, seat, hold, state }): ReportHold[] => {
      const feature = view.featureById.get(featureId);
      if (!feature) return [];
      const { characteristic } = feature;
      const range = { from_piece: hold.from, to_piece: hold.to };
      return [
        { characteristic, place, seat, state, ...range, why: sayHold(hold), open: showRanges(hold.open) },
      ];
    }),
    on_hold: showRanges(joinRanges(containment.onHold)),
    decisions: decisions.map((row) => ({
      decision_id: row.decision_id,
      from_piece: row.from_piece,
      to_piece: row.to_piece,
      decision: row.decision,
      authority: row.authority,
      nonconformance: row.nonconformance,
      note: row.note,
      by: row.by_name,
      decided_at: row.decided_at,
      voided: row.voided_at === null ? null : (row.void_reason ?? ""),
    })),
    check_plan: sayPlan(view, smallLot),
    readings,
    capability,
  };
}

function inPartOrder(view: BatchView): FeatureView[] {
  return view.features.filter((feature) => view.featureById.get(feature.featureId) === feature);
}

function nameTool(view: BatchView, toolId: string): string {
  const tool = view.tools.get(toolId)!;
  return `T${tool.number} ${tool.name}`;
}

/** The pieces of a batch in cutting order, some at a time. */
export async function* assemblePieces(
  db: Db,
  view: BatchView,
  containment: Containment,
  gaugeNames: ReadonlyMap<string, string>,
): AsyncGenerator<ReportPiece[]> {
  const numbers = new Map(inPartOrder(view).map(({ featureId }, i) => [featureId, i]));
  for (let from = 1; from <= view.lastPieceCut; from += piecesPerBand) {
    const to = Math.min(from + piecesPerBand - 1, view.lastPieceCut);
    const proved = await provePieces(db, view, containment, { from, to });
    yield proved.map((piece) => showPiece(piece, numbers, gaugeNames));
  }
}

function showPiece(
  { features, piece, serials, seat, disposition, onHold, why }: ProvedPiece,
  numbers: ReadonlyMap<string, number>,
  gaugeNames: ReadonlyMap<string, string>,
): ReportPiece {
  const unmeasured = new Map<string, ReportPiece["not_measured"][number]>();
  const results: ReportResult[] = [];
  for (const cell of features) {
    const { feature, proof } = cell;
    const rows = cell.rows.filter(({ voided_at }) => voided_at === null);
    const deciding = decidingOf(rows);
    for (const row of rows) {
      results.push(showResult(row, feature, row === deciding, numbers, gaugeNames));
    }
    if (rows.length > 0 && proof === "measured") continue;
    const key = `${proof} ${cell.why}`;
    const name =
      feature.place === null ? feature.characteristic : `${feature.characteristic} ${feature.place}`;
    const group = unmeasured.get(key);
    if (group) group.characteristics.push(name);
    else unmeasured.set(key, { characteristics: [name], proof, why: cell.why });
  }
  return {
    piece,
    serials,
    seat,
    disposition,
    on_hold: onHold,
    why,
    results,
    not_measured: [...unmeasured.values()],
  };
}

function showResult(
  row: StoredReading,
  feature: ProvedFeature["feature"],
  decides: boolean,
  numbers: ReadonlyMap<string, number>,
  gaugeNames: ReadonlyMap<string, string>,
): ReportResult {
  const { measured, expandedPm } = judgedOf(row);
  const { limits } = decideMeasured(measured, feature, expandedPm);
  return {
    reading_id: `${row.batch_id}-${row.reading_no}`,
    of: numbers.get(feature.featureId)!,
    characteristic: feature.characteristic,
    place: row.place,
    cut: row.cut,
    value: row.value_given,
    unit: row.unit === "1" ? null : row.unit,
    result: resultText(row, feature),
    lower_limit: textOf(limits.lowerPm, feature.unit),
    upper_limit: textOf(limits.upperPm, feature.unit),
    bonus: textOf(optionalPm(row.bonus_mm), feature.unit),
    verdict: row.verdict,
    disposition: row.disposition,
    expanded_uncertainty: textOf(expandedPm, feature.unit),
    gauge: row.gauge_id === null ? null : (gaugeNames.get(row.gauge_id) ?? null),
    taken_by: row.taken_by,
    measured_at: row.measured_at,
    received_at: row.received_at,
    flags: row.flags,
    decides,
  };
}
