import { distance } from "fastest-levenshtein";

/** Up to `count` of `names` that somebody may have meant by `unknown`, nearest first. */
export function nearMatches(unknown: string, names: readonly string[], count = 3): string[] {
  const wanted = unknown.toLowerCase();
  const furthest = Math.max(2, Math.ceil(wanted.length * 0.4));
  return names
    .map((name) => ({ name, away: estimateDistance(wanted, name.toLowerCase()) }))
    .filter(({ away }) => away <= furthest)
    .sort((a, b) => a.away - b.away || a.name.localeCompare(b.name))
    .slice(0, count)
    .map(({ name }) => name);
}

// People leave off the end of a long name, so its beginning counts nearly as much as the whole.
function estimateDistance(wanted: string, name: string): number {
  if (wanted.length > 2 && name.includes(wanted)) return name.length === wanted.length ? 0 : 1;
  return Math.min(distance(wanted, name), distance(wanted, name.slice(0, wanted.length)) + 1);
}
