import type { Analysis, DetectorType, Motion } from '../../../core/floor/index.ts';
import { type Extent, extentAt, hangRange } from '../../../core/sight/index.ts';
import { formatBare } from '../format.ts';
import { MOTION_WORDS } from '../words.ts';

interface Props {
  readonly type: DetectorType;
  /** Of the lens, metres. */
  readonly height: number;
  readonly analysis: Analysis;
}

const DASHES: Readonly<Record<Motion, string | undefined>> = { minor: undefined, radial: '9 5', tangential: '2 4' };
const MOTIONS: readonly Motion[] = ['tangential', 'radial', 'minor'];
const WIDTH = 420;
const FRAME = 24;

/** A section through the lens: how wide each motion is seen down to the floor, to scale in both directions. */
export function RangeDrawing({ type, height, analysis }: Props) {
  const halfAt = (motion: Motion, h: number): number => {
    const range = hangRange(type, motion, height, 1);
    return range === null ? 0 : halfOf(extentAt(range, height, h));
  };
  const heights = steps(height);
  const outlines = MOTIONS.map((motion) => ({
    motion,
    sides: heights.map((h) => ({ h, half: halfAt(motion, h) })).filter(({ half }) => half > 0),
  })).filter(({ sides }) => sides.length > 1);
  const widest = Math.max(1, ...outlines.flatMap(({ sides }) => sides.map(({ half }) => half)));
  const scale = (WIDTH - 2 * FRAME) / (2 * widest);
  const tall = Math.max(72, height * scale + 2 * FRAME);
  const x = (metres: number): number => WIDTH / 2 + metres * scale;
  const y = (metres: number): number => tall - FRAME - metres * scale;
  const planes = [
    { word: 'seated', h: analysis.seatedPlane, motion: 'minor' as const },
    { word: 'walking', h: analysis.walkingPlane, motion: 'tangential' as const },
  ].filter(({ h }) => h < height);
  const label = outlines
    .map(({ motion }) => {
      const plane = motion === 'minor' ? analysis.seatedPlane : analysis.walkingPlane;
      return `${MOTION_WORDS[motion]} ${formatBare(2 * halfAt(motion, plane))}`;
    })
    .join(', ');
  return (
    <svg
      className="range-drawing"
      viewBox={`0 0 ${WIDTH} ${tall}`}
      role="img"
      aria-label={outlines.length === 0 ? 'Nothing is seen at this height.' : `Widths seen at the planes: ${label}.`}
    >
      <line x1="0" x2={WIDTH} y1={y(0)} y2={y(0)} stroke="var(--ink)" strokeWidth="1.5" />
      {planes.map(({ word, h }) => (
        <g key={word}>
          <line x1="0" x2={WIDTH} y1={y(h)} y2={y(h)} stroke="var(--ink3)" />
          <text x="2" y={y(h) - 3} className="drawing-word">
            {word}
          </text>
        </g>
      ))}
      {outlines.map(({ motion, sides }) => (
        <path
          key={motion}
          d={[
            ...sides.map(({ h, half }, i) => `${i === 0 ? 'M' : 'L'}${x(-half)} ${y(h)}`),
            ...[...sides].reverse().map(({ h, half }) => `L${x(half)} ${y(h)}`),
          ].join(' ')}
          fill="none"
          stroke="var(--ink)"
          strokeWidth="1.5"
          strokeDasharray={DASHES[motion]}
        />
      ))}
      <circle cx={x(0)} cy={y(height)} r="5" fill="var(--ink)" />
    </svg>
  );
}

/** Heights from the floor up to the lens. */
function steps(height: number): readonly number[] {
  const count = 40;
  return Array.from({ length: count }, (_, i) => (height * i) / count);
}

/** Half of how wide it is along the detector's own axis. */
function halfOf(extent: Extent | null): number {
  if (extent === null) return 0;
  return extent.kind === 'round' ? extent.radius : extent.length / 2;
}
