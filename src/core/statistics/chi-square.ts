const points99 = [
  6.635, 9.21, 11.345, 13.277, 15.086, 16.812, 18.475, 20.09, 21.666, 23.209, 24.725, 26.217, 27.688, 29.141,
  30.578, 32.0, 33.409, 34.805, 36.191, 37.566,
];

/**
 * 99 % point of the chi-square distribution; beyond 20 degrees of freedom by Wilson and Hilferty's approximation.
 * @param degrees a whole number; 0 gives 0
 * @see common statistical tables (from memory); NIST/SEMATECH e-Handbook 1.3.6.7.4
 */
export function chiSquare99(degrees: number): number {
  if (degrees === 0) return 0;
  const known = points99[degrees - 1];
  if (known !== undefined) return known;
  const share = 2 / (9 * degrees);
  return degrees * (1 - share + 2.326348 * Math.sqrt(share)) ** 3;
}
