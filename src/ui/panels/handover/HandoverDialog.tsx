import { useEffect, useRef, useState } from 'react';
import { useEditorStore, useHost } from '../context.tsx';
import { Dialog } from '../Dialog.tsx';
import type { PaperBundle, PaperFile, PaperRequest, PaperRun, Papers } from './papers.ts';
import './handover.css';

type Stage =
  | { readonly at: 'choosing'; readonly trouble: string | null }
  | { readonly at: 'making'; readonly title: string; readonly share: number }
  | { readonly at: 'made'; readonly bundle: PaperBundle };

const SCALES: readonly (readonly [text: string, scale: number | null])[] = [
  ['as suits the paper', null],
  ['1:50', 50],
  ['1:100', 100],
  ['1:200', 200],
];

/** The documents of the open floor: chosen, made off the main thread, downloaded one by one or all together. */
export default function HandoverDialog() {
  const store = useEditorStore();
  const host = useHost();
  const [papers, setPapers] = useState<Papers | null>(null);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [paper, setPaper] = useState<PaperRequest['paper']>('a4');
  const [scale, setScale] = useState<number | null>(null);
  const [stage, setStage] = useState<Stage>({ at: 'choosing', trouble: null });
  const run = useRef<PaperRun | null>(null);
  useEffect(() => {
    host.loadPapers().then(setPapers, (error: unknown) => setStage({ at: 'choosing', trouble: sayTrouble(error) }));
    // Closing the dialog calls off what is being made.
    return () => run.current?.cancel();
  }, [host]);
  const chosen = papers?.parts.filter((part) => !left.has(part.name)) ?? [];
  const isMaking = stage.at === 'making';
  // The parts come after the dialog: the first of them takes the focus then.
  const first = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (papers !== null) first.current?.focus();
  }, [papers]);

  const make = (): void => {
    if (papers === null || chosen.length === 0) return;
    const request = { file: store.getState().file, parts: chosen.map((part) => part.name), paper, scale };
    setStage({ at: 'making', title: 'Judging the floor', share: 0 });
    const started = papers.make(request, (title, share) => {
      if (run.current === started) setStage({ at: 'making', title, share });
    });
    run.current = started;
    started.bundle.then(
      (bundle) => {
        if (run.current === started) setStage({ at: 'made', bundle });
      },
      (error: unknown) => {
        if (run.current === started) setStage({ at: 'choosing', trouble: error === null ? null : sayTrouble(error) });
      },
    );
  };
  const toggle = (name: string): void => {
    const next = new Set(left);
    if (!next.delete(name)) next.add(name);
    setLeft(next);
  };

  return (
    <Dialog title="Hand over" className="handover-sheet">
      <div className="handover-body">
        <fieldset className="handover-parts" disabled={isMaking}>
          <legend className="ledger-title">Parts</legend>
          {papers === null && <p className="handover-wait">The parts are being listed.</p>}
          {papers?.parts.map((part, k) => (
            <label key={part.name} className="handover-part">
              <input
                type="checkbox"
                ref={k === 0 ? first : null}
                checked={!left.has(part.name)}
                onChange={() => toggle(part.name)}
              />
              <span>
                <b>{part.title}</b> <span className="handover-about">{part.about}</span>
              </span>
            </label>
          ))}
        </fieldset>
        <div className="handover-choices">
          <fieldset disabled={isMaking}>
            <legend className="ledger-title">Paper</legend>
            {(['a4', 'a3'] as const).map((size) => (
              <label key={size} className="handover-part">
                <input type="radio" name="paper" checked={paper === size} onChange={() => setPaper(size)} />
                {size.toUpperCase()}
              </label>
            ))}
          </fieldset>
          <fieldset disabled={isMaking}>
            <legend className="ledger-title">Scale of plans</legend>
            {SCALES.map(([text, each]) => (
              <label key={text} className="handover-part">
                <input type="radio" name="scale" checked={scale === each} onChange={() => setScale(each)} />
                {text}
              </label>
            ))}
          </fieldset>
        </div>
        {stage.at === 'made' && papers !== null && <Made bundle={stage.bundle} papers={papers} />}
      </div>
      <div className="sheet-note handover-foot">
        {stage.at === 'making' ? (
          <>
            <progress className="handover-progress" value={stage.share} aria-label={stage.title} />
            <span className="handover-title">
              {stage.title}, {Math.round(stage.share * 100)} %
            </span>
            <button type="button" className="word" onClick={() => run.current?.cancel()}>
              Cancel
            </button>
          </>
        ) : (
          <>
            <button type="button" className="word" disabled={chosen.length === 0} onClick={make}>
              {stage.at === 'made' ? 'Make them again' : 'Make the documents'}
            </button>
            <span role="status">{sayStage(stage, chosen.length)}</span>
          </>
        )}
      </div>
    </Dialog>
  );
}

function sayStage(stage: Stage, chosen: number): string {
  if (stage.at === 'choosing') {
    if (stage.trouble !== null) return stage.trouble;
    return chosen === 0 ? 'No part is chosen.' : 'Nothing leaves this machine.';
  }
  if (stage.at !== 'made') return '';
  const { files } = stage.bundle;
  return `${files.length} ${files.length === 1 ? 'file is' : 'files are'} made.`;
}

function sayTrouble(error: unknown): string {
  return `The documents are not made: ${error instanceof Error ? error.message : String(error)}`;
}

/** Every file with its size, each to be had alone. */
function Made({ bundle, papers }: { bundle: PaperBundle; papers: Papers }) {
  const { files, refusals, archive } = bundle;
  const section = useRef<HTMLElement>(null);
  useEffect(() => section.current?.querySelector('button')?.focus(), []);
  return (
    <section ref={section} className="handover-made" aria-label="Files">
      <h3 className="ledger-title">Files</h3>
      {refusals.map((refusal) => (
        <p key={refusal} className="handover-refusal">
          <bdi>{refusal}</bdi>
        </p>
      ))}
      {archive !== null && (
        <button type="button" className="choice" onClick={() => papers.download(archive)}>
          <span>All of them in one archive</span>
          <span className="handover-size">{saySize(archive)}</span>
        </button>
      )}
      <ul>
        {files.map((file) => (
          <li key={file.name}>
            <button type="button" className="choice" onClick={() => papers.download(file)}>
              <bdi>{file.name}</bdi>
              <span className="handover-size">{saySize(file)}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function saySize({ bytes }: PaperFile): string {
  return bytes.length >= 1e6
    ? `${(bytes.length / 1e6).toFixed(1)} MB`
    : `${Math.max(1, Math.round(bytes.length / 1e3))} kB`;
}
