import type { ReactNode } from 'react';
import { listFindings } from '../../editor/findings.ts';
import { isResultStale } from '../../editor/store.ts';
import { useEditor } from './context.tsx';
import { sayFinding } from './words.ts';

interface Props {
  readonly title: string;
  readonly aside?: string | undefined;
  /** The thing's id: the first finding about it takes the place of the sentence. */
  readonly about?: string | undefined;
  /** The sentence when there is no finding. */
  readonly children?: ReactNode;
}

/** The title of a note, a word at its right, and one sentence. Names stand isolated: their direction stays their own. */
export function NoteHead({ title, aside, about, children }: Props) {
  // The finding stepped to stands in the list right below: it is not said twice.
  const finding = useEditor((state) => {
    if (about === undefined) return undefined;
    const findings = listFindings(state.result);
    const first = findings.find((each) => each.about.includes(about));
    return state.finding !== null && first === findings[state.finding] ? undefined : first;
  });
  const floor = useEditor((state) => state.floor);
  const stale = useEditor(isResultStale);
  return (
    <header className="note-head">
      <h2>
        <bdi className="note-title">{title}</bdi>
        {aside !== undefined && aside !== '' && <bdi className="aside">{aside}</bdi>}
      </h2>
      {finding !== undefined ? (
        <p className={stale ? 'say stale' : 'say'}>{sayFinding(floor, finding.text)}</p>
      ) : children ? (
        <p className={stale ? 'say stale' : 'say'}>{children}</p>
      ) : null}
    </header>
  );
}
