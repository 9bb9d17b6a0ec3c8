/** Answers the notes' questions in workers, one for each kind of question. */
import type { Questions } from '../ui/panels/questions/question-port.ts';
import type { Pool } from '../workers/pool.ts';
import type { Files } from './files.ts';

export function createQuestions(pool: Pool, files: Files): Questions {
  return {
    stress: (floor, options) => pool.run('stress', floor, options),
    findMoveRoom: (floor, options) => pool.run('moveRoom', floor, options),
    sweep: (floor, pieces, options) => pool.run('sweep', { floor, pieces }, options),
    compare: (old, now, options) => pool.run('compare', { old, now }, options),
    computeBodies: (floor, posture, options) => pool.run('bodies', { floor, posture }, options),
    arrange: (file, chosen, options) => pool.run('arrange', { file, options: chosen }, options),
    planMasks: (floor, subject, options) => pool.run('masks', { floor, subject }, options),
    readOther: () => files.readOther(),
  };
}
