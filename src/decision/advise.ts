import { formatLength, showMm, toNumeric, toUnit } from "../core/quantity.js";
import { changeWindow, overlapOf } from "../core/wear-offset/change-window.js";
import { fromTarget, piecesToLimit, piecesToLimitAtEarliest } from "../core/wear-offset/forecast.js";
import { movesTowardsWork } from "../core/wear-offset/limit-change.js";
import {
  copyProgress,
  type LatestReading,
  latestReading,
  offsetsOf,
  type Progress,
  takeJournal,
} from "../core/wear-offset/progress.js";
import {
  type BlockAdvice,
  proposeChanges,
  type RegisterAdvice,
} from "../core/wear-offset/propose-changes.js";
import type { WorkOffsetAdvice } from "../core/wear-offset/seat-moves.js";
import { edgesAtEnd } from "./advise-life.js";
import {
  findPlaces,
  noteDifference,
  type PlacesFound,
  placesApart,
  sayLookFirst,
  sayNoRegisterHelps,
} from "./advise-places.js";
import { sayWorkOffset } from "./advise-seats.js";
import type { CorrectionFeature } from "./answered-advice.js";
import type { BatchView, BlockView, FeatureView, StoredCause } from "./batch-view.js";
import type { CorrectionRow } from "./correction-row.js";
import { causesOfDisagreement, causesOfJump } from "./diagnosis/advise-cause.js";
import { causeNames, type SaidCause } from "./diagnosis/say-cause.js";
import { restAnswered } from "./rest-advice.js";
import {
  cautions,
  inBrackets,
  nameFeature,
  nameRegister,
  sayClamp,
  sayDeviation,
  sayFactor,
  sayList,
  sayMm,
  sayMove,
  sayPm,
  saySize,
  towardsWorkCaution,
  upperFirst,
} from "./words.js";

/** A piece of advice before it has a number; what is not stored is a register better left alone. */
export type Advice = Omit<CorrectionRow, "correction_no" | "kind" | "status" | "proposed_at" | "ended_at"> & {
  kind: CorrectionRow["kind"] | "leave_alone";
};

/** All advice about one block before the next piece is cut. */
export function adviseBlock(view: BatchView, blockNo: number): Advice[] {
  const say = new Speaker(view, blockNo);
  return [...say.gaugesOff(), ...say.edgesAtEnd(blockNo), ...adviseProcess(view, blockNo, say)];
}

function adviseProcess(view: BatchView, blockNo: number, say: Speaker): Advice[] {
  const blockView = view.blocks[blockNo]!;
  const { cache } = blockView;
  const asked = cache.questions.map((question) => say.measureAgain(question));
  const piece = pieceAhead(view, blockView);
  const progress = progressAt(blockView, piece);
  const apart = say.placesApart(progress);
  if (apart.some(({ kind }) => kind === "find_cause")) return apart;
  if (apart.length > 0) return [...asked, ...apart];
  if (progress.cause) return [...asked, say.findCause(progress.cause, progress)];
  if (asked.length > 0) return asked;
  if (progress.suspect) return say.waitForNextPiece(progress.suspect);
  if (progress.registers.every((register) => register.usedSinceEdge === 0)) return [];
  const advice = proposeChanges(blockView.block, progress, piece, {
    largestChangePm: view.machine.largestChangePm,
    largestTowardsWorkPm: view.machine.largestTowardsWorkPm,
  });
  return [
    ...advice.registers.map((register) => say.register(register, advice, progress)),
    ...(advice.workOffsets ?? []).flatMap((offset) => say.workOffset(offset, advice)),
  ].map((row) => restAnswered(view, blockView, row));
}

/**
 * The piece that advice is for: the next one to be cut, or the one from which on the latest change counts. A change that
 * was keyed for a piece to come is made already; advice that overlooked it would correct twice.
 */
export function pieceAhead(view: BatchView, { journal }: BlockView): number {
  const change = journal.changes.at(-1);
  // From a further cut of a piece on it counts for all of the next piece only.
  const changed = change === undefined ? 1 : change.piece + (change.cut > 1 ? 1 : 0);
  return Math.max(view.lastPieceCut + 1, changed, journal.events.at(-1)?.piece ?? 1);
}

/** What is known of a block, with everything taken in that happened before `piece`. */
export function progressAt(blockView: BlockView, piece: number): Progress {
  const progress = copyProgress(blockView.cache.after);
  takeJournal(blockView.block, blockView.journal, progress, piece);
  return progress;
}

/**
 * Pieces until the expected size of a feature leaves its limits without another correction, and until it may have left
 * them, within the rest of its edge's planned life; null: not as far as known.
 */
export function piecesToLimitOf(
  view: BatchView,
  feature: FeatureView,
): { expected: number | null; earliest: number | null } {
  const blockView = view.blocks[feature.block]!;
  const { block } = blockView;
  const progress = progressAt(blockView, pieceAhead(view, blockView));
  const { estimate } = progress;
  const { tool } = block.features[feature.index]!;
  if (tool === undefined) return { expected: null, earliest: null };
  const ahead = view.lastPieceCut - estimate.piece;
  const rest = estimate.edgeFrom[tool]! + block.tools[tool]!.lifePieces - estimate.piece;
  const fromHere = (find: typeof piecesToLimit) => {
    const pieces = find(block, estimate, feature.index, offsetsOf(progress), Math.max(rest, 0));
    return pieces === undefined ? null : Math.max(1, pieces - ahead);
  };
  return { expected: fromHere(piecesToLimit), earliest: fromHere(piecesToLimitAtEarliest) };
}

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

class Speaker {
  private readonly blockView: BlockView;
  private readonly features: FeatureView[];
  private readonly unit: "mm" | "inch";
  private readonly partUnit: "mm" | "inch";

  constructor(
    private readonly view: BatchView,
    blockNo: number,
  ) {
    this.blockView = view.blocks[blockNo]!;
    this.features = view.features
      .filter((feature) => feature.block === blockNo)
      .sort((a, b) => a.index - b.index);
    this.unit = view.machine.unit;
    this.partUnit = view.part.unit;
  }

  private row(kind: Advice["kind"], subject: string, piece: number, why: string): Advice {
    return {
      batch_id: this.view.batchId,
      kind,
      subject: `${this.blockView.block.key}/${subject}`,
      tool_id: null,
      register_id: null,
      gauge_id: null,
      piece,
      value_now_mm: null,
      change_mm: "0",
      value_after_mm: null,
      reading_nos: [],
      features: [],
      cause: null,
      causes: null,
      why: upperFirst(why),
      arithmetic: [],
      cautions: [],
      line: null,
      from_piece: null,
      from_cut: null,
      value_found_mm: null,
      value_set_mm: null,
      was_withdrawn: false,
      found: null,
      reason: null,
      by_name: null,
    };
  }

  private roomOf(feature: number): number {
    return this.blockView.block.features[feature]!.roomMm;
  }

  /** The latest reading of a feature, where the edges that cut it are still in use. */
  private latestOf(feature: FeatureView, progress: Progress): LatestReading | undefined {
    const { block } = this.blockView;
    const latest = latestReading(block, progress, feature.index);
    const from = block.features[feature.index]!.effects.map((effect, r) =>
      effect === 0 ? 0 : progress.estimate.edgeFrom[block.registers[r]!.tool]!,
    );
    return latest && latest.piece >= Math.max(...from) ? latest : undefined;
  }

  measureAgain(question: BlockView["cache"]["questions"][number]): Advice {
    const feature = this.features[question.feature]!;
    const values = this.blockView.cache.readings.filter(({ readingNo }) =>
      question.readingNos.includes(readingNo),
    );
    const read = sayList(values.map(({ sizePm }) => saySize(sizePm, this.partUnit)));
    const expected = sayMm(question.expectedPm / 1e9, this.partUnit);
    // Beyond every size that machining gives it is the typing that is asked about, else the part.
    const far = values.some(
      ({ sizePm }) => Math.abs(sizePm - question.expectedPm) > 5e9 * this.roomOf(question.feature),
    );
    const look = far
      ? "Check value, unit and decimal point as they were typed."
      : "Is the part clean, cool and free of burrs?";
    if (question.reference) return this.measureByReference(question, feature, read);
    const why =
      question.ask === 2
        ? `Measure ${nameFeature(feature)} on piece ${question.piece} again: it read ${read}, expected was ${expected} and a surprise begins ${sayMm(question.withinPm / 1e9, this.partUnit)} away from that. ${look} Until a second reading agrees nothing is corrected from it.`
        : `Measure ${nameFeature(feature)} on piece ${question.piece} a third time: ${read} do not agree; the middle one of three will count.`;
    const advice = this.row(
      "measure_again",
      `question/${feature.featureId}/${question.piece}`,
      question.piece,
      why,
    );
    return { ...advice, reading_nos: [...question.readingNos] };
  }

  /** Only the reference gauge can say whether the part has moved or the other gauge. */
  private measureByReference(
    question: BlockView["cache"]["questions"][number],
    feature: FeatureView,
    read: string,
  ): Advice {
    const { piece, readingNos, reference } = question;
    const name = nameFeature(feature);
    const why =
      reference === "odd_piece"
        ? `Measure ${name} on piece ${piece} with its reference gauge: it read ${read}, which does not fit what came before. The gauge may have moved as well as the part; nothing is concluded or corrected until the reference has read it.`
        : `Measure ${name} on piece ${piece} with its reference gauge again: the other gauge reads further from its ${read} than it did before. If the reference stands by it, the other gauge is off.`;
    return {
      ...this.row("measure_again", `question/${feature.featureId}/${piece}/reference`, piece, why),
      gauge_id: feature.referenceGaugeId,
      reading_nos: [...readingNos],
    };
  }

  /** Gauges that read otherwise beside the reference than they did, unless somebody has answered it. */
  gaugesOff(): Advice[] {
    const { after } = this.blockView.cache;
    return (after.gaugesOff ?? []).flatMap(({ feature: f, gauge, piece, byMm }) => {
      const feature = this.features[f]!;
      const by = sayMm(Math.abs(byMm), this.partUnit);
      const way = byMm > 0 ? "bigger" : "smaller";
      const why = `Have the gauge checked on a standard that reads ${nameFeature(feature)} beside the reference gauge: on piece ${piece} it read ${by} ${way} than before, and the reference, which measured twice, stands by its reading. It may be bent, worn or dirty, or its zero may be lost. What it reads is taken less its new deviation until then.`;
      const row = this.row("check_gauge", `gauge/${feature.featureId}/${gauge}/${piece}`, piece, why);
      return this.view.answered.has(row.subject) ? [] : [{ ...row, gauge_id: gauge }];
    });
  }

  /** Edges near the end of their life, unless somebody has said of this very edge that it runs on. */
  edgesAtEnd(blockNo: number): Advice[] {
    return edgesAtEnd(this.view, blockNo).flatMap(({ toolId, piece, why }) => {
      const row = this.row("change_tool", `life/${toolId}/${piece}`, Math.max(1, piece), why);
      return this.view.answered.has(row.subject) ? [] : [{ ...row, tool_id: toolId }];
    });
  }

  findCause(cause: NonNullable<Progress["cause"]>, progress: Progress): Advice {
    const { block } = this.blockView;
    const names = sayList(cause.features.map((f) => nameFeature(this.features[f]!)));
    const pieces =
      cause.firstPiece === cause.lastPiece
        ? `piece ${cause.firstPiece}`
        : `pieces ${cause.firstPiece} to ${cause.lastPiece}`;
    const id = cause.register === undefined ? undefined : block.registers[cause.register]!.registerId;
    const register = id === undefined ? undefined : this.view.registers.get(id)!;
    const tool = register && this.view.tools.get(register.toolId!);
    const offset = cause.slip && block.workOffsets?.[cause.slip.register - block.registers.length];
    const slipped = offset ? this.view.registers.get(offset.registerId)! : cause.slip && register;
    let why: string;
    if (cause.slip && slipped) {
      const changed = sayMm(cause.slip.changeMm, this.unit, true);
      const known = [...progress.registers, ...(progress.workOffsets ?? [])];
      const believed = sayPm(known[cause.slip.register]!.valuePm, this.unit);
      why = `After the change of ${nameRegister(slipped, tool)} by ${changed} the size found on ${pieces} is not the one predicted: ${sayList(cause.slip.factors.map(sayFactor))}. Read ${slipped.label} at the control: it should show ${believed}. Enter what it really shows, then say what was found; no change is proposed until then.`;
    } else if (register) {
      const jump = sayMm(cause.jumpMm, this.unit, true);
      const also = cause.single
        ? " Only one feature was measured, so clamping, seat, part zero and gauge come into question too."
        : "";
      why = `${names}: the size has jumped from piece ${cause.firstPiece} on, as if ${register.label} had moved by ${jump}. Wear creeps, a jump is an event: look at the edge of ${tool ? `tool ${tool.number} (${tool.name})` : "this tool"}: chipped, built-up, wrong number keyed? Post the new edge or the value found, then say what was found; if nothing is found say so, and the jump is corrected.${also}`;
    } else if (cause.seat !== undefined) {
      const seat = block.seats![cause.seat]!;
      why = `${names}: the pieces of seat ${seat} have jumped from piece ${cause.firstPiece} on, those of other seats have not. Look at this seat: chips under the part, clamping, stop, its work offset. Put it right and say what was found; if nothing is found say so, and the seat's own size is learned afresh.`;
    } else {
      why = `${names}: the size has jumped from piece ${cause.firstPiece} on in a way that no wear offset explains. Look at clamping, seat, part zero, gauge and programme, put it right and say what was found; no correction is offered until then.`;
    }
    const stored: StoredCause = {
      first_piece: cause.firstPiece,
      last_piece: cause.lastPiece,
      register_id: id ?? null,
      feature_ids: cause.features.map((f) => this.features[f]!.featureId),
    };
    if (cause.seat !== undefined) stored.seat = block.seats![cause.seat]!;
    const subject = `cause/${cause.firstPiece}/${id ?? offset?.registerId ?? "setup"}/${cause.slip ? cause.slip.factors.join("_") : ""}`;
    const advice = this.row("find_cause", subject, cause.lastPiece, why);
    return {
      ...advice,
      ...this.withCauses(advice, causesOfJump(this.view, cause.lastPiece)),
      tool_id: register?.toolId ?? null,
      register_id: id ?? offset?.registerId ?? null,
      cause: stored,
      reading_nos: this.blockView.cache.readings.map(({ readingNo }) => readingNo),
    };
  }

  /** Places of a feature so far apart that nothing is corrected: no register helps, or the cause is looked for first. */
  placesApart(progress: Progress): Advice[] {
    const { none, unsure } = placesApart(findPlaces(this.features, progress));
    const row = (
      kind: Advice["kind"],
      { feature, read }: PlacesFound,
      why: string,
      cause: StoredCause | null,
    ) => {
      const places = read.sizes.map((size) => size.feature);
      const reading_nos = this.blockView.cache.readings.flatMap(({ readingNo, feature: f }) =>
        places.includes(f) ? [readingNo] : [],
      );
      const row = this.row(kind, `places/${feature.featureId}`, read.piece, why);
      const causes = kind === "find_cause" ? causesOfDisagreement(this.view) : null;
      return { ...row, cause, causes, reading_nos };
    };
    return [
      ...none.map((found) =>
        row("find_cause", found, sayNoRegisterHelps(found, this.partUnit), {
          first_piece: found.read.wideSince ?? found.read.piece,
          register_id: null,
          feature_ids: [found.feature.featureId],
        }),
      ),
      ...unsure.map((found) => row("measure_again", found, sayLookFirst(found, this.partUnit), null)),
    ];
  }

  /** What it most likely is, said with it: the first cause in full, the others by name. */
  private withCauses({ why }: Advice, causes: SaidCause[]): Pick<Advice, "why" | "causes"> {
    const [first, ...others] = causes;
    if (!first) return { why, causes };
    const rivals = others.filter(({ weight }) => weight > 0.1).map(({ cause }) => causeNames[cause]);
    const also = rivals.length > 0 ? ` Hardly less likely: ${sayList([...new Set(rivals)])}.` : "";
    return { why: `${why} Most likely ${causeNames[first.cause]}: ${first.next_step}${also}`, causes };
  }

  /** An odd piece: nothing is corrected before the next one is measured. */
  waitForNextPiece(suspect: NonNullable<Progress["suspect"]>): Advice[] {
    const names = sayList(suspect.features.map((f) => nameFeature(this.features[f]!)));
    const why = `Piece ${suspect.piece} does not fit what came before (${names}). It is left out until the next piece is measured: one odd piece is a chip, seating or misreading, two are a jump.`;
    return this.blockView.block.registers.map(({ registerId }) => {
      const register = this.view.registers.get(registerId)!;
      return {
        ...this.row("leave_alone", `register/${registerId}`, suspect.piece, why),
        tool_id: register.toolId,
        register_id: registerId,
      };
    });
  }

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
