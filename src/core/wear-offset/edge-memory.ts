import type { Prior } from "./estimate.js";

/** What earlier edges of a register left behind: level when fresh, and rate per piece where it was seen long enough. */
export interface EdgeMemory {
  levels: number[];
  rates: number[];
}

const remembered = 12;

/**
 * Prior of a fresh edge from m earlier ones: mean = Σ/(m + 0.3), sd = √((sd₀² + Σ(record − mean)²)/(m + 1)); the rate's
 * sd is not taken below 0.15 sd₀.
 * @param plain the prior without memory, whose standard deviations are sd₀
 */
export function rememberedPrior(memory: EdgeMemory, plain: Prior): Prior {
  const level = summary(memory.levels, plain.levelVariance);
  const rate = summary(memory.rates, plain.rateVariance);
  return {
    level: level.mean,
    levelVariance: level.variance,
    rate: rate.mean,
    covariance: 0,
    rateVariance: Math.max(rate.variance, 0.15 ** 2 * plain.rateVariance),
  };
}

function summary(records: readonly number[], priorVariance: number): { mean: number; variance: number } {
  const mean = records.reduce((sum, x) => sum + x, 0) / (records.length + 0.3);
  const squares = records.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return { mean, variance: (priorVariance + squares) / (records.length + 1) };
}

/** Adds what an edge that has ended tells; only the latest dozen are kept. */
export function remember(memory: EdgeMemory, level: number, rate: number | undefined): EdgeMemory {
  return {
    levels: [...memory.levels, level].slice(-remembered),
    rates: rate === undefined ? memory.rates : [...memory.rates, rate].slice(-remembered),
  };
}
