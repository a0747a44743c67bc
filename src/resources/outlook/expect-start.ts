import { isSize } from "../../core/feature-kind.js";
import { toUnit } from "../../core/quantity.js";
import { forecastFeature } from "../../core/wear-offset/forecast.js";
import { offsetsOf } from "../../core/wear-offset/progress.js";
import { progressAt } from "../../decision/advise.js";
import type { BatchView } from "../../decision/batch-view.js";
import { learnedOf } from "../../decision/learned-register.js";
import type { Outlook } from "./schemas.js";

/** Where the registers of a batch that is not opened yet stand and should start. */
export function showRegisters(view: BatchView): Outlook["registers"] {
  const { unit } = view.machine;
  return view.blocks.flatMap(({ block, journal }) =>
    block.registers.map(({ registerId }, r) => {
      const register = view.registers.get(registerId)!;
      const learned = learnedOf(view, registerId)!;
      return {
        register_id: registerId,
        tool_id: register.toolId,
        number: register.number,
        label: register.label,
        unit,
        value_now: toUnit(learned.valueNowPm, unit),
        fresh_edge_start: toUnit(learned.proposedStartPm, unit),
        safe_start: toUnit(learned.safeStartPm, unit),
        edge_known: journal.start[r]!.carried !== undefined,
        edges_remembered: journal.start[r]!.memory.levels.length,
      };
    }),
  );
}

/** What the first piece should come out with if nothing is touched. */
export function showFeatures(view: BatchView): Outlook["features"] {
  const { unit } = view.part;
  return view.features
    .filter(({ kind }) => isSize(kind))
    .map((feature) => {
      const blockView = view.blocks[feature.block]!;
      const progress = progressAt(blockView, 1);
      const { expectedDeviation, pieceDeviation, probabilityOut } = forecastFeature(
        blockView.block,
        progress.estimate,
        feature.index,
        1 - progress.estimate.piece,
        offsetsOf(progress),
      );
      return {
        feature_id: feature.featureId,
        characteristic: feature.characteristic,
        place: feature.place,
        expected_size: toUnit(feature.programmedPm + Math.round(expectedDeviation * 1e9), unit),
        uncertainty: toUnit(Math.round(pieceDeviation * 1e9), unit),
        unit,
        chance_outside: Number(probabilityOut.toFixed(6)),
      };
    });
}
