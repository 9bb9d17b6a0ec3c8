import { formatArea } from '../format.ts';

export type Sign = 'red' | 'grey' | 'plus';

interface Props {
  readonly rows: readonly { readonly sign: Sign; readonly text: string; readonly areaM2: number }[];
}

/** What the signs on the plan mean, each with its area. */
export function MapKey({ rows }: Props) {
  return (
    <div className="map-key">
      {rows.map(({ sign, text, areaM2 }) => (
        <div key={sign} style={{ display: 'contents' }}>
          <svg viewBox="0 0 20 14" aria-hidden="true">
            {sign === 'red' && (
              <>
                <rect width="20" height="14" fill="var(--tint)" />
                <path d="M-2 8 L8 -2 M-2 16 L16 -2 M6 16 L22 0" stroke="var(--accent)" strokeWidth="1.75" />
              </>
            )}
            {sign === 'grey' && <path d="M-2 6 L8 16 M2 -2 L20 16 M12 -2 L22 8" stroke="var(--ink3)" />}
            {sign === 'plus' && <path d="M5 4 v6 M2 7 h6 M15 4 v6 M12 7 h6" stroke="var(--ink)" strokeWidth="1.4" />}
          </svg>
          <span>{text}</span>
          <span>{formatArea(areaM2)}</span>
        </div>
      ))}
    </div>
  );
}
