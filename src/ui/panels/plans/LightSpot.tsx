import { useMemo } from 'react';
import type { Floor } from '../../../core/floor/index.ts';
import { findSpotOfGroup } from '../../../core/planning/groups/group-plan.ts';
import { useEditor } from '../context.tsx';
import { formatMetres, joinNames } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { nameOfId } from '../words.ts';
import { drawSpot, nameSpot } from './group-sketch.ts';
import { useSketch } from './use-sketch.ts';

/** The spot that a main measures, drawn while it is in hand. */
export default function LightSpot({ floor, group }: { readonly floor: Floor; readonly group: string }) {
  const coverage = useEditor((state) => state.coverage);
  const version = useEditor((state) => state.coverageVersion);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the coverage changes in place; its version tells
  const spot = useMemo(() => (coverage === null ? null : findSpotOfGroup(coverage, group)), [coverage, version, group]);
  useSketch(spot === null ? [] : [...drawSpot(spot), ...nameSpot(spot)]);
  if (spot === null) return null;
  return (
    <Ledger title="Light sensor">
      <Row label="measures" wide>
        {formatMetres(spot.radius)} round
      </Row>
      <Row label="in the spot" wide>
        {spot.faults.length === 0 ? (
          'nothing that falsifies it'
        ) : (
          <bdi>
            {joinNames(spot.faults.map(({ kind, id }) => (kind === 'window' ? `window ${id}` : nameOfId(floor, id))))}
          </bdi>
        )}
      </Row>
    </Ledger>
  );
}
