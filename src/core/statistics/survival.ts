/** How long one thing lasted: until it failed, or at least so long, where it was taken out before. */
export interface Lifetime {
  duration: number;
  failed: boolean;
}

/** From this duration on (until the next step) this share is expected to last longer. */
export interface SurvivalStep {
  duration: number;
  share: number;
}

/**
 * Share that lasts longer than a duration, from lives of which some were cut short (product-limit estimate):
 *   S(t) = Π over failures at tᵢ ≤ t of (1 − dᵢ / nᵢ),
 * where nᵢ are those that had lasted up to tᵢ; one taken out at tᵢ itself counts as having lasted.
 * @param lives in any order, durations of 0 and more in any unit
 * @returns a step for each duration at which something failed, in rising order
 * @throws {RangeError} if a duration is below 0 or not finite
 * @see Kaplan and Meier, Journal of the American Statistical Association 53 (1958) 457–481, section 2 (from memory)
 */
export function survivalSteps(lives: readonly Lifetime[]): SurvivalStep[] {
  if (!lives.every(({ duration }) => duration >= 0 && Number.isFinite(duration)))
    throw new RangeError("durations must be finite and not below 0");
  const sorted = [...lives].sort((a, b) => a.duration - b.duration);
  const steps: SurvivalStep[] = [];
  let share = 1;
  for (let i = 0; i < sorted.length; ) {
    const { duration } = sorted[i]!;
    const atRisk = sorted.length - i;
    let failures = 0;
    for (; i < sorted.length && sorted[i]!.duration === duration; i++) if (sorted[i]!.failed) failures += 1;
    if (failures === 0) continue;
    share *= 1 - failures / atRisk;
    steps.push({ duration, share });
  }
  return steps;
}

/**
 * Duration by which a share has failed: the first step at which no more than 1 − `failed` last longer.
 * @returns undefined where the lives known do not reach that far
 * @throws {RangeError} if `failed` is not above 0 and below 1
 */
export function lifeQuantile(steps: readonly SurvivalStep[], failed: number): number | undefined {
  if (!(failed > 0 && failed < 1))
    throw new RangeError(`a share above 0 and below 1 is needed, got ${failed}`);
  return steps.find(({ share }) => share <= 1 - failed + 1e-12)?.duration;
}
