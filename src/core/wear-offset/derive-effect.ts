/** How a feature is cut, as far as it says which way and how far a register moves its size. */
export interface CutGeometry {
  readonly machineKind: "mill" | "lathe";
  readonly featureKind: "external" | "internal" | "depth" | "height" | "length";
  /** How many walls of the feature this tool cuts. */
  readonly walls: 1 | 2 | null;
  readonly register: {
    readonly label: string;
    readonly controls: "radial" | "axial" | "x" | "z" | "work_x" | "work_y" | "work_z";
    readonly holds: "radius" | "diameter" | null;
    readonly sign: "normal" | "reversed";
  };
  /** What an entry of plus really does to the size, seen at the machine. */
  readonly plusMakes: "bigger" | "smaller" | null;
  readonly effect: number | null;
}

export interface EffectFault {
  readonly field: "walls" | "plus_makes" | "effect";
  readonly detail: string;
}

export const largestEffect = 10;

/**
 * Effect of a register on a feature: the change of its size per +1 in the register, both in the same unit.
 *   size of the effect: walls × (1 for a radius, ½ for a diameter) on `radial` and `x`; 1 on `axial`, `z` and work offsets
 *   sign, where geometry leaves no doubt, in a register of normal sign:
 *     radial   + external; − internal between two walls (a larger value keeps the cutter further from the wall)
 *     axial    − depth; + height (a larger value lifts the tool)
 *     x        + every diameter of a lathe, outside and inside (tool on the plus side)
 * Everywhere else `plusMakes` says the sign. A reversed register flips what is derived, never what was seen at the
 * machine. An explicit effect stands as it is.
 * @throws {RangeError} if `effect` is 0, not finite or beyond ±10
 * @see operator manual of a CNC control, section on tool wear offsets; trade-magazine column "Offset specification with
 *   cutter compensation" (radius or diameter values); common practice, no source
 */
export function deriveEffect(cut: CutGeometry): number | EffectFault {
  const { effect, plusMakes } = cut;
  if (effect !== null) return checkGiven(cut, effect);
  const size = sizeOfEffect(cut);
  if (typeof size !== "number") return size;
  const derived = derivedSign(cut);
  const seen = plusMakes === null ? undefined : plusMakes === "bigger" ? 1 : -1;
  if (derived !== undefined && seen !== undefined && derived !== seen) {
    return {
      field: "plus_makes",
      detail:
        `"plus_makes": "${plusMakes}" contradicts the set-up, by which +1 in ${cut.register.label} changes ${describe(cut)} ` +
        `by ${signed(derived * size)}. If the machine really does the opposite, mend what the register "controls", its ` +
        '"sign" or the "walls", or send the "effect" itself',
    };
  }
  const sign = derived ?? seen;
  if (sign !== undefined) return sign * size;
  return {
    field: "plus_makes",
    detail:
      `the set-up does not say which way ${cut.register.label} moves ${describe(cut)}: send "plus_makes": "bigger" if ` +
      'adding to the register makes it bigger, "plus_makes": "smaller" if it makes it smaller',
  };
}

function checkGiven({ register, plusMakes }: CutGeometry, effect: number): number | EffectFault {
  if (!(Math.abs(effect) <= largestEffect) || effect === 0) {
    throw new RangeError(`effect must be a number other than 0, at most ±${largestEffect}, got ${effect}`);
  }
  if (plusMakes === null || (plusMakes === "bigger") === effect > 0) return effect;
  return {
    field: "effect",
    detail:
      `"effect": ${effect} says that adding to ${register.label} makes the feature ${effect > 0 ? "bigger" : "smaller"}, ` +
      `"plus_makes" says ${plusMakes}: send the one that is true and leave the other out`,
  };
}

function sizeOfEffect(cut: CutGeometry): number | EffectFault {
  const { register, walls } = cut;
  if (isWorkOffset(cut)) return sizeOfShift(cut);
  if (register.controls === "axial" || register.controls === "z") {
    if (walls !== 2) return 1;
    return {
      field: "walls",
      detail: `${register.label} moves a tool along its axis, which shifts one face and not two: send "walls": 1 or the "effect" itself`,
    };
  }
  const counted = walls ?? (isTurnedDiameter(cut) ? 2 : undefined);
  if (counted !== undefined) return register.holds === "radius" ? counted : counted / 2;
  return {
    field: "walls",
    detail: `how far ${register.label} moves ${describe(cut)} depends on the walls this tool cuts: send "walls": 2 if it cuts both sides of the feature, "walls": 1 if only one`,
  };
}

/** A work offset shifts the whole part under the tool: what is cut moves against what was there before. */
function sizeOfShift(cut: CutGeometry): number | EffectFault {
  const { register, walls, machineKind, featureKind } = cut;
  if (walls === 2) {
    return {
      field: "walls",
      detail: `${register.label} shifts both walls of a feature alike, which leaves its size as it is: send "walls": 1 if the other wall was there before, or leave the register out`,
    };
  }
  const isDiameter = featureKind === "external" || featureKind === "internal";
  if (machineKind === "lathe" && register.controls === "work_x" && isDiameter && walls !== 1) {
    return {
      field: "effect",
      detail: `is missing: whether ${register.label} counts in radius or diameter is the control's own, so send "effect": 1 or -1 if it counts in diameter, 2 or -2 in radius`,
    };
  }
  return 1;
}

function isWorkOffset({ register }: CutGeometry): boolean {
  return register.controls.startsWith("work_");
}

function derivedSign(cut: CutGeometry): 1 | -1 | undefined {
  const normal = normalSign(cut);
  return normal !== undefined && cut.register.sign === "reversed" ? (normal === 1 ? -1 : 1) : normal;
}

function normalSign(cut: CutGeometry): 1 | -1 | undefined {
  const { featureKind, walls } = cut;
  switch (cut.register.controls) {
    case "radial":
      if (featureKind === "external") return 1;
      return featureKind === "internal" && walls === 2 ? -1 : undefined;
    case "axial":
      return featureKind === "depth" ? -1 : featureKind === "height" ? 1 : undefined;
    case "x":
      return isTurnedDiameter(cut) ? 1 : undefined;
    case "z":
    case "work_x":
    case "work_y":
    case "work_z":
      return undefined;
  }
}

function isTurnedDiameter({ machineKind, featureKind, walls, register }: CutGeometry): boolean {
  const isDiameter = featureKind === "external" || featureKind === "internal";
  return register.controls === "x" && machineKind === "lathe" && isDiameter && walls !== 1;
}

function describe({ featureKind, walls }: CutGeometry): string {
  const kind = {
    external: "an outside size",
    internal: "an inside size",
    depth: "a depth",
    height: "a height",
    length: "a length",
  };
  return kind[featureKind] + (walls === null ? "" : walls === 2 ? " cut on both sides" : " cut on one side");
}

function signed(value: number): string {
  return value > 0 ? `+${value}` : String(value);
}
