import { lazy, Suspense } from 'react';
import type { CheckResult } from '../../../core/coverage/result.ts';
import { type Detector, type Floor, lensHeightOf, type Motion } from '../../../core/floor/index.ts';
import { type Extent, type HungRange, hangRange, rangeAt } from '../../../core/sight/index.ts';
import { edit, type Recipe } from '../../../editor/history.ts';
import { planByHand, sayLocked } from '../../../editor/locks.ts';
import { measureToWalls } from '../../../editor/measure.ts';
import {
  addMask,
  moveDetector,
  setDetectorType,
  setLensHeight,
  setReach,
  turnDetector,
} from '../../../editor/recipes.ts';
import { isResultStale } from '../../../editor/store.ts';
import { select } from '../../../editor/view.ts';
import { useEditor, useEditorStore } from '../context.tsx';
import { openDialog } from '../dialog-state.ts';
import { SelectField } from '../Fields.tsx';
import { formatArea, formatBare, formatChange, formatMetres } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { NumberField } from '../NumberField.tsx';
import { MOTION_WORDS, nameOfId } from '../words.ts';
import { MaskLedger } from './MaskLedger.tsx';
import { PropertyChoice, PropertyText } from './Properties.tsx';

const LightSpot = lazy(() => import('../plans/LightSpot.tsx'));

interface Props {
  readonly floor: Floor;
  readonly detector: Detector;
  /** The same detector before the running gesture. */
  readonly before: Detector;
}

export function DetectorNote({ floor, detector, before }: Props) {
  const store = useEditorStore();
  const result = useEditor((state) => state.result);
  const stale = useEditor(isResultStale);
  const type = floor.types.find((each) => each.id === detector.type);
  const { id, name } = detector;
  const byHand = (recipe: Recipe) => planByHand(store.getState(), id, recipe);
  const mask = (what: string, angles: Parameters<typeof addMask>[1]): void => {
    if (!sayLocked(store, id)) edit(store, what, addMask(id, angles));
  };
  const height = lensHeightOf(detector, floor);
  const walls = measureToWalls(floor, detector.at);
  const group = floor.groups.find((each) => each.main === id || each.extensions.some((ext) => ext === id));
  const seen = result?.detectors.find((each) => each.id === id);

  return (
    <>
      <NoteHead title={name} aside={[type?.name, roleOf(floor, detector)].filter(Boolean).join(', ')} about={id}>
        {seen === undefined ? null : saySeen(seen)}
      </NoteHead>
      <Ledger>
        {walls.map((wall) => (
          <NumberField
            key={wall.axis}
            label={`from the ${wall.side} wall`}
            value={wall.distance}
            rule={{ kind: 'length', min: 0.01, max: 1000 }}
            plan={(_, distance) =>
              byHand(moveDetector(id, withAxis(detector.at, wall.axis, wall.wall + wall.sign * distance)))
            }
            subject={`Distance of ${name} from the ${wall.side} wall`}
            aside={formatChange(detector.at[wall.axis] - before.at[wall.axis])}
          />
        ))}
        {([0, 1] as const).map((axis) => (
          <NumberField
            key={axis}
            label={axis === 0 ? 'x' : 'y'}
            value={detector.at[axis]}
            rule={{ kind: 'length', min: -10_000, max: 10_000 }}
            plan={(_, value) => byHand(moveDetector(id, withAxis(detector.at, axis, value)))}
            subject={`Place of ${name} in ${axis === 0 ? 'x' : 'y'}`}
          />
        ))}
        <NumberField
          label="height"
          value={height}
          rule={{ kind: 'length', above: 0, max: 50 }}
          plan={(_, value) => byHand(setLensHeight(id, value))}
          subject={`Height of ${name}`}
          aside={detector.height === undefined ? 'at ceiling' : formatChange(height - lensHeightOf(before, floor))}
        />
        <NumberField
          label="turn"
          value={detector.turn}
          rule={{ kind: 'angle', min: -360, max: 360 }}
          plan={(_, value) => byHand(turnDetector(id, value))}
          subject={`Turn of ${name}`}
        />
        <NumberField
          label="reach"
          value={detector.reach}
          rule={{ kind: 'number', above: 0, max: 2 }}
          plan={(_, value) => byHand(setReach(id, value))}
          subject={`Reach of ${name}`}
        />
        <SelectField
          label="type"
          value={detector.type as string}
          options={floor.types.map((each) => ({ value: each.id as string, text: each.name }))}
          of={id}
          recipe={(value) => setDetectorType(id, value)}
          subject={`Type of ${name}`}
        />
        <PropertyText ids={[id]} property="name" label="name" />
        <PropertyChoice
          ids={[id]}
          property="status"
          label="status"
          options={[
            { value: 'new', text: 'new' },
            { value: 'existing', text: 'existing' },
            { value: 'remove', text: 'to be removed' },
          ]}
        />
        <PropertyChoice
          ids={[id]}
          property="locked"
          label="place"
          options={[
            { value: false, text: 'free' },
            { value: true, text: 'locked' },
          ]}
        />
      </Ledger>

      {numberMasks(detector).map(({ key, mask, index }) => (
        <MaskLedger
          key={key}
          detector={detector}
          mask={mask}
          index={index}
          drop={height - floor.analysis.seatedPlane}
        />
      ))}
      {group?.main === id && (
        <Suspense>
          <LightSpot floor={floor} group={group.id} />
        </Suspense>
      )}
      <div className="words">
        {group !== undefined && (
          <button type="button" className="word" onClick={() => select(store, [group.id])}>
            Group <bdi>{group.name}</bdi>
          </button>
        )}
        <button type="button" className="word" aria-haspopup="dialog" onClick={() => openDialog('types')}>
          Edit the type
        </button>
        <button
          type="button"
          className="word"
          data-action="add-mask"
          onClick={() => mask(`Added a mask to ${name}`, { from: 0, to: 30, inner: 40, outer: 90 })}
        >
          Add a mask
        </button>
        {listProposals(result, detector).map(({ source, mask: angles }) => (
          <button
            key={source}
            type="button"
            className="word"
            onClick={() => mask(`Masked ${nameOfId(floor, source)} from ${name}`, angles)}
          >
            Hide <bdi>{nameOfId(floor, source)}</bdi>: {angles.from}° to {angles.to}°
          </button>
        ))}
      </div>

      {type !== undefined && (
        <Ledger title="Ranges">
          {(['minor', 'radial', 'tangential'] as const).map((motion) => {
            const plane = motion === 'minor' ? floor.analysis.seatedPlane : floor.analysis.walkingPlane;
            const stated = hangRange(type, motion, height, detector.reach);
            return (
              <Row
                key={motion}
                label={
                  <>
                    <LineSample motion={motion} /> {MOTION_WORDS[motion]}
                  </>
                }
                aside={stated === null ? undefined : sayStated(stated, plane)}
              >
                {sayExtent(rangeAt(floor, detector, motion, plane))}
              </Row>
            );
          })}
        </Ledger>
      )}
      {seen !== undefined && (
        <Ledger title="Sees, seated" stale={stale}>
          <Row label="in all">{formatArea(seen.seatedM2)}</Row>
          <Row label="that no other sees">{formatArea(seen.aloneM2)}</Row>
          <Row label="walking">{formatArea(seen.walkingM2)}</Row>
        </Ledger>
      )}
    </>
  );
}

/** A mask has no id: its place in the list is its address. */
function numberMasks(detector: Detector) {
  return detector.masks.map((mask, index) => ({ key: `${detector.id} ${index}`, mask, index }));
}

function withAxis(at: readonly [number, number], axis: 0 | 1, value: number): [number, number] {
  return axis === 0 ? [value, at[1]] : [at[0], value];
}

function roleOf(floor: Floor, detector: Detector): string {
  for (const group of floor.groups) {
    if (group.main === detector.id) return `main of ${group.name}`;
    if (group.extensions.includes(detector.id)) return `extension of ${group.name}`;
  }
  return 'on its own';
}

function saySeen(seen: CheckResult['detectors'][number]): string {
  if (seen.seatedM2 === 0) return 'It sees no seated person.';
  const alone = seen.aloneM2 === 0 ? 'Others see all of it too.' : `${formatArea(seen.aloneM2)} of it no other sees.`;
  return `It sees seated people on ${formatArea(seen.seatedM2)}. ${alone}`;
}

/** Masks that would hide a source this detector sees, as the check proposes them. */
function listProposals(result: CheckResult | null, detector: Detector) {
  const masks = (result?.sources ?? []).flatMap((source) => {
    const mask = source.masks.find((each) => each.detector === detector.id);
    return mask === undefined || !source.seenBy.includes(detector.id) ? [] : [{ source: source.id, mask }];
  });
  return masks;
}

function sayExtent(extent: Extent | null): string {
  if (extent === null) return 'none';
  if (extent.kind === 'round') return formatMetres(extent.radius * 2);
  return `${formatBare(extent.length)} × ${formatMetres(extent.width)}`;
}

/** Where the stated size holds, and the size itself where that is another height than the one shown. */
function sayStated(stated: HungRange, plane: number): string {
  const at = `at ${formatBare(stated.plane)}`;
  if (stated.plane === plane) return at;
  return `${stated.kind === 'round' ? formatBare(stated.radius * 2) : `${formatBare(stated.length)} × ${formatBare(stated.width)}`} ${at}`;
}

const DASHES: Readonly<Record<Motion, string | undefined>> = { minor: undefined, radial: '9 5', tangential: '2 4' };

function LineSample({ motion }: { motion: Motion }) {
  return (
    <svg className="line-sample" width="28" height="8" aria-hidden="true">
      <line x1="0" y1="4" x2="28" y2="4" stroke="currentColor" strokeWidth="1.5" strokeDasharray={DASHES[motion]} />
    </svg>
  );
}
