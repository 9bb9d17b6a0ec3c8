import type { Target } from '../../../src/core/sight/index.ts';

/** Answers this near to the edge of a shadow, range, mask or room may go either way, metres. */
const NEAR = 0.001;

const AROUND: readonly (readonly [number, number])[] = [
  ...Array.from({ length: 16 }, (_, k) => [NEAR, (k * Math.PI) / 8] as const),
  ...Array.from({ length: 8 }, (_, k) => [NEAR / 2, (k * Math.PI) / 4 + 0.2] as const),
].map(([reach, angle]) => [reach * Math.cos(angle), reach * Math.sin(angle)]);

/** Is the answer for a place the same all round it, a millimetre away in plan? Then no edge is that near. */
export function isSettled(see: (target: Target) => boolean, { x, y, h }: Target): boolean {
  const here = see({ x, y, h });
  return AROUND.every(([dx, dy]) => see({ x: x + dx, y: y + dy, h }) === here);
}
