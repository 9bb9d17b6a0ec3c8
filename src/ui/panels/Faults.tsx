import { formatFault } from '../../core/floor/index.ts';
import type { Refusal } from '../../editor/store.ts';
import { refuse } from '../../editor/view.ts';
import { useEditorStore, useHost } from './context.tsx';
import { writeFaults } from './fault-text.ts';
import { focusPage } from './focus.ts';
import { count } from './format.ts';

const SHOWN = 200;

/** What keeps a file from being opened, or a change from being made: one row per fault. The floor stays as it was. */
export default function Faults({ refusal }: { readonly refusal: Refusal }) {
  const store = useEditorStore();
  const host = useHost();
  const { fileName, faults } = refusal;
  const distinct = [...new Map(faults.map((fault) => [formatFault(fault), fault]))];
  return (
    <section className="faults" role="alert" aria-labelledby="faults-title">
      <h2 className="note-head" id="faults-title">
        <span className="note-title">{fileName === null ? 'This cannot be done' : <bdi>{fileName}</bdi>}</span>
        <span className="aside">{count(faults.length, 'fault')}</span>
      </h2>
      <p className="say">
        {fileName === null ? 'The floor stays as it was.' : 'The file is not opened. The floor stays as it was.'}
      </p>
      <ul>
        {distinct.slice(0, SHOWN).map(([line, fault]) => (
          <li key={line} className="fault">
            {fault.path !== '' && <bdi className="fault-path">{fault.path}</bdi>}
            <span className="fault-what" dir="auto">
              {fault.what}
            </span>
            <span className="fault-remedy">{fault.remedy}</span>
          </li>
        ))}
      </ul>
      {distinct.length > SHOWN && <p className="aside">{distinct.length - SHOWN} more. Ctrl C copies all.</p>}
      <div className="words">
        <button type="button" className="word" onClick={() => host.copyText(writeFaults(refusal))}>
          Copy all <kbd>Ctrl C</kbd>
        </button>
        <button
          type="button"
          className="word"
          onClick={() => {
            refuse(store, null);
            focusPage();
          }}
        >
          Close <kbd>Esc</kbd>
        </button>
      </div>
    </section>
  );
}
