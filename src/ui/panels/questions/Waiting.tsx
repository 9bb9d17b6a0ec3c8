import { focusPage } from '../focus.ts';
import type { Answer } from './use-answer.ts';

interface Props {
  readonly answer: Answer<unknown>;
  /** What is worked out: "Trying every case". */
  readonly work: string;
  readonly onStop: () => void;
  readonly onAsk: () => void;
}

/** How far an answer is, with the word that stops it; what stands there when it was stopped or went wrong. */
export function Waiting({ answer, work, onStop, onAsk }: Props) {
  if (answer.kind === 'working') {
    const percent = Math.round(answer.share * 100);
    return (
      <div className="waiting">
        <p className="say" aria-live="off">
          {work}: {percent} %
        </p>
        <progress value={answer.share} max={1} aria-label={work} />
        <button
          type="button"
          className="word"
          onClick={() => {
            onStop();
            focusPage();
          }}
        >
          Stop
        </button>
      </div>
    );
  }
  if (answer.kind !== 'stopped' && answer.kind !== 'failed') return null;
  return (
    <div className="waiting">
      <p className="say" role="status">
        {answer.kind === 'stopped' ? 'Stopped.' : `It did not finish: ${answer.why}`}
      </p>
      <button type="button" className="word" onClick={onAsk}>
        Ask again
      </button>
    </div>
  );
}
