/** A height z over a place (x, y). */
export type Height = readonly [x: number, y: number, z: number];

/** All heights lie between a·x + b·y + low and a·x + b·y + high. */
export interface Slab {
  readonly a: number;
  readonly b: number;
  readonly low: number;
  readonly high: number;
}

/**
 * The slab of least vertical width that holds every point (Chebyshev's problem for z ≈ a·x + b·y + c). Exchange: the
 * minimum of a few points is found by enumeration; the points farthest outside join them, those not touched leave. The
 * width grows with every exchange and is bounded, so that it ends, at the minimum of them all.
 * @param points whose places do not lie on one line
 * @throws {RangeError} if the places lie on one line
 */
export function leastSlab(points: readonly Height[]): Slab {
  const anchors = widestTriangle(points);
  const rounding =
    4 * Number.EPSILON * points.reduce((most, point) => Math.max(most, ...point.map(Math.abs)), 0);
  let held = new Set(anchors);
  let slab = leastSlabOfFew([...held].map((i) => points[i]!));
  for (;;) {
    const { lowest, highest } = extremes(points, slab);
    const width = slab.high - slab.low;
    const slack = 1e-12 * width + rounding;
    const size = held.size;
    if (residual(points[lowest]!, slab) < slab.low - slack) held.add(lowest);
    if (residual(points[highest]!, slab) > slab.high + slack) held.add(highest);
    if (held.size === size) return spanned(points, slab);
    slab = leastSlabOfFew([...held].map((i) => points[i]!));
    if (slab.high - slab.low > width) {
      const near = 1e-9 * (slab.high - slab.low) + rounding;
      const touched = [...held].filter((i) => {
        const height = residual(points[i]!, slab);
        return height <= slab.low + near || height >= slab.high - near;
      });
      held = new Set([...anchors, ...touched]);
    }
  }
}

function residual([x, y, z]: Height, { a, b }: { a: number; b: number }): number {
  return z - a * x - b * y;
}

function extremes(points: readonly Height[], slope: { a: number; b: number }) {
  let [lowest, highest, low, high] = [0, 0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < points.length; i++) {
    const height = residual(points[i]!, slope);
    if (height < low) [lowest, low] = [i, height];
    if (height > high) [highest, high] = [i, height];
  }
  return { lowest, highest, low, high };
}

function spanned(points: readonly Height[], { a, b }: { a: number; b: number }): Slab {
  const { low, high } = extremes(points, { a, b });
  return { a, b, low, high };
}

/** Three places far apart: the slopes are bounded by any set of points that holds them. */
function widestTriangle(points: readonly Height[]): number[] {
  const farthest = (measure: (point: Height) => number) =>
    points.reduce((best, point, i) => (measure(point) > measure(points[best]!) ? i : best), 0);
  const first = farthest(([x, y]) => Math.hypot(x - points[0]![0], y - points[0]![1]));
  const [x0, y0] = points[first]!;
  const second = farthest(([x, y]) => Math.hypot(x - x0, y - y0));
  const [dx, dy] = [points[second]![0] - x0, points[second]![1] - y0];
  const area = ([x, y]: Height) => Math.abs(dx * (y - y0) - dy * (x - x0));
  const third = farthest(area);
  if (!(area(points[third]!) > 0)) throw new RangeError("the places lie on one line");
  return [first, second, third];
}

/** A least slab touches three points on one side and one on the other, or two and two; all such slopes are tried. */
function leastSlabOfFew(points: readonly Height[]): Slab {
  const edges = points.flatMap(([x, y, z], i) =>
    points.slice(i + 1).map(([x2, y2, z2]) => [x2 - x, y2 - y, z2 - z] as const),
  );
  let best: Slab | undefined;
  edges.forEach(([x1, y1, z1], i) => {
    for (const [x2, y2, z2] of edges.slice(i + 1)) {
      const determinant = x1 * y2 - x2 * y1;
      if (determinant === 0) continue;
      const slab = spanned(points, {
        a: (z1 * y2 - z2 * y1) / determinant,
        b: (x1 * z2 - x2 * z1) / determinant,
      });
      if (!best || slab.high - slab.low < best.high - best.low) best = slab;
    }
  });
  return best!;
}
