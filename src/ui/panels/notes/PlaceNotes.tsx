/** Notes of zones, sources and luminaires. */
import { lazy, Suspense } from 'react';
import { type Floor, type Luminaire, type Source, shareOf, type Zone } from '../../../core/floor/index.ts';
import { createChange } from '../../../editor/edits/change.ts';
import { refuseGone } from '../../../editor/edits/edit.ts';
import { findItem } from '../../../editor/edits/lists.ts';
import { placeThing } from '../../../editor/edits/moving.ts';
import { setZoneGroups } from '../../../editor/edits/zones.ts';
import { useEditor } from '../context.tsx';
import { formatShare, joinNames } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { NumberField } from '../NumberField.tsx';
import { nameOfId } from '../words.ts';
import { PropertyChoice, PropertyFlag, PropertyNumber, PropertyText, SetField } from './Properties.tsx';

const MaskNote = lazy(() => import('../plans/MaskNote.tsx'));

const HEIGHT = { kind: 'length', min: 0, max: 50 } as const;

/** Where a thing is, in x and y. */
export function PlaceFields({
  id,
  name,
  at,
}: {
  readonly id: string;
  readonly name: string;
  readonly at: readonly [number, number];
}) {
  return ([0, 1] as const).map((axis) => (
    <NumberField
      key={axis}
      label={axis === 0 ? 'x' : 'y'}
      value={at[axis]}
      rule={{ kind: 'length', min: -10_000, max: 10_000 }}
      plan={(file, value) => placeThing(file, id, axis === 0 ? [value, at[1]] : [at[0], value])}
      subject={`Place of ${name} in ${axis === 0 ? 'x' : 'y'}`}
    />
  ));
}

export function ZoneNote({ floor, zone }: { readonly floor: Floor; readonly zone: Zone }) {
  const verdict = useEditor((state) => state.result?.zones.find((each) => each.id === zone.id));
  const ids = [zone.id];
  const bound = zone.need === 'nobody' ? 'at most' : 'at least';
  return (
    <>
      <NoteHead title={zone.name} aside="zone" about={zone.id} />
      <Ledger>
        {verdict !== undefined && (
          <Row label="share seen" aside={`${bound} ${formatShare(shareOf(zone))}`}>
            <span className={verdict.met ? undefined : 'failing'}>{formatShare(verdict.share)}</span>
          </Row>
        )}
        {verdict !== undefined && (
          <Row label="verdict">{verdict.met ? 'met' : <span className="failing">not met</span>}</Row>
        )}
        <PropertyText ids={ids} property="name" label="name" />
        <PropertyChoice
          ids={ids}
          property="need"
          label="need"
          options={[
            { value: 'seated', text: 'seated people are seen' },
            { value: 'walking', text: 'walking people are seen' },
            { value: 'nobody', text: 'nobody is seen' },
          ]}
        />
        <PropertyNumber
          ids={ids}
          property="share"
          label={`share, ${bound}`}
          value={shareOf(zone)}
          rule={{ kind: 'number', min: 0, max: 1 }}
          subject={`Share of ${zone.name}`}
        />
        {zone.need === 'walking' && (
          <PropertyNumber
            ids={ids}
            property="heading"
            isOptional
            label="heading"
            rule={{ kind: 'angle', min: -360, max: 360 }}
            subject={`Heading of ${zone.name}`}
          />
        )}
      </Ledger>
      <SetField
        title="Groups counted"
        none="all that serve it"
        chosen={zone.groups ?? []}
        options={floor.groups.map((group) => ({ id: group.id, text: group.name }))}
        plan={(file, chosen) => setZoneGroups(file, ids, chosen.length === 0 ? null : chosen)}
      />
      {zone.need === 'nobody' && verdict?.met === false && (
        <Suspense>
          <MaskNote subject={{ kind: 'zone', id: zone.id }} what={zone.name} />
        </Suspense>
      )}
    </>
  );
}

const SOURCE_KINDS = (['heater', 'fan', 'air outlet', 'lamp', 'machine', 'other'] as const).map((value) => ({
  value,
  text: value,
}));

export function SourceNote({ floor, source }: { readonly floor: Floor; readonly source: Source }) {
  const seen = useEditor((state) => state.result?.sources.find((each) => each.id === source.id));
  const ids = [source.id];
  return (
    <>
      <NoteHead title={source.name} aside={source.kind} about={source.id} />
      <Ledger>
        <Row label="seen by" wide>
          {seen === undefined || seen.seenBy.length === 0 ? (
            'no detector'
          ) : (
            <bdi>{joinNames(seen.seenBy.map((id) => nameOfId(floor, id)))}</bdi>
          )}
        </Row>
        <PropertyText ids={ids} property="name" label="name" />
        <PropertyChoice ids={ids} property="kind" label="kind" options={SOURCE_KINDS} />
        <PropertyNumber
          ids={ids}
          property="radius"
          label="radius"
          value={source.radius}
          rule={{ kind: 'length', above: 0, max: 100 }}
          subject={`Radius of ${source.name}`}
        />
        <PropertyNumber
          ids={ids}
          property="base"
          label="base"
          value={source.base}
          rule={HEIGHT}
          subject={`Base of ${source.name}`}
        />
        <PropertyNumber
          ids={ids}
          property="top"
          label="top"
          value={source.top}
          rule={HEIGHT}
          subject={`Top of ${source.name}`}
        />
        <PlaceFields id={source.id} name={source.name} at={source.at} />
      </Ledger>
      {seen !== undefined && seen.seenBy.length > 0 && (
        <Suspense>
          <MaskNote subject={{ kind: 'source', id: source.id }} what={source.name} />
        </Suspense>
      )}
    </>
  );
}

export function LuminaireNote({ floor, luminaire }: { readonly floor: Floor; readonly luminaire: Luminaire }) {
  const { id, name, size } = luminaire;
  const ids = [id];
  return (
    <>
      <NoteHead title={name} aside="luminaire" about={id} />
      <Ledger>
        <PropertyText ids={ids} property="name" label="name" />
        {([0, 1] as const).map((axis) => (
          <NumberField
            key={axis}
            label={axis === 0 ? 'length' : 'width'}
            value={size[axis]}
            rule={{ kind: 'length', above: 0, max: 100 }}
            plan={(file, value) => {
              const item = findItem(file, 'luminaires', id);
              if (item === undefined) return refuseGone('luminaire');
              const change = createChange(file);
              change.set('luminaires', { ...item, size: axis === 0 ? [value, item.size[1]] : [item.size[0], value] });
              return change.plan(`Resized ${name}`, ids);
            }}
            subject={`${axis === 0 ? 'Length' : 'Width'} of ${name}`}
          />
        ))}
        <PropertyNumber
          ids={ids}
          property="base"
          label="base"
          value={luminaire.base}
          rule={HEIGHT}
          subject={`Base of ${name}`}
        />
        <PropertyNumber
          ids={ids}
          property="top"
          label="top"
          value={luminaire.top}
          rule={HEIGHT}
          subject={`Top of ${name}`}
        />
        <PropertyNumber
          ids={ids}
          property="turn"
          label="turn"
          value={luminaire.turn}
          rule={{ kind: 'angle', min: -360, max: 360 }}
          subject={`Turn of ${name}`}
        />
        <PropertyNumber
          ids={ids}
          property="watts"
          isOptional
          label="power, W"
          rule={{ kind: 'number', min: 0, max: 1e6 }}
          subject={`Power of ${name}`}
        />
        <PropertyFlag ids={ids} property="emergency" label="emergency" />
        <PropertyChoice
          ids={ids}
          property="group"
          label="switched by"
          none="no group"
          options={floor.groups.map((group) => ({ value: group.id as string, text: group.name }))}
        />
        <PlaceFields id={id} name={name} at={luminaire.at} />
      </Ledger>
    </>
  );
}
