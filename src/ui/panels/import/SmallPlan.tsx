import type { PlanSketch } from './import-port.ts';

interface Props {
  readonly plan: PlanSketch;
  readonly label: string;
}

/** A small plan: rooms as paper, walls and furniture in ink. */
export function SmallPlan({ plan, label }: Props) {
  const { box } = plan;
  if (box === null) return <span className="small-plan empty">nothing to draw</span>;
  const [x, y, width, height] = box;
  const edge = Math.max(width, height) * 0.03;
  return (
    <svg
      className="small-plan"
      viewBox={`${x - edge} ${y - edge} ${width + 2 * edge} ${height + 2 * edge}`}
      role="img"
      aria-label={label}
    >
      <path className="plan-rooms" d={plan.rooms} />
      <path className="plan-walls" d={plan.walls} />
      <path className="plan-pieces" d={plan.pieces} />
      <path className="plan-openings" d={plan.openings} />
    </svg>
  );
}
