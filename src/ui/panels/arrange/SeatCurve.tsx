const SIZE = { width: 272, height: 120 } as const;
const PAD = { left: 30, right: 8, top: 8, bottom: 26 } as const;

interface Props {
  /** Workplaces met by the first k detectors, from none on. */
  readonly curve: readonly number[];
  readonly all: number;
}

/** Workplaces met against the number of detectors, in the order in which they bring most. */
export function SeatCurve({ curve, all }: Props) {
  const last = curve.length - 1;
  const x = (k: number): number => PAD.left + (k / last) * (SIZE.width - PAD.left - PAD.right);
  const y = (seats: number): number => SIZE.height - PAD.bottom - (seats / all) * (SIZE.height - PAD.top - PAD.bottom);
  const line = curve.map((seats, k) => `${x(k).toFixed(1)} ${y(seats).toFixed(1)}`).join(' L');
  const half = curve.findIndex((seats) => seats >= all / 2);
  const words = `With ${half < 0 ? last : half} detectors half of the workplaces are met; all ${last} meet ${curve[last]} of ${all}.`;
  return (
    <>
      <svg
        className="curve"
        viewBox={`0 0 ${SIZE.width} ${SIZE.height}`}
        width={SIZE.width}
        height={SIZE.height}
        role="img"
        aria-label={words}
      >
        <path
          d={`M${PAD.left} ${PAD.top} V${SIZE.height - PAD.bottom} H${SIZE.width - PAD.right}`}
          fill="none"
          stroke="var(--hair)"
        />
        <path d={`M${line}`} fill="none" stroke="var(--ink)" strokeWidth="1.5" />
        <text x={PAD.left - 6} y={y(all) + 5} textAnchor="end">
          {all}
        </text>
        <text x={PAD.left - 6} y={y(0)} textAnchor="end">
          0
        </text>
        <text className="soft" x={PAD.left} y={SIZE.height - 8}>
          workplaces met
        </text>
        <text x={SIZE.width - PAD.right} y={SIZE.height - 8} textAnchor="end">
          {last} detectors
        </text>
      </svg>
      <p className="aside">{words}</p>
    </>
  );
}
