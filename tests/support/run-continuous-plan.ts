/** Pseudo-random numbers from 0 to 1: a multiplicative generator modulo 2³¹ − 1 (Park and Miller, 1988, from memory). */
export function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

export interface RunOfPlan {
  inspected: number;
  /** Bad pieces that got through. */
  passedBad: number;
  /** Bad pieces found, which are taken out. */
  found: number;
}

/**
 * Runs a continuous plan piece by piece: all are inspected until `i` in a row are good, then each with chance `f`, until a
 * bad one is found. Knows nothing of the formulas.
 * @param pieces how many pieces come along, each bad with chance `p`
 */
export function runContinuousPlan(
  plan: { i: number; f: number },
  p: number,
  pieces: number,
  random: () => number,
): RunOfPlan {
  const run = { inspected: 0, passedBad: 0, found: 0 };
  let goodInARow = 0;
  let isSampling = false;
  for (let piece = 0; piece < pieces; piece += 1) {
    const isBad = random() < p;
    if (isSampling && random() >= plan.f) {
      if (isBad) run.passedBad += 1;
      continue;
    }
    run.inspected += 1;
    if (isBad) {
      run.found += 1;
      goodInARow = 0;
      isSampling = false;
    } else if (!isSampling) {
      goodInARow += 1;
      isSampling = goodInARow === plan.i;
    }
  }
  return run;
}
