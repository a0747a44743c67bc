import type { Progress } from "../core/wear-offset/progress.js";
import { type Advice, AdviceBase } from "./advice-base.js";
import { edgesAtEnd } from "./advise-life.js";
import {
  findPlaces,
  type PlacesFound,
  placesApart,
  sayLookFirst,
  sayNoRegisterHelps,
} from "./advise-places.js";
import type { StoredCause } from "./batch-rows.js";
import type { BlockView } from "./batch-view.js";
import { causesOfDisagreement, causesOfJump } from "./diagnosis/advise-cause.js";
import type { FeatureView } from "./feature-view.js";
import { nameFeature, nameRegister, sayFactor, sayList, sayMm, sayPm, saySize } from "./words.js";

/** Advice that asks a person for something else than a value: a reading, a cause, a look at gauge or edge. */
export class QuestionSpeaker extends AdviceBase {
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
    // Nothing was right before: it is no jump, and may be a wrong number that every piece bears alike.
    const isFromStart = cause.features.every((f) => progress.latest[f] === null);
    const paper =
      "whether nominal size and limits were entered as the drawing has them: a wrong one shows on every piece alike";
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
      why = isFromStart
        ? `${names}: the size has been off from piece ${cause.firstPiece} on, the first one measured, as if ${register.label} were wrong by ${jump}. No wear does that: look at the size keyed for ${tool ? `tool ${tool.number} (${tool.name})` : "this tool"}, at part zero and programme, and ${paper}. Put it right and say what was found; if nothing is found say so, and it is corrected.${also}`
        : `${names}: the size has jumped from piece ${cause.firstPiece} on, as if ${register.label} had moved by ${jump}. Wear creeps, a jump is an event: look at the edge of ${tool ? `tool ${tool.number} (${tool.name})` : "this tool"}: chipped, built-up, wrong number keyed? Post the new edge or the value found, then say what was found; if nothing is found say so, and the jump is corrected.${also}`;
    } else if (cause.seat !== undefined) {
      const seat = block.seats![cause.seat]!;
      why = `${names}: the pieces of seat ${seat} have jumped from piece ${cause.firstPiece} on, those of other seats have not. Look at this seat: chips under the part, clamping, stop, its work offset. Put it right and say what was found; if nothing is found say so, and the seat's own size is learned afresh.`;
    } else {
      why = isFromStart
        ? `${names}: the size has been off from piece ${cause.firstPiece} on, the first one measured, in a way that no wear offset explains. Look at clamping, part zero, gauge and programme, and ${paper}. Put it right and say what was found; no correction is offered until then.`
        : `${names}: the size has jumped from piece ${cause.firstPiece} on in a way that no wear offset explains. Look at clamping, seat, part zero, gauge and programme, put it right and say what was found; no correction is offered until then.`;
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
}
