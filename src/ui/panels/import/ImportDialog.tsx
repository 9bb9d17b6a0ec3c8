import { useStore } from 'zustand';
import { useHost } from '../context.tsx';
import { Dialog } from '../Dialog.tsx';
import { Asking } from './Asking.tsx';
import { imports } from './import-state.ts';
import './import.css';

/** An import from its first byte to the floor: reading, questions with a preview, or why it cannot be done. */
export default function ImportDialog() {
  const { imports: port } = useHost();
  const view = useStore(imports, (state) => state.view);
  if (view === null) return null;
  const title = `Import ${view.source}`;
  if (view.step === 'asking') {
    return (
      <Dialog title={title} className="import-sheet">
        <Asking view={view} />
      </Dialog>
    );
  }
  return (
    <Dialog title={title} className="import-sheet narrow">
      {view.step === 'reading' ? (
        <section className="sheet-part" aria-label="Reading">
          <p className="say">
            {view.stage}: {Math.round(view.share * 100)} %
          </p>
          <progress value={view.share} max={1} aria-label="Reading the source" />
          <p className="aside">The open floor stays as it is meanwhile, and can be worked on once this is closed.</p>
          <div className="words">
            <button type="button" className="word" data-first onClick={() => port.cancel()}>
              Stop
            </button>
          </div>
        </section>
      ) : (
        <section className="sheet-part" role="alert">
          <p className="say">
            <bdi>{view.reason}</bdi>
          </p>
          <p>
            <bdi>{view.remedy}</bdi>
          </p>
          <p className="aside">Nothing was opened. The floor stays as it was.</p>
          <div className="words">
            <button type="button" className="word" data-first onClick={() => port.pick()}>
              Choose another file
            </button>
            <button type="button" className="word" onClick={() => port.cancel()}>
              Close
            </button>
          </div>
        </section>
      )}
    </Dialog>
  );
}
