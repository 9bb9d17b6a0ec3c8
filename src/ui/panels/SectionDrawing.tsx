import type { Section, SectionPiece } from '../../editor/probe.ts';
import { toneOf } from '../tokens.ts';
import { useEditor } from './context.tsx';
import { formatBare, formatMetres } from './format.ts';

const PAD = { left: 16, right: 52, top: 22, bottom: 18 } as const;
const MOST = { width: 208, height: 150 } as const;

/** The section along one sight line, true to scale: the lens at the left, the place at the right, what stands between cut through. */
export function SectionDrawing({ section }: { readonly section: Section }) {
  const theme = useEditor((state) => state.theme);
  const { line, length, ceiling, pieces, cut, clears, target } = section;
  const scale = Math.min(MOST.width / Math.max(length, 0.5), MOST.height / ceiling);
  const width = length * scale + PAD.left + PAD.right;
  const height = ceiling * scale + PAD.top + PAD.bottom;
  const x = (along: number): number => PAD.left + along * scale;
  const y = (up: number): number => PAD.top + (ceiling - up) * scale;
  const lensHeight = line.lens[2];
  const end = cut === null ? null : [x(cut.along), y(cut.height)];
  const short = line.sight.seen || line.sight.why !== 'range' ? null : line.sight.shortM;
  const reach = short === null ? null : Math.max(0, 1 - short / Math.max(length, 1e-6));
  const stop =
    end ??
    (reach === null ? [x(length), y(target.h)] : [x(length * reach), y(lensHeight + (target.h - lensHeight) * reach)]);
  // The measure stands behind its piece, or before it where the place is close behind.
  const behind = (piece: SectionPiece): boolean => (length - piece.to) * scale > 60;
  const blocker = clears === null ? undefined : pieces.find((piece) => piece.id === clears.id);
  return (
    <svg
      className="section"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="img"
      aria-label={sayName(section)}
    >
      <rect x={x(0) - 8} y={y(ceiling)} width={length * scale + 16} height={ceiling * scale} fill="var(--paper)" />
      <path
        d={`M${x(0) - 8} ${y(ceiling)} H${x(length) + 8} M${x(0) - 8} ${y(0)} H${x(length) + 8}`}
        stroke="var(--ink)"
        strokeWidth="1.25"
      />
      {pieces.map((piece) => (
        <g key={`${piece.id} ${piece.from}`}>
          <rect
            x={x(piece.from)}
            y={y(piece.top)}
            width={Math.max(1.5, (piece.to - piece.from) * scale)}
            height={Math.max(1, (piece.top - piece.base) * scale)}
            fill={toneOf(theme, piece.top, ceiling)}
            stroke="var(--ink)"
          />
          {(piece.to - piece.from) * scale > 26 &&
            (piece.top - piece.base) * scale > 16 &&
            piece.top / ceiling < 0.75 && (
              <text x={x((piece.from + piece.to) / 2)} y={y((piece.top + piece.base) / 2) + 4} textAnchor="middle">
                {formatBare(piece.top)}
              </text>
            )}
        </g>
      ))}
      <line x1={x(0)} y1={y(lensHeight)} x2={stop[0]} y2={stop[1]} stroke="var(--ink)" strokeWidth="1.5" />
      <line
        x1={stop[0]}
        y1={stop[1]}
        x2={x(length)}
        y2={y(target.h)}
        stroke="var(--ink)"
        strokeWidth="1.5"
        strokeDasharray="2 4"
      />
      {end !== null && (
        <path d={`M${(end[0] ?? 0) - 4} ${(end[1] ?? 0) - 4} l8 8 m0 -8 l-8 8`} stroke="var(--ink)" strokeWidth="1.5" />
      )}
      <circle cx={x(0)} cy={y(lensHeight)} r="4.5" fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.5" />
      <circle cx={x(length)} cy={y(target.h)} r="5" fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.5" />
      <circle cx={x(length)} cy={y(target.h)} r="1.5" fill="var(--ink)" />
      <text className="strong" x={x(0) - 8} y={y(ceiling) - 8}>
        {line.detector.name}
      </text>
      <text className="strong" x={x(length) + 10} y={y(target.h) + 4}>
        {formatBare(target.h)}
      </text>
      {clears !== null && blocker !== undefined && (
        <g>
          <path
            d={`M${behind(blocker) ? x(blocker.to) + 6 : x(blocker.from) - 12} ${y(blocker.top)} h6 m-3 0 V${y(blocker.top - clears.byM)} m-3 0 h6`}
            fill="none"
            stroke="var(--ink)"
            strokeWidth="1.25"
          />
          <text
            className="strong"
            x={behind(blocker) ? x(blocker.to) + 16 : x(blocker.from) - 16}
            y={y(blocker.top - clears.byM / 2) + 4}
            textAnchor={behind(blocker) ? 'start' : 'end'}
          >
            {formatBare(clears.byM)}
          </text>
        </g>
      )}
    </svg>
  );
}

function sayName({ line, length, clears, target }: Section): string {
  const fails = clears === null ? '' : ` ${clears.name} stands ${formatMetres(clears.byM)} into the line.`;
  return `Section from ${line.detector.name} at ${formatMetres(line.lens[2])} over ${formatMetres(length)} to the place at ${formatMetres(target.h)}.${fails}`;
}
