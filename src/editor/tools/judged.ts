/** Files that tools have judged before they committed them: to judge a large floor twice would be felt. */
import type { FloorFile } from '../../core/floor/index.ts';

const judged = new WeakSet<FloorFile>();

export function rememberJudged(file: FloorFile): void {
  judged.add(file);
}

/** Whether a file came of a tool's commit and was found sound then. */
export function isJudged(file: FloorFile): boolean {
  return judged.has(file);
}
