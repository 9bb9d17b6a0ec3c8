/** The curve of every movement, (.2, 0, 0, 1), and small steps of arithmetic with it. */

export function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

/** cubic-bezier(.2, 0, 0, 1) at time t, 0 to 1. */
export function ease(t: number): number {
  if (t <= 0) return 0;
  if (t >= 1) return 1;
  // x(u) = 0.6 u (1 − u)² + u³ rises with u: halving finds the u of a time.
  let low = 0;
  let high = 1;
  for (let k = 0; k < 24; k++) {
    const u = (low + high) / 2;
    if (0.6 * u * (1 - u) ** 2 + u ** 3 < t) low = u;
    else high = u;
  }
  const u = (low + high) / 2;
  return 3 * u * u * (1 - u) + u ** 3;
}

/** The same angle, in degrees, less than half a turn from `near`. */
export function nearestTurn(angle: number, near: number): number {
  return near + ((((angle - near + 180) % 360) + 360) % 360) - 180;
}
