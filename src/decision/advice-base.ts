import { type LatestReading, latestReading, type Progress } from "../core/wear-offset/progress.js";
import type { BatchView, BlockView } from "./batch-view.js";
import type { CorrectionRow } from "./correction-row.js";
import { causeNames, type SaidCause } from "./diagnosis/say-cause.js";
import type { FeatureView } from "./feature-view.js";
import { sayList, upperFirst } from "./words.js";

/** A piece of advice before it has a number; what is not stored is a register better left alone. */
export type Advice = Omit<CorrectionRow, "correction_no" | "kind" | "status" | "proposed_at" | "ended_at"> & {
  kind: CorrectionRow["kind"] | "leave_alone";
};

/** What all advice about one block needs to be put into words. */
export class AdviceBase {
  protected readonly blockView: BlockView;
  protected readonly features: FeatureView[];
  protected readonly unit: "mm" | "inch";
  protected readonly partUnit: "mm" | "inch";

  constructor(
    protected readonly view: BatchView,
    blockNo: number,
  ) {
    this.blockView = view.blocks[blockNo]!;
    this.features = view.features
      .filter((feature) => feature.block === blockNo)
      .sort((a, b) => a.index - b.index);
    this.unit = view.machine.unit;
    this.partUnit = view.part.unit;
  }

  protected row(kind: Advice["kind"], subject: string, piece: number, why: string): Advice {
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

  protected roomOf(feature: number): number {
    return this.blockView.block.features[feature]!.roomMm;
  }

  /** The latest reading of a feature, where the edges that cut it are still in use. */
  protected latestOf(feature: FeatureView, progress: Progress): LatestReading | undefined {
    const { block } = this.blockView;
    const latest = latestReading(block, progress, feature.index);
    const from = block.features[feature.index]!.effects.map((effect, r) =>
      effect === 0 ? 0 : progress.estimate.edgeFrom[block.registers[r]!.tool]!,
    );
    return latest && latest.piece >= Math.max(...from) ? latest : undefined;
  }

  /** What it most likely is, said with it: the first cause in full, the others by name. */
  protected withCauses({ why }: Advice, causes: SaidCause[]): Pick<Advice, "why" | "causes"> {
    const [first, ...others] = causes;
    if (!first) return { why, causes };
    const rivals = others.filter(({ weight }) => weight > 0.1).map(({ cause }) => causeNames[cause]);
    const also = rivals.length > 0 ? ` Hardly less likely: ${sayList([...new Set(rivals)])}.` : "";
    return { why: `${why} Most likely ${causeNames[first.cause]}: ${first.next_step}${also}`, causes };
  }
}
