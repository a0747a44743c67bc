/**
 * Coverage factor k of Student's distribution: the quantity lies within ±k standard uncertainties with a given probability.
 * With t = √ν · tan θ the probability between −t and t is a finite sum over powers of cos θ, which is solved for θ by halving.
 * @param probability above 0 and below 1, such as 0.95
 * @param degrees ν, a whole number from 1 on
 * @throws {RangeError} for anything else
 * @see Abramowitz and Stegun, 26.7.3 and 26.7.4 (from memory); JCGM 100:2008, G.3.4
 */
export function coverageFactor(probability: number, degrees: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError("a probability is between 0 and 1");
  if (!Number.isInteger(degrees) || degrees < 1) throw new RangeError("degrees of freedom are 1, 2, 3 …");
  let low = 0;
  let high = Math.PI / 2;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (probabilityInside(middle, degrees) < probability) low = middle;
    else high = middle;
  }
  return Math.sqrt(degrees) * Math.tan((low + high) / 2);
}

function probabilityInside(theta: number, degrees: number): number {
  const cosine = Math.cos(theta);
  const odd = degrees % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = degrees === 1 ? 0 : term;
  for (let power = odd ? 3 : 2; power <= degrees - 2; power += 2) {
    term *= (cosine ** 2 * (power - 1)) / power;
    sum += term;
  }
  const series = Math.sin(theta) * sum;
  return odd ? (2 / Math.PI) * (theta + series) : series;
}
