/** The picture under the plan laid, placed and taken away. */
import type { FloorFile, Point } from '../../core/floor/index.ts';
import { type Placement, readUnderlay, type Underlay } from '../underlay.ts';
import { createChange } from './change.ts';
import { type Edit, refuse } from './edit.ts';

/** Puts a picture under the plan, or takes it away. Free text of the floor's notes is kept under `text`. */
export function putUnderlay(file: FloorFile, underlay: Underlay | null, name: string): Edit {
  const notes: Record<string, unknown> = typeof file.notes === 'string' ? { text: file.notes } : { ...file.notes };
  if (underlay === null) delete notes.underlay;
  else notes.underlay = underlay;
  const [key, ...more] = Object.keys(notes);
  const planned = createChange(file).plan(name, []);
  if (key === undefined)
    return {
      ...planned,
      recipe: (draft) => {
        delete draft.notes;
      },
    };
  const text = notes.text;
  const change = createChange(file);
  change.put('notes', key === 'text' && more.length === 0 && typeof text === 'string' ? text : notes);
  return change.plan(name, []);
}

const NONE = refuse('There is no picture under the plan', 'Choose one first.');

/** Changes how the picture lies. */
export function setPlacement(file: FloorFile, patch: Partial<Placement>, name: string): Edit {
  const underlay = readUnderlay(file.notes);
  if (underlay === null) return NONE;
  const placement = { ...underlay.placement, ...patch };
  if (!(placement.scale > 0) || !Number.isFinite(placement.scale))
    return refuse('The picture would have no size', 'Its width must be above 0.');
  return putUnderlay(
    file,
    { ...underlay, placement: { ...placement, turn: ((placement.turn % 360) + 360) % 360 } },
    name,
  );
}

/** Moves the picture so that what lies at one place comes to lie at another. */
export function moveUnderlay(file: FloorFile, from: Point, to: Point): Edit {
  const underlay = readUnderlay(file.notes);
  if (underlay === null) return NONE;
  const { at, locked } = underlay.placement;
  if (locked) return refuse('The picture is locked', 'Unlock it first.');
  return setPlacement(file, { at: [at[0] + to[0] - from[0], at[1] + to[1] - from[1]] }, 'Moved the picture');
}

/**
 * Makes two places of the picture lie `length` metres apart; the first stays where it is.
 * @param direction degrees in which the second shall then lie from the first; null: as now
 */
export function scaleUnderlay(file: FloorFile, from: Point, to: Point, length: number, direction: number | null): Edit {
  const underlay = readUnderlay(file.notes);
  if (underlay === null) return NONE;
  if (underlay.placement.locked) return refuse('The picture is locked', 'Unlock it first.');
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const now = Math.hypot(dx, dy);
  if (!(now > 1e-6)) return refuse('Both places are one', 'Choose two that lie apart.');
  if (!(length > 0)) return refuse('Two places cannot be that near', 'The distance must be above 0.');
  const factor = length / now;
  const by = direction === null ? 0 : direction - (Math.atan2(dy, dx) * 180) / Math.PI;
  const [c, s] = [Math.cos((by * Math.PI) / 180) * factor, Math.sin((by * Math.PI) / 180) * factor];
  const { at, scale, turn } = underlay.placement;
  const [ox, oy] = [at[0] - from[0], at[1] - from[1]];
  const place: Point = [from[0] + c * ox - s * oy, from[1] + s * ox + c * oy];
  return setPlacement(file, { at: place, scale: scale * factor, turn: turn + by }, 'Set the scale of the picture');
}
