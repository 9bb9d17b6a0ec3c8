import { type Arranged, type ArrangeNews, arrange, type Solver } from '../core/planning/arrange/index.ts';
import type { ArrangeRequest, Reply } from './protocol.ts';

/** Milliseconds between two pieces of news, but for the first of a better answer. */
const QUIET = 100;

/**
 * Does a job of arranging and posts what is known as it gets better. It is a worker of its own, because the solver is as
 * large as everything else. Without a solver (it cannot be loaded, or fails) the search still goes on. Never throws.
 */
export async function answerArrange(
  { jobId, input }: ArrangeRequest,
  post: (reply: Reply) => void,
  load: () => Promise<Solver>,
): Promise<void> {
  try {
    let solver: Solver | null = null;
    let fault: string | null = null;
    try {
      solver = await load();
    } catch (error) {
      fault = error instanceof Error ? error.message : String(error);
    }
    let told = Number.NEGATIVE_INFINITY;
    let last = '';
    const onNews = (news: ArrangeNews): void => {
      const key = `${news.stage} ${news.best?.cost} ${news.bound}`;
      const at = performance.now();
      if (key === last || (at - told < QUIET && news.stage === 'searching' && told > 0)) return;
      [told, last] = [at, key];
      const share = Math.min(0.99, news.seconds / input.options.seconds);
      post({ type: 'progress', jobId, share, news });
    };
    const output = arrange(input.file, input.options, {
      solver,
      now: () => performance.now(),
      shouldStop: () => false,
      onNews,
    });
    post({ type: 'done', jobId, output: fault === null ? output : withFault(output, fault) });
  } catch (error) {
    post({ type: 'failed', jobId, message: error instanceof Error ? error.message : String(error) });
  }
}

function withFault(output: Arranged, fault: string): Arranged {
  if (!output.ok) return output;
  const notes = [...output.result.notes, `The exact solver could not be loaded (${fault}).`];
  return { ...output, result: { ...output.result, failure: fault, notes } };
}
