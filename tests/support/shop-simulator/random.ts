/**
 * Random numbers without a state: each is a hash of a seed, what it is for, and indices. What happens to one piece does not
 * depend on what was measured or corrected before, so that two policies meet the same tools, chips, shifts and misreads.
 */
function hash32(seed: number, keys: readonly (string | number)[]): number {
  let h = (seed ^ 0x9e3779b9) >>> 0;
  for (const key of keys) {
    let x: number;
    if (typeof key === "number") x = key | 0;
    else {
      x = 2166136261;
      for (let i = 0; i < key.length; i++) x = Math.imul(x ^ key.charCodeAt(i), 16777619);
    }
    h = Math.imul(h ^ x, 0x85ebca6b);
    h ^= h >>> 13;
    h = Math.imul(h, 0xc2b2ae35);
    h ^= h >>> 16;
    h = (h + 0x6d2b79f5) | 0;
  }
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
  h = Math.imul(h ^ (h >>> 12), 0x297a2d39);
  h ^= h >>> 15;
  return h >>> 0;
}

/** Uniform between 0 and 1, never either. */
export function uniform(seed: number, ...keys: (string | number)[]): number {
  return (hash32(seed, keys) + 0.5) / 4294967296;
}

/** Standard normal (Box and Muller). */
export function gauss(seed: number, ...keys: (string | number)[]): number {
  const u = uniform(seed, ...keys, "a");
  const v = uniform(seed, ...keys, "b");
  return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * v);
}

/** Rounds to a step, half away from zero. */
export function roundTo(x: number, step: number): number {
  if (!step) return x;
  const rounded = Math.round(Math.abs(x) / step + 1e-9) * step;
  return Number((Math.sign(x) * rounded).toFixed(9));
}
