/**
 * Probability that a sample of n out of a lot holds none of its nonconforming pieces, exactly:
 *   P₀ = C(N − D, n)/C(N, n) = Π_{i<min(n, D)} (N − max(n, D) − i)/(N − i)
 * @param atLeast where P₀ falls below this, 0 is answered: it saves the rest of the product
 * @throws {RangeError} if a number is not whole or above the lot size
 */
export function probabilityOfNone(lotSize: number, nonconforming: number, n: number, atLeast = 0): number {
  for (const value of [lotSize, nonconforming, n]) {
    if (!(Number.isSafeInteger(value) && value >= 0 && value <= lotSize)) {
      throw new RangeError(`must be whole numbers up to the lot size, got ${value}`);
    }
  }
  const [fewer, more] = nonconforming < n ? [nonconforming, n] : [n, nonconforming];
  let probability = 1;
  for (let i = 0; i < fewer; i += 1) {
    probability *= (lotSize - more - i) / (lotSize - i);
    if (probability < atLeast) return 0;
  }
  return Math.max(0, probability);
}

/**
 * Smallest sample without acceptance number (Ac = 0) that accepts a lot with the given number of nonconforming pieces at
 * most with probability `consumerRisk`.
 * @throws {RangeError} if nothing is nonconforming, or the risk does not lie between 0 and 1
 */
export function smallestZeroPlan(lotSize: number, nonconforming: number, consumerRisk: number): number {
  mustBeShare(consumerRisk);
  if (nonconforming < 1) throw new RangeError("a plan can only guard against 1 nonconforming piece or more");
  const guards = (n: number) => probabilityOfNone(lotSize, nonconforming, n, consumerRisk) <= consumerRisk;
  let [low, high] = [0, lotSize - nonconforming + 1]; // P₀ is 0 at `high`
  while (low < high) {
    const middle = (low + high) >> 1;
    if (guards(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * Largest sample with Ac = 0 that still accepts a lot with the given number of nonconforming pieces with probability
 * 1 − `producerRisk` or more.
 * @throws {RangeError} if the risk does not lie between 0 and 1
 */
export function largestZeroPlan(lotSize: number, nonconforming: number, producerRisk: number): number {
  mustBeShare(producerRisk);
  const accepts = (n: number) => probabilityOfNone(lotSize, nonconforming, n) >= 1 - producerRisk;
  let [low, high] = [0, lotSize];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (accepts(middle)) low = middle;
    else high = middle - 1;
  }
  return low;
}

function mustBeShare(risk: number): void {
  if (!(risk > 0 && risk < 1)) throw new RangeError(`a risk lies between 0 and 1, got ${risk}`);
}
