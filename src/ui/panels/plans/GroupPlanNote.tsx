import { lazy, Suspense, useMemo, useState } from 'react';
import type { RoomId } from '../../../core/floor/ids.ts';
import type { Floor } from '../../../core/floor/index.ts';
import { describeCable } from '../../../core/planning/groups/cable.ts';
import { type GroupLimit, type GroupPlan, planGroupOf } from '../../../core/planning/groups/group-plan.ts';
import type { SpotFault } from '../../../core/planning/light/light-spot.ts';
import { useEditor } from '../context.tsx';
import { openDialog } from '../dialog-state.ts';
import { count, formatArea, formatMetres, joinNames } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { nameOfId } from '../words.ts';
import { GroupSettingsNote } from './GroupSettingsNote.tsx';
import { drawCable, drawSpot } from './group-sketch.ts';
import { useSketch } from './use-sketch.ts';
import './plans.css';

const MaskNote = lazy(() => import('./MaskNote.tsx'));

/** What a group is in figures: cable against its limit, legs, area, daylight, the light spot, and settings by use. */
export default function GroupPlanNote({ floor, id }: { readonly floor: Floor; readonly id: string }) {
  const coverage = useEditor((state) => state.coverage);
  const version = useEditor((state) => state.coverageVersion);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the coverage changes in place; its version tells
  const plan = useMemo(() => (coverage === null ? undefined : planGroupOf(coverage, id)), [coverage, version, id]);
  useSketch(plan === undefined ? [] : [...drawCable(plan.cable), ...(plan.spot === null ? [] : drawSpot(plan.spot))]);
  if (coverage === null || plan === undefined) return null;
  const limitOf = (kind: GroupLimit['kind']) => plan.limits.find((each) => each.kind === kind);
  return (
    <>
      <Ledger title="Cable and limits">
        <LimitRow label="cable" limit={limitOf('cable')} say={formatMetres} />
        <LimitRow label="extensions" limit={limitOf('extensions')} say={String} />
        <LimitRow label="lights" limit={limitOf('energy area')} say={formatArea} value={plan.ownM2} />
        <LimitRow label="open plan, US" limit={limitOf('open-plan area')} say={formatArea} hidesUnknown />
        <Row label="daylight" wide>
          {sayDaylight(plan)}
        </Row>
        <Row label="light spot" wide>
          {plan.spot === null ? (
            'no light sensor'
          ) : plan.spot.faults.length === 0 ? (
            `${formatMetres(plan.spot.radius)} round, clear`
          ) : (
            <bdi>{joinNames(plan.spot.faults.map((fault) => nameFault(floor, fault)))}</bdi>
          )}
        </Row>
      </Ledger>
      {plan.limits.some(({ kind, met }) => kind === 'energy area' && met === false) && (
        <p className="plan-remark">Over 30 m² the energy credit is lost (EN 15193, from memory: verify).</p>
      )}
      {plan.remarks.map((remark) => (
        <p key={remark} className="plan-remark">
          {remark}
        </p>
      ))}
      <Legs floor={floor} plan={plan} />
      <div className="words">
        <button type="button" className="word" onClick={() => openDialog('groups')}>
          Propose groups
        </button>
        <button type="button" className="word" onClick={() => openDialog('energy')}>
          Energy estimate
        </button>
      </div>
      <GroupSettingsNote coverage={coverage} id={id} version={version} />
      <Spill floor={floor} id={id} />
    </>
  );
}

function LimitRow({
  label,
  limit,
  say,
  value,
  hidesUnknown = false,
}: {
  readonly label: string;
  readonly limit: GroupLimit | undefined;
  readonly say: (value: number) => string;
  /** Where no limit is held. */
  readonly value?: number;
  readonly hidesUnknown?: boolean;
}) {
  if (limit === undefined && (hidesUnknown || value === undefined)) return null;
  return (
    <Row label={label} aside={sayBound(limit, say)}>
      {say(limit?.value ?? value ?? 0)}
    </Row>
  );
}

function sayBound(limit: GroupLimit | undefined, say: (value: number) => string): string | null {
  if (limit === undefined) return null;
  if (limit.limit === null) return 'no limit';
  return `${limit.met === false ? 'over' : 'of'} ${say(limit.limit)}`;
}

function sayDaylight({ daylight, daylitPlaces, innerPlaces }: GroupPlan): string {
  switch (daylight) {
    case 'mixed':
      return `${daylitPlaces.length} of ${count(daylitPlaces.length + innerPlaces.length, 'place')} at a window`;
    case 'daylit':
      return 'all places at a window';
    case 'inner':
      return 'no place at a window';
    case 'no places':
      return 'no places to light';
  }
}

function nameFault(floor: Floor, { kind, id }: SpotFault): string {
  return kind === 'window' ? `window ${id}` : nameOfId(floor, id);
}

function Legs({ floor, plan }: { readonly floor: Floor; readonly plan: GroupPlan }) {
  const { legs, options } = plan.cable;
  if (legs.length === 0) return null;
  return (
    <>
      <table className="plan-table">
        <caption className="ledger-title">Cable in order</caption>
        <thead>
          <tr>
            <th scope="col">leg</th>
            <th scope="col">plan</th>
            <th scope="col">drops</th>
            <th scope="col">with reserve</th>
          </tr>
        </thead>
        <tbody>
          {legs.map((leg) => (
            <tr key={leg.to}>
              <th scope="row">
                <bdi>{nameOfId(floor, leg.from)}</bdi> to <bdi>{nameOfId(floor, leg.to)}</bdi>
              </th>
              <td>{formatMetres(leg.planM)}</td>
              <td>{formatMetres(leg.dropM)}</td>
              <td>{formatMetres(leg.totalM)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="aside plan-remark">{describeCable(options)}</p>
    </>
  );
}

/** Rooms it sees and does not serve; the masks for one of them are worked out when asked for. */
function Spill({ floor, id }: { readonly floor: Floor; readonly id: string }) {
  const result = useEditor((state) => state.result);
  const [asked, setAsked] = useState<RoomId | null>(null);
  const spill = result?.spill.filter(({ group, areaM2 }) => group === id && areaM2 > 0.5) ?? [];
  if (spill.length === 0) return null;
  return (
    <section className="plan-part" aria-label="What it sees and does not serve">
      <h3 className="ledger-title">Sees and does not serve</h3>
      {spill.map(({ room, areaM2 }) => (
        <div key={room} className="plan-choice">
          <div className="words">
            <span>
              <bdi>{nameOfId(floor, room)}</bdi>, {formatArea(areaM2)}
            </span>
            <button
              type="button"
              className="word"
              aria-expanded={asked === room}
              aria-label={`${asked === room ? 'Close' : 'Mask it'}: ${nameOfId(floor, room)}`}
              onClick={() => setAsked(asked === room ? null : room)}
            >
              {asked === room ? 'Close' : 'Mask it'}
            </button>
          </div>
          {asked === room && (
            <Suspense>
              <MaskNote
                subject={{ kind: 'spill', group: id as (typeof spill)[number]['group'], room }}
                what={nameOfId(floor, room)}
              />
            </Suspense>
          )}
        </div>
      ))}
    </section>
  );
}
