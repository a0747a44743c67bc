import fc from "fast-check";
import type { Point2, Point3 } from "../../src/core/geometry/points.js";

/** Between 0 and 1. */
const share = fc.integer({ min: 0, max: 1e6 }).map((n) => n / 1e6);
const between = (low: number, high: number) => share.map((x) => low + x * (high - low));

/** Points about a circle round the origin, spread over an arc, each off by up to half of `formMm` in radius. */
export function nearCircle(
  options: { arcDeg?: number; formMm?: number; least?: number; most?: number } = {},
) {
  const { arcDeg = 360, formMm = 0.02, least = 5, most = 12 } = options;
  return fc
    .record({ radiusMm: between(5, 50), count: fc.integer({ min: least, max: most }) })
    .chain(({ radiusMm, count }) =>
      fc.record({
        radiusMm: fc.constant(radiusMm),
        points: fc.tuple(
          ...Array.from({ length: count }, (_, i) =>
            fc.tuple(between(0.1, 0.9), between(-formMm / 2, formMm / 2)).map(([place, off]): Point2 => {
              const angle = (((i + place) / count) * arcDeg * Math.PI) / 180;
              return [(radiusMm + off) * Math.cos(angle), (radiusMm + off) * Math.sin(angle)];
            }),
          ),
        ),
      }),
    );
}

/** Points on a grid over a face of z ≈ 0, jittered sideways, each off by up to half of `formMm`. */
export function nearPlane(options: { formMm?: number; rows?: number; columns?: number } = {}) {
  const { formMm = 0.02, rows = 3, columns = 3 } = options;
  return fc.tuple(
    ...Array.from({ length: rows * columns }, (_, i) =>
      fc
        .tuple(between(-3, 3), between(-3, 3), between(-formMm / 2, formMm / 2))
        .map(([dx, dy, z]): Point3 => [20 * (i % columns) + dx, 20 * Math.floor(i / columns) + dy, z]),
    ),
  );
}

/** Points along a line of y ≈ 0. */
export function nearLine(options: { formMm?: number; most?: number } = {}) {
  const { formMm = 0.02, most = 12 } = options;
  return fc
    .integer({ min: 3, max: most })
    .chain((count) =>
      fc.tuple(
        ...Array.from({ length: count }, (_, i) =>
          fc
            .tuple(between(0.1, 0.9), between(-formMm / 2, formMm / 2))
            .map(([place, y]): Point2 => [10 * (i + place), y]),
        ),
      ),
    );
}

export const angle = between(-Math.PI, Math.PI);
/** Up to 10 m along an axis. */
export const offset = between(-10_000, 10_000);

export function turned2(points: readonly Point2[], by: number, to: Point2 = [0, 0]): Point2[] {
  const [c, s] = [Math.cos(by), Math.sin(by)];
  return points.map(([x, y]) => [c * x - s * y + to[0], s * x + c * y + to[1]]);
}

/** Turned about z, then about x, then moved. */
export function turned3(
  points: readonly Point3[],
  aboutZ: number,
  aboutX: number,
  to: Point3 = [0, 0, 0],
): Point3[] {
  const [c, s] = [Math.cos(aboutZ), Math.sin(aboutZ)];
  const [d, t] = [Math.cos(aboutX), Math.sin(aboutX)];
  return points.map(([x, y, z]) => {
    const [u, v] = [c * x - s * y, s * x + c * y];
    return [u + to[0], d * v - t * z + to[1], t * v + d * z + to[2]];
  });
}

/** The result of a fit that must exist. */
export function fitted<Fit>(fit: Fit): Exclude<Fit, string> {
  if (typeof fit === "string") throw new Error(`no fit: ${fit}`);
  return fit as Exclude<Fit, string>;
}

/** Deviates of a standard normal distribution from a seed (Box and Muller over a multiplicative generator). */
export function normalDeviates(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
