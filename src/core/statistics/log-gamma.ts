const coefficients = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/**
 * ln Γ(x), relative error about 10⁻¹⁴.
 * @param x from 0.5 on
 * @see C. Lanczos, SIAM J. Numer. Anal. B 1 (1964) 86–96; coefficients for g = 7 from memory
 */
export function logGamma(x: number): number {
  const [first = 0, ...rest] = coefficients;
  const series = rest.reduce((all, c, i) => all + c / (x + i), first);
  const t = x + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(series);
}
