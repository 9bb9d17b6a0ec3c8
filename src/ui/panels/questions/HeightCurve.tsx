import type { SweepResult } from '../../../core/planning/question/sweep.ts';
import { formatArea, formatBare, formatMetres } from '../format.ts';

const SIZE = { width: 272, height: 190 } as const;
const PAD = { left: 44, right: 34, top: 14, bottom: 30 } as const;

interface Props {
  readonly result: SweepResult;
  /** The height the pieces have now, where they all have one. */
  readonly now: number | null;
  /** The height the slider is at. */
  readonly at: number;
}

/** Height upwards, blind square metres to the right; a red square where workplaces are lost, with how many; a bracket over what costs none. */
export function HeightCurve({ result, now, at }: Props) {
  const { points, free, workplaces } = result;
  const [low, high] = [points[0]?.top ?? 0, points.at(-1)?.top ?? 1];
  const blind = points.map((point) => point.seatedBlindM2);
  const [least, most] = [Math.min(...blind), Math.max(...blind)];
  const span = Math.max(most - least, 1);
  const x = (area: number): number => PAD.left + ((area - least) / span) * (SIZE.width - PAD.left - PAD.right);
  const y = (top: number): number =>
    SIZE.height - PAD.bottom - ((top - low) / (high - low)) * (SIZE.height - PAD.top - PAD.bottom);
  const areaAt = (top: number): number => {
    const next = points.findIndex((point) => point.top >= top);
    const [a, b] = [points[Math.max(0, next - 1)], points[next < 0 ? points.length - 1 : next]];
    if (a === undefined || b === undefined) return least;
    const part = b.top === a.top ? 0 : (top - a.top) / (b.top - a.top);
    return a.seatedBlindM2 + (b.seatedBlindM2 - a.seatedBlindM2) * Math.min(1, Math.max(0, part));
  };
  const curve = points.map((point) => `${x(point.seatedBlindM2).toFixed(1)} ${y(point.top).toFixed(1)}`).join(' L');
  const lost = new Map<number, number>();
  for (const { metUpTo } of workplaces) {
    if (metUpTo === null) continue;
    // Squares nearer than this would lie on one another.
    const near = [...lost.keys()].find((top) => Math.abs(top - metUpTo) <= 0.06) ?? metUpTo;
    lost.set(near, (lost.get(near) ?? 0) + 1);
  }
  const disc = (top: number, name: string, full: boolean) => (
    <g>
      <circle
        cx={x(areaAt(top))}
        cy={y(top)}
        r="5"
        fill={full ? 'var(--ink)' : 'var(--paper)'}
        stroke="var(--ink)"
        strokeWidth="1.5"
      />
      <text x={x(areaAt(top)) - 10} y={y(top) - 6} textAnchor="end">
        {name}
      </text>
    </g>
  );
  return (
    <svg
      className="curve"
      viewBox={`0 0 ${SIZE.width} ${SIZE.height}`}
      width={SIZE.width}
      height={SIZE.height}
      role="img"
      aria-label={`Blind area of seated people against height: ${formatArea(blind[0] ?? 0)} at ${formatMetres(low)}, ${formatArea(blind.at(-1) ?? 0)} at ${formatMetres(high)}.`}
    >
      <path
        d={`M${PAD.left - 8} ${PAD.top} V${SIZE.height - PAD.bottom + 8} H${SIZE.width - 8}`}
        fill="none"
        stroke="var(--hair)"
      />
      {[low, (low + high) / 2, high].map((top) => (
        <text key={top} className="soft" x={PAD.left - 12} y={y(top) + 4} textAnchor="end">
          {formatBare(top)}
        </text>
      ))}
      <text className="soft" x={PAD.left} y={SIZE.height - 6}>
        {formatArea(least)}
      </text>
      <text className="soft" x={SIZE.width - 8} y={SIZE.height - 6} textAnchor="end">
        {formatArea(least + span)} blind
      </text>
      {free !== null && workplaces.length > 0 && (
        <path d={`M${PAD.left - 2} ${y(low)} h-5 V${y(free)} h5`} fill="none" stroke="var(--ink)" strokeWidth="1.5" />
      )}
      <path d={`M${curve}`} fill="none" stroke="var(--ink)" strokeWidth="1.75" />
      {[...lost].map(([top, many]) => (
        <g key={top}>
          <rect x={x(areaAt(top)) - 4} y={y(top) - 4} width="8" height="8" fill="var(--accent)" />
          <text x={x(areaAt(top)) + 9} y={y(top) + 10}>
            {many}
          </text>
        </g>
      ))}
      {now !== null && now >= low && now <= high && disc(now, 'now', true)}
      {disc(at, '', false)}
    </svg>
  );
}
