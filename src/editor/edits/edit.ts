/**
 * What every change to a floor is made as. An edit is worked out for one file and not yet made: a gesture shows its
 * recipe as a preview, the history commits it. Edits refuse what they can tell at once; the rest is told when the
 * changed file is judged as a whole, by `applyEdit` here or by the history, so that no edit is ever half done.
 */
import { create, type Draft } from 'mutative';
import { type FloorFile, validateFloor } from '../../core/floor/index.ts';
import { describeFault } from './fault-words.ts';

/** Why an edit is not made. */
export interface Refused {
  readonly ok: false;
  /** A clause with its subject, without a full stop: `The outline of Office crosses itself between corners 3 and 6`. */
  readonly what: string;
  /** What would be right, a sentence: `Move one of them.` */
  readonly remedy: string;
}

/** An edit ready to be made. */
export interface Planned {
  readonly ok: true;
  /** For the history and the foot, in the past: `Moved 3 pieces by 1.20 m`. */
  readonly name: string;
  /** Makes the change, on a draft of the file the edit was worked out for. */
  readonly recipe: (draft: Draft<FloorFile>) => void;
  /** What to select once it is made: what was added or changed. Empty where nothing is left. */
  readonly ids: readonly string[];
}

export type Edit = Planned | Refused;

export function refuse(what: string, remedy: string): Refused {
  return { ok: false, what, remedy };
}

/** The refusal of an edit whose thing has been removed meanwhile. */
export function refuseGone(what: string): Refused {
  return refuse(`The ${what} is no longer there`, 'Select another.');
}

export type Applied = { readonly ok: true; readonly file: FloorFile } | Refused;

/** Makes an edit and judges the whole floor that comes of it. A floor that would be faulty is refused in words about its things. */
export function applyEdit(file: FloorFile, edit: Edit): Applied {
  if (!edit.ok) return edit;
  const next = create(file, edit.recipe);
  const parsed = validateFloor(next);
  if (parsed.ok) return { ok: true, file: next };
  const [first] = parsed.faults;
  return first === undefined ? refuse('The floor would be faulty', '') : describeFault(next, first);
}
