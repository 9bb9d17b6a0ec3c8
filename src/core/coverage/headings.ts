/** Which headings of a walking person are seen at a place. Headings h and h + 180° are one. */

/** A person this near the lens's foot crosses its beams whatever the heading, metres. */
export const EVERY_HEADING_WITHIN = 0.5;

/**
 * Share of headings seen by detectors that see the place for walking past only.
 *
 * A heading is missed when it is closer than `crossingAngle` to every sight line, so what is missed lies in the gaps
 * between neighbouring directions turned by 90°, each shortened by 90° − crossingAngle at both ends.
 *
 * @param directions plan directions of the sight lines, degrees; any order; at least one
 * @param crossingAngle degrees, 0 up to but not 90
 */
export function computeHeadingShare(directions: readonly number[], crossingAngle: number): number {
  const sorted = directions.map((d) => ((d % 180) + 180) % 180).sort((a, b) => a - b);
  const blindPart = 180 - 2 * crossingAngle;
  let missed = 0;
  sorted.forEach((d, n) => {
    const next = n + 1 < sorted.length ? sorted[n + 1]! : sorted[0]! + 180;
    missed += Math.max(0, next - d - blindPart);
  });
  return 1 - missed / 180;
}

/** The five equal steps in which a share of headings is shown; 0 for none. */
export function headingStep(share: number): number {
  return share <= 0 ? 0 : (share * 5 + (1 - 1e-6)) | 0 || 1;
}

/** Is one heading seen on a sight line of this plan direction (degrees) by a detector that sees walking past only? */
export function crosses(heading: number, direction: number, crossingAngle: number): boolean {
  const off = (((heading - direction) % 180) + 180) % 180;
  return Math.min(off, 180 - off) >= crossingAngle - 1e-9;
}
