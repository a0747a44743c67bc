/**
 * What a diagnosis looks at: the deviations of the features measured on one piece or on several, with all that says how a
 * cause would show in them. Lengths are doubles in mm; a position stands in two components.
 */
export interface Subject {
  readonly machineKind: "mill" | "lathe";
  readonly features: readonly SubjectFeature[];
  readonly registers: readonly SubjectRegister[];
  readonly gauges: readonly SubjectGauge[];
}

export type Vector = readonly [x: number, y: number, z: number];

export interface SubjectFeature {
  /** A size, the position of an axis, or something that no shift, turn or warmth moves (an angle, a roughness, a count). */
  readonly kind: "external" | "internal" | "depth" | "height" | "length" | "position" | "other";
  /** What warmth makes grow. */
  readonly nominalMm: number;
  /** T: distance from target to the nearer limit; of a position the radius of its zone. */
  readonly roomMm: number;
  /** V: variance of a piece about its expected size, without the gauge, mm². */
  readonly scatterMm2: number;
  /** Variance of what is the feature's own on every piece alike, mm². Large: only what changes between pieces counts. */
  readonly ownMm2: number;
  /** Where on the part it is, from the part's zero; undefined: not said. */
  readonly at: Vector | undefined;
  /** Direction in which its size grows when the cut moves that way; undefined: not said, or a shift leaves the size alone. */
  readonly direction: Vector | undefined;
  /** How deep along the tool it is cut. */
  readonly depthMm: number | undefined;
  /** Change of its size per +1 in each register, by the number of the register. */
  readonly effects: ReadonlyMap<number, number>;
}

export interface SubjectRegister {
  /** The tool that carries it, by any number; undefined: a work offset. */
  readonly tool: number | undefined;
  readonly controls: "radial" | "axial" | "x" | "z" | "work_x" | "work_y" | "work_z";
  /** The only seat in which a work offset acts. */
  readonly seat: string | undefined;
}

export interface SubjectGauge {
  /** It touches with a ball whose size it takes off: an error of the ball shows outside and inside the other way round. */
  readonly touchesWithBall: boolean;
}

/** One deviation from target, of one component of a feature on one piece by one gauge; repeats are one observation. */
export interface Observation {
  readonly feature: number;
  readonly component: "size" | "x" | "y";
  readonly piece: number;
  readonly gauge: number;
  readonly seat: string | undefined;
  /** Depth of the place that was measured, where the feature was measured at several; else the feature's own counts. */
  readonly depthMm: number | undefined;
  readonly deviationMm: number;
  /** Variance of the reading itself, mm². */
  readonly readingMm2: number;
}

/** A symmetric product a' S⁻¹ b over all observations. */
export type Product = (a: readonly number[], b: readonly number[]) => number;

/**
 * The product a' S⁻¹ b, where S is the covariance of the observations when no cause is at work: readings with variances of
 * their own, on pieces that scatter (all readings of one component on one piece share that), of features with a deviation of
 * their own (all pieces share that). Nested groups are inverted one inside the other (Sherman and Morrison):
 *   (D + V·11')⁻¹ = D⁻¹ − D⁻¹11'D⁻¹ · V / (1 + V·1'D⁻¹1)
 * so that the cost grows with the number of observations only.
 * @throws {RangeError} if a reading's variance is not above 0, or a feature's are below 0
 */
export function productOf(subject: Subject, observations: readonly Observation[]): Product {
  const features = new Map<string, { ownMm2: number; scatterMm2: number; pieces: Map<number, number[]> }>();
  observations.forEach(({ feature, component, piece, readingMm2 }, i) => {
    const { ownMm2, scatterMm2 } = subject.features[feature]!;
    if (!(readingMm2 > 0) || !(ownMm2 >= 0) || !(scatterMm2 >= 0)) {
      throw new RangeError(`variances must be above 0, got ${readingMm2}, ${scatterMm2} and ${ownMm2}`);
    }
    const key = `${feature} ${component}`;
    let group = features.get(key);
    if (!group) {
      group = { ownMm2, scatterMm2, pieces: new Map() };
      features.set(key, group);
    }
    const mine = group.pieces.get(piece);
    if (mine) mine.push(i);
    else group.pieces.set(piece, [i]);
  });
  const groups = [...features.values()].map(({ ownMm2, scatterMm2, pieces }) => ({
    ownMm2,
    scatterMm2,
    pieces: [...pieces.values()],
  }));
  const precisions = observations.map(({ readingMm2 }) => 1 / readingMm2);

  return (a, b) => {
    let total = 0;
    for (const { ownMm2, scatterMm2, pieces } of groups) {
      let weight = 0;
      let left = 0;
      let right = 0;
      for (const members of pieces) {
        let w = 0;
        let x = 0;
        let y = 0;
        for (const i of members) {
          const precision = precisions[i]!;
          w += precision;
          x += a[i]! * precision;
          y += b[i]! * precision;
          total += a[i]! * b[i]! * precision;
        }
        const shrink = 1 / (1 + scatterMm2 * w);
        total -= scatterMm2 * shrink * x * y;
        weight += w * shrink;
        left += x * shrink;
        right += y * shrink;
      }
      total -= (ownMm2 / (1 + ownMm2 * weight)) * left * right;
    }
    return total;
  };
}
