/** Workplaces: added singly or from a list, moved, and how a person sits or stands there. */
import type { FloorFile, Point } from '../../core/floor/index.ts';
import { tidy, turnInto360 } from '../recipes.ts';
import { createChange } from './change.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { countThings, nameThing, nameThings } from './fault-words.ts';
import { createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { finePoint } from './plane.ts';

type Workplace = Items['workplaces'];

/** A workplace that is not on the floor yet. */
export interface NewWorkplace {
  /** Left out or empty: the next number. */
  readonly name?: string;
  /** The middle of the chair. */
  readonly at: Point;
  /** Metres. */
  readonly radius?: number;
  /** Degrees. */
  readonly facing?: number;
  readonly posture?: Workplace['posture'];
}

/** Adds workplaces under the names they bring; one without a name gets the next number. */
export function addWorkplaces(file: FloorFile, items: readonly NewWorkplace[]): Edit {
  if (items.length === 0) return refuse('There is no workplace to add', 'Give at least one.');
  const change = createChange(file);
  const maker = createIdMaker(file);
  const ids: string[] = [];
  let last = '';
  for (const { name, at, radius, facing, posture } of items) {
    const id = maker.next('workplaces');
    const item: Workplace = {
      id,
      name: name === undefined || name === '' ? maker.nextName('workplaces', '') : name,
      at: finePoint(at),
      ...(radius === undefined ? {} : { radius: tidy(radius) }),
      ...(facing === undefined ? {} : { facing: turnInto360(facing) }),
      ...(posture === undefined ? {} : { posture }),
    };
    change.add('workplaces', item);
    ids.push(id);
    last = nameThing({ list: 'workplaces', item });
  }
  return change.plan(
    `Added ${items.length === 1 ? `workplace ${last}` : countThings('workplaces', items.length)}`,
    ids,
  );
}

/** Sets the radius of workplaces, metres. */
export function setWorkplaceRadius(file: FloorFile, ids: readonly string[], radius: number): Edit {
  const next = tidy(radius);
  if (!(next > 0 && next <= 10))
    return refuse(`A radius of ${next} m is out of bounds`, 'Write a radius above 0 and up to 10 m.');
  return changeWorkplaces(file, ids, (each) => ({ ...each, radius: next }), 'Set the radius of');
}

/** Sets where a person at workplaces faces, degrees; null: it is not known. */
export function setFacing(file: FloorFile, ids: readonly string[], facing: number | null): Edit {
  return changeWorkplaces(
    file,
    ids,
    ({ facing: _, ...rest }) => (facing === null ? rest : { ...rest, facing: turnInto360(facing) }),
    'Turned',
  );
}

/** Sets whether a person sits or stands at workplaces. */
export function setPosture(file: FloorFile, ids: readonly string[], posture: 'seated' | 'standing'): Edit {
  return changeWorkplaces(file, ids, (each) => ({ ...each, posture }), 'Set the posture at');
}

function changeWorkplaces(
  file: FloorFile,
  ids: readonly string[],
  next: (workplace: Workplace) => Workplace,
  verb: string,
): Edit {
  const workplaces = ids.map((id) => findItem(file, 'workplaces', id)).filter((each) => each !== undefined);
  if (workplaces.length === 0) return refuseGone('workplace');
  const change = createChange(file);
  for (const each of workplaces) change.set('workplaces', next(each));
  const named = nameThings(workplaces.map((item) => ({ list: 'workplaces', item })));
  return change.plan(
    `${verb} ${workplaces.length === 1 ? `workplace ${named}` : named}`,
    workplaces.map(({ id }) => id),
  );
}
