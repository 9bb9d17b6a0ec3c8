import type { Floor } from '../../../core/floor/index.ts';
import { listFindings } from '../../../editor/findings.ts';
import { findThing, KIND_WORDS, type Thing, type ThingKind } from '../../../editor/things.ts';
import { useEditor, useEditorStore } from '../context.tsx';
import {
  alignSelected,
  deleteSelected,
  distributeSelected,
  lockSelected,
  mergeSelected,
  repeatSelected,
} from '../edit-actions.ts';
import { count, joinNames } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { nameOf } from '../words.ts';
import { HEIGHTS_FROM, PropertyChoice, PropertyFlag, PropertyNumber } from './Properties.tsx';

interface Props {
  readonly floor: Floor;
  readonly ids: readonly string[];
}

const HEIGHT = { kind: 'length', min: 0, max: 50 } as const;
const ANGLE = { kind: 'angle', min: -360, max: 360 } as const;

/** Many things in hand: what they have in common, to be written for all of them at once. */
export default function SelectionNote({ floor, ids }: Props) {
  const store = useEditorStore();
  const about = useEditor(
    (state) => listFindings(state.result).filter((each) => each.about.some((id) => ids.includes(id))).length,
  );
  const things = ids.flatMap((id) => findThing(floor, id) ?? []);
  const kinds = countKinds(things);
  const all = `${things.length} things`;
  const [only] = kinds;
  const isOf = (kind: ThingKind): boolean => kinds.length === 1 && only?.[0] === kind;
  const furniture = ids.filter((id) => findThing(floor, id)?.kind === 'furniture');
  return (
    <>
      <NoteHead title={`${things.length} selected`} aside={kinds.length === 1 ? only?.[1] : undefined}>
        {about === 0 ? null : `${count(about, 'finding is', 'findings are')} about them.`}
      </NoteHead>
      <Ledger>
        {kinds.map(([kind, words]) => (
          <Row key={kind} label={words} wide>
            <bdi>
              {joinNames(
                things.filter((thing) => thing.kind === kind).map((thing) => nameOf(floor, thing)),
                4,
              )}
            </bdi>
          </Row>
        ))}
      </Ledger>
      {!isOf('group') && (
        <Ledger title="All of them">
          <PropertyNumber
            ids={ids}
            property="ceiling"
            label="ceiling"
            rule={{ kind: 'length', above: 0, max: 50 }}
            subject={`Ceiling of ${all}`}
          />
          <PropertyChoice ids={ids} property="ceilingFrom" label="ceiling is" options={HEIGHTS_FROM} />
          <PropertyNumber ids={ids} property="top" label="top" field="top" rule={HEIGHT} subject={`Top of ${all}`} />
          <PropertyNumber ids={ids} property="base" label="base" rule={HEIGHT} subject={`Base of ${all}`} />
          <PropertyFlag ids={ids} property="glass" label="glass" />
          {furniture.length === ids.length && (
            <PropertyChoice ids={ids} property="from" label="height is" options={HEIGHTS_FROM} />
          )}
          <PropertyNumber
            ids={ids}
            property="raised"
            label="can be raised by"
            rule={HEIGHT}
            subject={`Raising of ${all}`}
          />
          <PropertyNumber
            ids={ids}
            property="radius"
            label="radius"
            rule={{ kind: 'length', above: 0, max: 10 }}
            subject={`Radius of ${all}`}
          />
          <PropertyNumber
            ids={ids}
            property="facing"
            isOptional
            label="faces"
            rule={ANGLE}
            subject={`Facing of ${all}`}
          />
          <PropertyChoice
            ids={ids}
            property="posture"
            label="posture"
            options={[
              { value: 'seated', text: 'seated' },
              { value: 'standing', text: 'standing' },
            ]}
          />
          <PropertyChoice
            ids={ids}
            property="type"
            label="type"
            options={floor.types.map((type) => ({ value: type.id as string, text: type.name }))}
          />
          <PropertyNumber
            ids={ids}
            property="reach"
            label="reach"
            rule={{ kind: 'number', above: 0, max: 2 }}
            subject={`Reach of ${all}`}
          />
          <PropertyNumber
            ids={ids}
            property="height"
            label="height"
            rule={{ kind: 'length', above: 0, max: 50 }}
            subject={`Height of ${all}`}
          />
          <PropertyNumber ids={ids} property="turn" label="turn" rule={ANGLE} subject={`Turn of ${all}`} />
          <PropertyNumber ids={ids} property="sill" label="sill" rule={HEIGHT} subject={`Sill of ${all}`} />
          {isOf('opening') && (
            <PropertyChoice
              ids={ids}
              property="state"
              label="doors"
              options={[
                { value: 'closed', text: 'closed' },
                { value: 'open', text: 'open' },
              ]}
              none="as usual"
            />
          )}
        </Ledger>
      )}
      {!isOf('group') && (
        <div className="words">
          {(
            [
              ['left', 'Align left'],
              ['right', 'right'],
              ['top', 'top'],
              ['bottom', 'bottom'],
              ['middle of x', 'upright line'],
              ['middle of y', 'level line'],
            ] as const
          ).map(([alignment, word]) => (
            <button key={alignment} type="button" className="word" onClick={() => alignSelected(store, alignment)}>
              {word}
            </button>
          ))}
        </div>
      )}
      <div className="words">
        {things.length > 2 && !isOf('group') && (
          <>
            <button type="button" className="word" onClick={() => distributeSelected(store, 'x')}>
              Distribute along x
            </button>
            <button type="button" className="word" onClick={() => distributeSelected(store, 'y')}>
              along y
            </button>
          </>
        )}
        {isOf('room') && things.length === 2 && (
          <button type="button" className="word" onClick={() => mergeSelected(store)}>
            Merge the rooms
          </button>
        )}
        {isOf('detector') && (
          <>
            <button type="button" className="word" onClick={() => lockSelected(store, true)}>
              Lock
            </button>
            <button type="button" className="word" onClick={() => lockSelected(store, false)}>
              Unlock
            </button>
          </>
        )}
        <button type="button" className="word" onClick={() => repeatSelected(store)}>
          Repeat <kbd>Ctrl D</kbd>
        </button>
        <button type="button" className="word" onClick={() => deleteSelected(store)}>
          Delete <kbd>Del</kbd>
        </button>
      </div>
    </>
  );
}

/** How many of each kind there are, in words. */
function countKinds(things: readonly Thing[]): readonly (readonly [ThingKind, string])[] {
  const counts = new Map<ThingKind, number>();
  for (const { kind } of things) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts].map(([kind, number]) => [
    kind,
    `${number} ${number === 1 ? kind : KIND_WORDS[kind].toLowerCase()}`,
  ]);
}
