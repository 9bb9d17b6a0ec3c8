import { useId } from 'react';
import { putUnderlay, setPlacement } from '../../../editor/edits/underlays.ts';
import { startTool } from '../../../editor/tool-run.ts';
import { type Placement, readUnderlay } from '../../../editor/underlay.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { Dialog } from '../Dialog.tsx';
import { closeDialog } from '../dialog-state.ts';
import { makeEdit } from '../edit-actions.ts';
import { Ledger } from '../Ledger.tsx';
import { NumberField } from '../NumberField.tsx';
import './underlay.css';

/** The picture under the plan: choosing it, its page, and how it lies. */
export default function UnderlayDialog() {
  const store = useEditorStore();
  const host = useHost();
  const id = useId();
  const notes = useEditor((state) => state.file.notes);
  const shown = useEditor((state) => state.underlay);
  const notice = useEditor((state) => state.notice);
  const underlay = readUnderlay(notes);
  const place = (patch: Partial<Placement>, name: string): void => {
    makeEdit(store, setPlacement(store.getState().file, patch, name), true);
  };
  return (
    <Dialog title="Picture under the plan" className="underlay-sheet">
      <div className="sheet-part">
        <label htmlFor={`${id}file`}>
          {underlay === null
            ? 'A PNG or JPEG picture, or a PDF document'
            : `Another picture in the place of ${underlay.name}`}
        </label>
        <input
          id={`${id}file`}
          className="field wide"
          data-first
          type="file"
          accept=".png,.jpg,.jpeg,.pdf,image/png,image/jpeg,application/pdf"
          onChange={(event) => {
            const [file] = event.target.files ?? [];
            if (file !== undefined) host.layUnderlay(file, 1);
          }}
        />
        <p role="status" className="aside">
          {statusOf(underlay?.name ?? null, shown?.status ?? null) ?? notice?.text ?? ''}
        </p>
      </div>
      {underlay !== null && (
        <section className="sheet-part" aria-label="How the picture lies">
          <Ledger>
            {shown !== null && shown.pages > 1 && (
              <div className="row">
                <label className="row-label" htmlFor={`${id}page`}>
                  page of {shown.pages}
                </label>
                <select
                  id={`${id}page`}
                  className="row-value field wide"
                  value={underlay.page}
                  onChange={(event) => host.layUnderlay(null, Number(event.target.value))}
                >
                  {Array.from({ length: Math.min(shown.pages, 500) }, (_, i) => i + 1).map((page) => (
                    <option key={page} value={page}>
                      {page}
                    </option>
                  ))}
                </select>
              </div>
            )}
            <NumberField
              label="width"
              value={underlay.width * underlay.placement.scale}
              rule={{ kind: 'length', above: 0, max: 20_000 }}
              plan={(file, value) =>
                setPlacement(file, { scale: value / underlay.width }, 'Set the width of the picture')
              }
              subject="Width of the picture"
            />
            <NumberField
              label="left corner, x"
              value={underlay.placement.at[0]}
              rule={{ kind: 'length', min: -20_000, max: 20_000 }}
              plan={(file, value) => setPlacement(file, { at: [value, underlay.placement.at[1]] }, 'Moved the picture')}
              subject="Place of the picture"
            />
            <NumberField
              label="left corner, y"
              value={underlay.placement.at[1]}
              rule={{ kind: 'length', min: -20_000, max: 20_000 }}
              plan={(file, value) => setPlacement(file, { at: [underlay.placement.at[0], value] }, 'Moved the picture')}
              subject="Place of the picture"
            />
            <NumberField
              label="turn"
              value={underlay.placement.turn}
              rule={{ kind: 'angle', min: -360, max: 360 }}
              plan={(file, value) => setPlacement(file, { turn: value }, 'Turned the picture')}
              subject="Turn of the picture"
            />
            <NumberField
              label="darkness"
              value={underlay.placement.opacity}
              rule={{ kind: 'number', min: 0, max: 1 }}
              plan={(file, value) => setPlacement(file, { opacity: value }, 'Set the darkness of the picture')}
              slider={{ min: 0, max: 1, step: 0.05 }}
              subject="Darkness of the picture"
            />
            <div className="row">
              <label className="row-label" htmlFor={`${id}locked`}>
                locked
              </label>
              <input
                id={`${id}locked`}
                type="checkbox"
                checked={underlay.placement.locked}
                onChange={(event) =>
                  place(
                    { locked: event.target.checked },
                    event.target.checked ? 'Locked the picture' : 'Unlocked the picture',
                  )
                }
              />
            </div>
          </Ledger>
        </section>
      )}
      {underlay !== null && (
        <div className="sheet-note words">
          <button
            type="button"
            className="word"
            onClick={() => {
              closeDialog();
              startTool(store, 'underlay');
            }}
          >
            Scale or move it on the plan
          </button>
          <button
            type="button"
            className="word"
            onClick={() =>
              makeEdit(store, putUnderlay(store.getState().file, null, `Took ${underlay.name} away`), true)
            }
          >
            Take it away
          </button>
        </div>
      )}
    </Dialog>
  );
}

/** What is to be said of the picture; null: nothing beside the last notice. */
function statusOf(name: string | null, status: 'loading' | 'ready' | 'missing' | null): string | null {
  if (name === null || status === null) return null;
  if (status === 'loading') return `Reading ${name}.`;
  if (status === 'missing') return `${name} is not kept in this browser. Choose the file again: it lies as it lay.`;
  return null;
}
