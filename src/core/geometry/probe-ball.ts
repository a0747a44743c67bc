import type { NoFit } from "./points.js";

/**
 * Diameter of a round surface from that of the circle on which the centres of a probe's ball lay while it touched it: a hole
 * is larger by the ball's diameter, a boss smaller. Centre and deviations are the same for both circles.
 * @param centresMm diameter of the circle of centres, `ballMm` that of the ball, both in mm
 * @returns mm, or `ball_too_large` where nothing is left of the boss
 * @throws {RangeError} if the ball's diameter is negative or not finite
 */
export function diameterOfSurface(
  centresMm: number,
  ballMm: number,
  touched: "inside" | "outside",
): number | NoFit {
  if (!(ballMm >= 0 && Number.isFinite(ballMm))) {
    throw new RangeError(`a ball's diameter must be 0 or more, got ${ballMm}`);
  }
  if (touched === "inside") return centresMm + ballMm;
  return centresMm > ballMm ? centresMm - ballMm : "ball_too_large";
}
