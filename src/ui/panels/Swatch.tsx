import type { ReactNode } from 'react';
import type { Cause } from '../../core/coverage/result.ts';

/** A piece of the floor's paint: texture by cause, an amount's colour, or white paper. */
export function Swatch({ of }: { readonly of: Cause | 'seen' | 'ramp' | number }) {
  if (typeof of === 'number') return <Box fill={`var(--amount-${of + 1})`} edge="var(--ink3)" />;
  switch (of) {
    case 'ramp':
      return (
        <svg className="swatch ramp" viewBox="0 0 110 14" width="110" height="14" aria-hidden="true">
          {[0, 1, 2, 3, 4].map((i) => (
            <rect
              key={i}
              x={i * 22 + 0.5}
              y="0.5"
              width="21"
              height="13"
              fill={`var(--amount-${i + 1})`}
              stroke="var(--ink3)"
            />
          ))}
        </svg>
      );
    case 'seen':
      return <Box fill="var(--paper)" edge="var(--ink3)" />;
    case 'hidden':
      return (
        <Box fill="var(--tint)" edge="var(--accent)">
          <path d="M2 14 L9 0 M8 14 L15 0 M14 14 L21 0" fill="none" stroke="var(--accent)" strokeWidth="1.25" />
        </Box>
      );
    case 'masked':
      return (
        <Box fill="var(--tint)" edge="var(--accent)">
          <path
            d="M4 14 A10 10 0 0 1 14 4 M9 14 A5 5 0 0 1 14 9 M-1 14 A15 15 0 0 1 14 -1 M14 4 h8 M14 9 h8"
            fill="none"
            stroke="var(--accent)"
            strokeWidth="1.25"
          />
        </Box>
      );
    case 'range':
      return (
        <Box fill="var(--tint)" edge="var(--accent)">
          <g fill="var(--accent)">
            {[3, 9, 15, 21].map((x) => (
              <circle key={x} cx={x} cy="4" r="1.1" />
            ))}
            {[6, 12, 18].map((x) => (
              <circle key={x} cx={x} cy="9.5" r="1.1" />
            ))}
          </g>
        </Box>
      );
    case 'headings':
      return (
        <Box fill="var(--tint)" edge="var(--accent)">
          <path
            d="M3 7 h5 M13 7 h5 M8 3 v0 M5.5 11 h5 M15.5 11 h5 M5.5 3 h5 M15.5 3 h5"
            fill="none"
            stroke="var(--accent)"
            strokeWidth="1.25"
          />
        </Box>
      );
  }
}

function Box({ fill, edge, children }: { fill: string; edge: string; children?: ReactNode }) {
  return (
    <svg className="swatch" viewBox="0 0 22 14" width="22" height="14" aria-hidden="true">
      <rect width="22" height="14" fill={fill} />
      {children}
      <rect x="0.5" y="0.5" width="21" height="13" fill="none" stroke={edge} />
    </svg>
  );
}
