import { formatLength, showMm, toNumeric, toUnit } from "../core/quantity.js";
import { changeWindow, overlapOf } from "../core/wear-offset/change-window.js";
import { fromTarget } from "../core/wear-offset/forecast.js";
import { movesTowardsWork } from "../core/wear-offset/limit-change.js";
import type { LatestReading, Progress } from "../core/wear-offset/progress.js";
import type { BlockAdvice, RegisterAdvice } from "../core/wear-offset/propose-changes.js";
import type { WorkOffsetAdvice } from "../core/wear-offset/seat-moves.js";
import { type Advice, AdviceBase } from "./advice-base.js";
import { findPlaces, noteDifference } from "./advise-places.js";
import { sayWorkOffset } from "./advise-seats.js";
import type { CorrectionFeature } from "./answered-advice.js";
import { causesOfDisagreement } from "./diagnosis/advise-cause.js";
import type { FeatureView } from "./feature-view.js";
import {
  cautions,
  inBrackets,
  nameFeature,
  nameRegister,
  sayClamp,
  sayDeviation,
  sayList,
  sayMm,
  sayMove,
  sayPm,
  saySize,
  towardsWorkCaution,
  upperFirst,
} from "./words.js";

/** Size of a reading as it would have come out with what all registers but one hold now. */
export function sizeWithOthers(
  effects: readonly number[],
  but: number,
  latest: Pick<LatestReading, "sizePm" | "valuesPm">,
  progress: Progress,
): number {
  return effects.reduce(
    (size, effect, r) =>
      r === but ? size : size + effect * (progress.registers[r]!.valuePm - latest.valuesPm[r]!),
    latest.sizePm,
  );
}

/** What to do about one register or work offset, with its arithmetic. */
export class RegisterSpeaker extends AdviceBase {
  register(advice: RegisterAdvice, all: BlockAdvice, progress: Progress): Advice {
    const { block } = this.blockView;
    const { registerId } = block.registers[advice.register]!;
    const register = this.view.registers.get(registerId)!;
    const tool = this.view.tools.get(register.toolId!);
    const touched = this.features.filter((_, f) => block.features[f]!.effects[advice.register] !== 0);
    const readingNos = [
      ...new Set(touched.flatMap((feature) => this.latestOf(feature, progress)?.readingNos ?? [])),
    ];
    const kinds: Record<RegisterAdvice["decision"], Advice["kind"]> = {
      change: "change",
      leave_alone: "leave_alone",
      no_reading_since_change: "leave_alone",
      feature_unknown: "leave_alone",
      confirm_large_move: "measure_again",
      features_disagree: "find_cause",
      largest_total_reached: "change_tool",
      edge_worn: "change_tool",
    };
    const kind = kinds[advice.decision];
    const subject =
      kind === "change" || kind === "leave_alone"
        ? `register/${registerId}`
        : `${advice.decision}/${registerId}`;
    const lines = this.arithmetic(advice, all, progress, register.label);
    const valueAfter = advice.valueNowPm + advice.changePm;
    const forms = kind === "change" ? this.notesOnPlaces(advice, progress) : [];
    const notes: string[] = kind === "change" ? [...cautions] : [];
    if (kind === "change" && movesTowardsWork(block, advice.register, advice.changePm))
      notes.push(towardsWorkCaution);
    const row = this.row(
      kind,
      subject,
      this.blockView.cache.piece,
      [this.why(advice, all, progress, nameRegister(register, tool)), ...forms].join(" "),
    );
    return {
      ...row,
      ...(kind === "find_cause" && this.withCauses(row, causesOfDisagreement(this.view))),
      tool_id: register.toolId,
      register_id: registerId,
      value_now_mm: toNumeric(advice.valueNowPm),
      change_mm: toNumeric(advice.changePm),
      value_after_mm: toNumeric(valueAfter),
      reading_nos: readingNos,
      features: touched.map((feature) => this.featureLine(feature, advice, all, progress)),
      arithmetic: lines,
      cautions: notes,
      line: kind === "change" ? this.line(register.number, tool?.number, advice.changePm, valueAfter) : null,
    };
  }

  private notesOnPlaces(advice: RegisterAdvice, progress: Progress): string[] {
    const moved = new Set(this.touched(advice).map(({ featureId }) => featureId));
    return findPlaces(this.features, progress)
      .filter(({ feature }) => moved.has(feature.featureId))
      .flatMap((found) => noteDifference(found, this.partUnit) ?? [])
      .map(upperFirst);
  }

  /** A work offset is only spoken of where it should be moved: a seat that is left alone needs no words. */
  workOffset(advice: WorkOffsetAdvice, all: BlockAdvice): Advice[] {
    if (advice.decision !== "change") return [];
    const { block } = this.blockView;
    const { registerId, effects } = block.workOffsets![advice.workOffset]!;
    const register = this.view.registers.get(registerId)!;
    const { why, arithmetic } = sayWorkOffset(advice, {
      register,
      seat: advice.seat === undefined ? undefined : block.seats![advice.seat]!,
      features: this.features.filter((_, f) => effects[f] !== 0),
      leastIncrementPm: block.workOffsets![advice.workOffset]!.leastIncrementPm,
      unit: this.unit,
    });
    const valueAfter = advice.valueNowPm + advice.changePm;
    const touched = this.features.filter((_, f) => effects[f] !== 0);
    return [
      {
        ...this.row("change", `register/${registerId}`, this.blockView.cache.piece, why),
        register_id: registerId,
        value_now_mm: toNumeric(advice.valueNowPm),
        change_mm: toNumeric(advice.changePm),
        value_after_mm: toNumeric(valueAfter),
        reading_nos: this.blockView.cache.readings.map(({ readingNo }) => readingNo),
        features: touched.map((feature) => this.seatLine(feature, advice, all)),
        arithmetic,
        cautions: [...cautions, towardsWorkCaution],
        line: this.line(register.number, undefined, advice.changePm, valueAfter),
      },
    ];
  }

  /** What the change of a work offset does to one feature: in its seat, or where the feature stands worst. */
  private seatLine(feature: FeatureView, advice: WorkOffsetAdvice, all: BlockAdvice): CorrectionFeature {
    const { index } = feature;
    const { seat, workOffset } = advice;
    const effect = this.blockView.block.workOffsets![workOffset]!.effects[index]!;
    const nominal = feature.programmedPm / 1e9;
    const seats = all.seats?.find((each) => each.feature === index && each.seat === seat);
    const [before, after] = seats ? [seats.before, seats.after] : [all.before[index]!, all.after[index]!];
    return {
      feature_id: feature.featureId,
      place: feature.place,
      effect,
      unit: this.partUnit,
      expected_before: showMm(nominal + before.expectedDeviation, this.partUnit),
      expected_after: showMm(nominal + after.expectedDeviation, this.partUnit),
      window: null,
    };
  }

  private featureLine(
    feature: FeatureView,
    advice: RegisterAdvice,
    all: BlockAdvice,
    progress: Progress,
  ): CorrectionFeature {
    const block = this.blockView.block;
    const effect = block.features[feature.index]!.effects[advice.register]!;
    const nominal = feature.programmedPm / 1e9;
    const latest = this.latestOf(feature, progress);
    const window = latest ? this.window(feature, advice, latest, progress) : undefined;
    const end = (pm: number | undefined) => (pm === undefined ? null : toUnit(pm, this.unit));
    return {
      feature_id: feature.featureId,
      place: feature.place,
      effect,
      unit: this.partUnit,
      expected_before: showMm(nominal + all.before[feature.index]!.expectedDeviation, this.partUnit),
      expected_after: showMm(nominal + all.after[feature.index]!.expectedDeviation, this.partUnit),
      window: window ? { low: end(window.lowPm), high: end(window.highPm) } : null,
    };
  }

  /** Changes that suit the latest reading, as it would have come out with what the other registers hold now. */
  private window(feature: FeatureView, advice: RegisterAdvice, latest: LatestReading, progress: Progress) {
    const { effects } = this.blockView.block.features[feature.index]!;
    const r = advice.register;
    const sizePm = sizeWithOthers(effects, r, latest, progress);
    return changeWindow(feature, effects[r]!, sizePm, latest.valuesPm[r]!, advice.valueNowPm);
  }

  private line(
    registerNumber: number,
    toolNumber: number | undefined,
    changePm: number,
    valueAfterPm: number,
  ): string | null {
    const plain = (pm: number) => formatLength(pm, this.unit).split(" ")[0]!;
    return (
      this.view.machine.lineTemplate
        ?.replaceAll("{register}", String(registerNumber))
        .replaceAll("{tool}", String(toolNumber ?? ""))
        .replaceAll("{change}", plain(changePm))
        .replaceAll("{value_after}", plain(valueAfterPm)) ?? null
    );
  }

  private why(advice: RegisterAdvice, all: BlockAdvice, progress: Progress, name: string): string {
    const { block } = this.blockView;
    const worst = this.worstFeature(advice, all);
    const room = block.features[worst.index]!;
    const size = sayMm(worst.programmedPm / 1e9 + all.before[worst.index]!.expectedDeviation, this.partUnit);
    const runs = `${nameFeature(worst)} runs at ${size}, ${this.whereAbouts(worst, all, advice.worstShareBefore)}`;
    switch (advice.decision) {
      case "change":
        return `${runs}. Change ${name} by ${sayPm(advice.changePm, this.unit, true)}: it should then read ${sayPm(advice.valueNowPm + advice.changePm, this.unit)}.${advice.clamped ? ` ${sayClamp(advice.clamped)}` : ""}`;
      case "leave_alone":
        return advice.worstShareBefore < 0.25
          ? `Leave ${name} alone: ${runs}; less than a quarter is noise of part and gauge, and chasing it makes the spread bigger.`
          : `Leave ${name} alone: ${runs}, but no change of it would bring its features a quarter of the tolerance nearer to their targets.`;
      case "no_reading_since_change":
        return this.whyWaiting(advice, all, progress, name);
      case "feature_unknown": {
        const unknown = this.touched(advice).filter(
          ({ index }) => all.before[index]!.meanDeviation > this.roomOf(index),
        );
        return `Leave ${name} alone until ${sayList(unknown.map(nameFeature))} ${unknown.length > 1 ? "are" : "is"} measured: the same register moves ${unknown.length > 1 ? "them" : "it"} too, and where ${unknown.length > 1 ? "they run" : "it runs"} is not known yet.`;
      }
      case "confirm_large_move":
        return `${runs}. A change of ${sayMove(advice.wantedMm, this.unit)} from a single reading is more than is safe: measure again first.`;
      case "features_disagree": {
        const pulls = this.touched(advice).map((feature) => {
          const off =
            all.before[feature.index]!.expectedDeviation - (feature.targetPm - feature.programmedPm) / 1e9;
          return `${nameFeature(feature)} is ${sayMm(Math.abs(off), this.partUnit)} too ${off > 0 ? "big" : "small"}`;
        });
        return `No value of ${name} brings all its features inside their limits: ${sayList(pulls)}. No change is right; find out why they differ (deflection, programme, clamping, another tool).`;
      }
      case "largest_total_reached":
        return `${name} stands at ${sayPm(advice.valueNowPm, this.unit)}, at or beyond the largest total of ${sayPm(block.registers[advice.register]!.largestTotalPm ?? 0, this.unit)} that this shop allows. That is not wear any more (chipped, pulled out, wrong geometry): look at the tool, replace or re-measure it and clear the register.`;
      case "edge_worn":
        return `${nameFeature(worst)} has a chance of ${(advice.probabilityOut * 100).toFixed(1)} % to be out on the next piece whatever ${name} holds, and the edge has cut more than half its planned life (${block.tools[block.registers[advice.register]!.tool]!.lifePieces} pieces, room ${sayMm(room.roomMm, this.partUnit)}): change the edge.`;
    }
  }

  /** How far off its target a feature runs: as a share of the way to the limit, or beyond which limit. */
  private whereAbouts(feature: FeatureView, all: BlockAdvice, share: number): string {
    const expected = all.before[feature.index]!.expectedDeviation;
    const size = feature.programmedPm + expected * 1e9;
    const beyond = (pm: number, limit: string) => `${sayMm(pm / 1e9, this.partUnit)} ${limit} limit`;
    if (feature.upperPm !== undefined && size > feature.upperPm)
      return beyond(size - feature.upperPm, "above its upper");
    if (feature.lowerPm !== undefined && size < feature.lowerPm)
      return beyond(feature.lowerPm - size, "below its lower");
    return `${Math.round(share * 100)} % of the way from its target to the limit`;
  }

  /** A reading from before the last change asks for nothing: what it shows may already be in the register. */
  private whyWaiting(advice: RegisterAdvice, all: BlockAdvice, progress: Progress, name: string): string {
    const late = this.touched(advice).find(({ index }) => {
      const latest = progress.latest[index];
      return latest && latest.valuesPm[advice.register] !== advice.valueNowPm;
    });
    const start = `Leave ${name} alone: no piece cut wholly since its last change has been measured.`;
    if (!late) return start;
    const latest = progress.latest[late.index]!;
    const then = sayPm(latest.valuesPm[advice.register]!, this.unit);
    const now = sayPm(advice.valueNowPm, this.unit);
    const next = sayMm(late.programmedPm / 1e9 + all.before[late.index]!.expectedDeviation, this.partUnit);
    return `${start} Piece ${latest.piece} was cut with it at ${then}; it stands at ${now} now, and with that ${nameFeature(late)} should come out at ${next} on piece ${all.piece}. Correcting again would correct twice.`;
  }

  private touched(advice: RegisterAdvice): FeatureView[] {
    return this.features.filter((_, f) => this.blockView.block.features[f]!.effects[advice.register] !== 0);
  }

  private worstFeature(advice: RegisterAdvice, all: BlockAdvice): FeatureView {
    const { block } = this.blockView;
    const share = (feature: FeatureView) => {
      const off = fromTarget(block, feature.index, all.before[feature.index]!.expectedDeviation);
      const room = block.features[feature.index]!;
      return Math.abs(off) / (off >= 0 ? room.roomAboveMm : room.roomBelowMm);
    };
    return this.touched(advice).reduce((worst, feature) => (share(feature) > share(worst) ? feature : worst));
  }

  /** The way from the readings to the new register value, line by line. */
  private arithmetic(advice: RegisterAdvice, all: BlockAdvice, progress: Progress, label: string): string[] {
    if (advice.decision !== "change") return [];
    const { block } = this.blockView;
    const lines: string[] = [];
    const touched = this.touched(advice);
    const known = progress.registers[advice.register]!;
    const now = advice.valueNowPm;
    for (const feature of touched) {
      const latest = this.latestOf(feature, progress);
      if (!latest) continue;
      const effect = block.features[feature.index]!.effects[advice.register]!;
      lines.push(
        `${nameFeature(feature)}: piece ${latest.piece} read ${saySize(latest.sizePm, this.partUnit)}, target ${sayPm(feature.targetPm, this.partUnit)}: ${sayDeviation(latest.sizePm - feature.targetPm, this.partUnit)}.`,
      );
      const then = latest.valuesPm[advice.register]!;
      if (then !== now) {
        const moved = sayPm(now - then, this.unit);
        const size = saySize(latest.sizePm + effect * (now - then), this.partUnit);
        lines.push(
          `${label} stood at ${sayPm(then, this.unit)} when that piece was cut and stands at ${sayPm(now, this.unit)}: ${saySize(latest.sizePm, this.partUnit)} + ${inBrackets(String(effect))} × ${inBrackets(moved)} = ${size} now.`,
        );
      }
      const forecast = all.before[feature.index]!;
      const expected = sayMm(feature.programmedPm / 1e9 + forecast.expectedDeviation, this.partUnit);
      const off = fromTarget(block, feature.index, forecast.expectedDeviation);
      lines.push(
        `${known.usedSinceEdge > 1 ? "All readings of this edge together put" : "This reading puts"} piece ${all.piece} at ${expected} (± ${sayMm(2 * forecast.meanDeviation, this.partUnit)}): ${sayMm(off, this.partUnit, true)} from target.`,
        `${label} moves it by ${effect > 0 ? "+" : ""}${effect} for every +1: ${sayMm(off, this.partUnit, true)} ÷ ${inBrackets(String(effect))}, sign turned, asks for ${sayMove(-off / effect, this.unit)}.`,
      );
    }
    const windows = touched.flatMap((feature) => {
      const latest = this.latestOf(feature, progress);
      return latest ? [this.window(feature, advice, latest, progress)] : [];
    });
    if (touched.length > 1) {
      const overlap = overlapOf(windows);
      const end = (pm: number | undefined, none: string) =>
        pm === undefined ? none : saySize(pm, this.unit, true);
      if (overlap) {
        lines.push(
          `Changes that keep all of them inside their limits by these readings: ${end(overlap.lowPm, "any minus")} to ${end(overlap.highPm, "any plus")}.`,
        );
      }
    }
    if (touched.length > 1 || all.seats) {
      const what = touched.length === 1 ? "seat is nearest the target" : "feature is nearest its target";
      const offsets = all.workOffsets?.some(({ decision }) => decision === "change")
        ? ", with the work offsets as they are to be set"
        : "";
      lines.push(
        `The change whose worst ${what}${offsets}: ${sayMove(advice.wantedMm + advice.leadMm, this.unit)}.`,
      );
    }
    if (advice.leadMm !== 0) {
      lines.push(
        `Drift goes on: ${sayMove(-advice.leadMm, this.unit)} more, so that it is centred until the next correction: ${sayMove(advice.wantedMm, this.unit)}.`,
      );
    }
    const step = sayPm(this.view.machine.leastIncrementPm, this.unit);
    const change = sayPm(advice.changePm, this.unit, true);
    lines.push(
      advice.clamped
        ? `${sayClamp(advice.clamped)} In steps of ${step}: ${change}.`
        : `Rounded to the control's step of ${step}: ${change}.`,
      `${sayPm(now, this.unit)} + ${inBrackets(sayPm(advice.changePm, this.unit))} = ${sayPm(now + advice.changePm, this.unit)}: ${label} should then read this.`,
    );
    for (const feature of touched) {
      const after = sayMm(
        feature.programmedPm / 1e9 + all.after[feature.index]!.expectedDeviation,
        this.partUnit,
      );
      lines.push(`${nameFeature(feature)} should then come out at ${after}.`);
    }
    return lines;
  }
}
