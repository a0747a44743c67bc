import type { Db } from "../../db/client.js";
import type { ViewReader } from "../../decision/view-reader.js";
import { sayList } from "../../decision/words.js";
import { showFirstArticle } from "./assemble.js";
import {
  findFirstArticle,
  findLastProduced,
  type findPart,
  listEventsSince,
  listOfNumber,
  listOtherMachines,
} from "./queries.js";
import type { Due } from "./schemas.js";

type Part = NonNullable<Awaited<ReturnType<typeof findPart>>>;
type Reason = Due["reasons"][number];

/** Years without production after which a first article is updated (SAE AS9102 Rev B, 4.6, as quoted publicly). */
const lapseYears = 2;

/** What calls for a first article before parts made from an instant on are delivered, as far as the service knows. */
export async function whatIsDue(db: Db, views: ViewReader, part: Part, at: string): Promise<Due> {
  const all = await listOfNumber(db, part.number);
  const full = all.findLast((one) => one.part_id === part.part_id && one.extent === "full");
  const lastProduced = await findLastProduced(db, part.part_id, at);
  const answer = (extent: Due["extent"], reasons: Reason[]): Due => ({
    part_id: part.part_id,
    due: reasons.length > 0,
    extent: reasons.length > 0 ? extent : null,
    reasons,
    last_first_article_id: full?.first_article_id ?? null,
    last_produced_at: lastProduced,
  });
  if (!full) {
    const earlier = all.findLast((one) => one.part_id !== part.part_id);
    return answer("full", [
      earlier
        ? {
            reason: "design_change",
            why: `Revision ${part.revision} has no first article; the latest one is of revision ${earlier.revision}. A partial one that builds on it may do where only some characteristics changed.`,
          }
        : { reason: "first_production", why: `Part ${part.number} has no first article.` },
    ]);
  }
  const reasons: Reason[] = [];
  if (lastProduced !== null && hasLapsed(lastProduced, at)) {
    reasons.push({
      reason: "lapse_in_production",
      why: `The last piece was measured on ${lastProduced.slice(0, 10)}, ${monthsBetween(lastProduced, at)} months before: after two years without production the first article is updated for the characteristics that the pause may affect.`,
    });
  }
  const row = (await findFirstArticle(db, full.first_article_id))!;
  const shown = await showFirstArticle(db, views, row);
  if (!shown.complete) {
    reasons.push({
      reason: "corrective_action",
      why: `First article ${row.report_number} is not complete: ${sayList(shown.still_open)} ${shown.still_open.length === 1 ? "is" : "are"} still open.`,
    });
  }
  const batchIds = row.pieces.map(({ batch_id }) => batch_id).sort((a, b) => Number(a) - Number(b));
  for (const { machine, operation } of await listOtherMachines(db, part.part_id, batchIds)) {
    reasons.push({
      reason: "process_change",
      why: `${operation === null ? "It" : `Operation ${operation}`} has been run on ${machine} since, which first article ${row.report_number} does not cover.`,
    });
  }
  const events = {
    material_change: ["material_change", "the material was changed"],
    fixture_change: ["tooling_change", "the fixture was changed"],
    program_change: ["program_change", "the programme was changed"],
  } as const;
  for (const event of await listEventsSince(db, part.part_id, row.created_at)) {
    const [reason, words] = events[event.kind as keyof typeof events];
    const note = event.note === null ? "" : ` (${event.note})`;
    reasons.push({
      reason,
      why: `In batch "${event.batch}", before piece ${event.from_piece}, ${words}${note}: judge which characteristics that may affect.`,
    });
  }
  return answer("partial", reasons);
}

function hasLapsed(from: string, to: string): boolean {
  const end = new Date(from);
  end.setUTCFullYear(end.getUTCFullYear() + lapseYears);
  return Date.parse(to) >= end.getTime();
}

function monthsBetween(from: string, to: string): number {
  const [a, b] = [new Date(from), new Date(to)];
  const months = (b.getUTCFullYear() - a.getUTCFullYear()) * 12 + b.getUTCMonth() - a.getUTCMonth();
  return b.getUTCDate() < a.getUTCDate() ? months - 1 : months;
}
