import { type ReactNode, useState } from 'react';
import { useStore } from 'zustand';
import { sayOrigin } from '../../editor/storage/kept-floor.ts';
import { useHost } from './context.tsx';
import { focusPage } from './focus.ts';
import { nameNews } from './kept-news.ts';

/** What there is to know about how the floor is kept: another tab has it, the browser keeps nothing, or it has come back with changes. */
export default function KeptNote() {
  const { keeper, saveFile } = useHost();
  const kept = useStore(keeper.state);
  /** What the note was closed on: it comes back with other news. */
  const [closed, setClosed] = useState<string | null>(null);
  const news = nameNews(kept);
  if (news === null || news === closed) return null;
  const close = (): void => {
    setClosed(news);
    keeper.dismissReturn();
    focusPage();
  };
  if (kept.elsewhere !== 'no') {
    return (
      <Note
        title={kept.elsewhere === 'before' ? 'Open in another tab' : 'Taken over by another tab'}
        isUrgent={kept.isUnkept}
      >
        <p className="say">
          {kept.isUnkept
            ? 'The last change made here came too late and is not kept. Save it to a file; taking the floor over shows it as the other tab has it.'
            : 'This floor is changed in another tab. Here it can be looked at, and it follows the other tab.'}
        </p>
        <div className="words">
          <Word text="Look only" run={close} />
          <Word
            text="Take over"
            run={() => {
              void keeper.takeOver();
              focusPage();
            }}
          />
          {kept.isUnkept && <Word text="Save to a file" keys="Ctrl S" run={saveFile} />}
        </div>
      </Note>
    );
  }
  if (kept.trouble !== null) {
    return (
      <Note title="Not kept" isUrgent>
        <p className="say">
          {kept.trouble.what} {kept.trouble.remedy}
        </p>
        <div className="words">
          <Word text="Save to a file" keys="Ctrl S" run={saveFile} />
          <Word text="Close" run={close} />
        </div>
      </Note>
    );
  }
  if (kept.returned === null) return null;
  return (
    <Note title="As you left it" isUrgent={false}>
      <p className="say">
        <bdi>{kept.returned.name}</bdi>, <bdi>{sayOrigin(kept.returned)}</bdi>.
      </p>
      <div className="words">
        <Word text="Save to a file" keys="Ctrl S" run={saveFile} />
        <Word text="Close" run={close} />
      </div>
    </Note>
  );
}

function Note({ title, isUrgent, children }: { title: string; isUrgent: boolean; children: ReactNode }) {
  return (
    <section className="note kept" role={isUrgent ? 'alert' : 'status'} aria-label={title}>
      <h2 className="note-head">{title}</h2>
      {children}
    </section>
  );
}

function Word({ text, keys, run }: { text: string; keys?: string; run: () => void }) {
  return (
    <button type="button" className="word" onClick={run}>
      {text} {keys !== undefined && <kbd>{keys}</kbd>}
    </button>
  );
}
