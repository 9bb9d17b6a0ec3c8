import { useState } from 'react';
import { lensHeightOf, type Motion } from '../../core/floor/index.ts';
import { addDetectorType } from '../../editor/edits/detector-types.ts';
import { deleteThings } from '../../editor/edits/removal.ts';
import { heldDetector } from '../../editor/nudges.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { Dialog } from './Dialog.tsx';
import { makeEdit } from './edit-actions.ts';
import { count, formatMetres } from './format.ts';
import { Ledger } from './Ledger.tsx';
import { Choice, PropertyFlag, PropertyNumber, PropertyText } from './notes/Properties.tsx';
import { CellNumber } from './types/CellNumber.tsx';
import { RangeDrawing } from './types/RangeDrawing.tsx';
import { RangeTable } from './types/RangeTable.tsx';

const MOTIONS: readonly Motion[] = ['minor', 'tangential', 'radial'];

/** Detector types: a data sheet entered row by row, with a drawing that follows. */
export default function TypesDialog() {
  const store = useEditorStore();
  const floor = useEditor((state) => state.floor);
  const [chosen, setChosen] = useState<string | null>(heldDetector(store.getState())?.type ?? null);
  const [hung, setHung] = useState<number | null>(null);
  const type = floor.types.find((each) => each.id === chosen) ?? floor.types[0];
  const users = floor.detectors.filter((each) => each.type === type?.id);
  const [first] = users;
  const height = hung ?? (first === undefined ? (type?.ranges[0]?.mounting ?? 3) : lensHeightOf(first, floor));
  const add = (): void => {
    const planned = addDetectorType(store.getState().file, { origin: 'own data sheet' });
    if (makeEdit(store, planned, true) && planned.ok) setChosen(planned.ids[0] ?? null);
  };
  return (
    <Dialog title="Detector types" className="types-sheet">
      <section className="types-body" aria-label="Detector types">
        <div className="words type-choice">
          <Choice
            label="type"
            value={type?.id ?? ''}
            options={[
              ...(type === undefined ? [{ value: '', text: 'none yet' }] : []),
              ...floor.types.map((each) => ({ value: each.id as string, text: each.name })),
            ]}
            onChoose={setChosen}
          />
          <button type="button" className="word" data-first onClick={add}>
            New type
          </button>
          {type !== undefined && users.length === 0 && (
            <button
              type="button"
              className="word"
              onClick={() => makeEdit(store, deleteThings(store.getState().file, [type.id]), true)}
            >
              Delete this type
            </button>
          )}
          {users.length > 0 && <span className="aside">used by {count(users.length, 'detector')}</span>}
        </div>
        {type !== undefined && (
          <div className="types-parts" key={type.id}>
            <div>
              <Ledger>
                <PropertyText ids={[type.id]} property="name" label="name" />
                <PropertyText ids={[type.id]} property="origin" label="figures from" />
                <PropertyNumber
                  ids={[type.id]}
                  property="drop"
                  label="below the ceiling"
                  rule={{ kind: 'length', min: 0, max: 50 }}
                  subject={`Drop of ${type.name}`}
                />
                <PropertyFlag ids={[type.id]} property="lightSensor" label="light sensor" />
                <PropertyNumber
                  ids={[type.id]}
                  property="extensionLimit"
                  isOptional
                  label="extensions, at most"
                  rule={{ kind: 'number', min: 0, max: 2000 }}
                  subject={`Extensions of ${type.name}`}
                />
                <PropertyNumber
                  ids={[type.id]}
                  property="cableLimit"
                  isOptional
                  label="cable, at most"
                  rule={{ kind: 'length', above: 0, max: 100_000 }}
                  subject={`Cable of ${type.name}`}
                />
                <PropertyNumber
                  ids={[type.id]}
                  property="lensDiameter"
                  isOptional
                  label="lens"
                  rule={{ kind: 'length', above: 0, max: 1 }}
                  subject={`Lens of ${type.name}`}
                />
              </Ledger>
            </div>
            <figure className="range-figure">
              <RangeDrawing type={type} height={height} analysis={floor.analysis} />
              <figcaption>
                <span>
                  Hung at{' '}
                  <CellNumber
                    label="Drawn as hung at"
                    value={height}
                    rule={{ kind: 'length', above: 0, max: 50 }}
                    write={(value) => {
                      setHung(value);
                      return null;
                    }}
                  />
                </span>
                <span className="aside">
                  seated {formatMetres(floor.analysis.seatedPlane)}, walking {formatMetres(floor.analysis.walkingPlane)}
                </span>
              </figcaption>
            </figure>
            <div className="range-tables">
              {MOTIONS.map((motion) => (
                <RangeTable key={motion} type={type} motion={motion} analysis={floor.analysis} />
              ))}
            </div>
          </div>
        )}
      </section>
    </Dialog>
  );
}
