/**
 * The picture under the plan. The floor file holds its name, its digest and how it lies; its bytes are kept by the
 * browser. Lengths of the picture are pixels, or millimetres of a page; its axes run right and up from the lower left corner.
 */
import type { FloorFile, Point } from '../core/floor/index.ts';
import { createChange } from './edits/change.ts';
import { type Edit, refuse } from './edits/edit.ts';

export interface Placement {
  /** Where the picture's lower left corner lies, metres. */
  readonly at: Point;
  /** Metres for one unit of the picture. */
  readonly scale: number;
  /** Degrees counter-clockwise. */
  readonly turn: number;
  /** 0 is not to be seen, 1 as dark as drawn. */
  readonly opacity: number;
  /** Not to be moved by hand. */
  readonly locked: boolean;
}

export interface Underlay {
  readonly name: string;
  /** Of the picture's bytes. */
  readonly digest: string;
  /** Of a document, from 1. */
  readonly page: number;
  readonly width: number;
  readonly height: number;
  readonly placement: Placement;
}

/** The picture itself as far as the browser has it. */
export interface UnderlayPicture {
  readonly digest: string;
  readonly page: number;
  readonly status: 'loading' | 'ready' | 'missing';
  /** What the scene draws; its type is the scene's own. */
  readonly image: unknown;
  /** Pages of a document, 1 for a picture. */
  readonly pages: number;
  /** Straight lines of a page, flat x0, y0, x1, y1 in the picture's units. */
  readonly lines: Float64Array;
}

/** The picture a floor names, null where it names none, or one that makes no sense. */
export function readUnderlay(notes: FloorFile['notes']): Underlay | null {
  if (notes === undefined || typeof notes === 'string') return null;
  const found = notes.underlay;
  if (!isRecord(found) || !isRecord(found.placement)) return null;
  const { name, digest, page = 1, width, height, placement } = found;
  const { at, scale, turn, opacity, locked } = placement as Record<string, unknown>;
  if (typeof name !== 'string' || typeof digest !== 'string' || !isPositive(page)) return null;
  if (!isPositive(width) || !isPositive(height) || !isPositive(scale)) return null;
  if (!Array.isArray(at) || !isNumber(at[0]) || !isNumber(at[1]) || !isNumber(turn) || !isNumber(opacity)) return null;
  const place: Point = [at[0], at[1]];
  const share = Math.min(1, Math.max(0, opacity));
  return {
    name,
    digest,
    page,
    width,
    height,
    placement: { at: place, scale, turn, opacity: share, locked: locked === true },
  };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}

function isPositive(value: unknown): value is number {
  return isNumber(value) && value > 0;
}

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

/** Where a place of the picture lies on the floor. */
export function toFloor({ at, scale, turn }: Placement, u: number, v: number): Point {
  const [c, s] = [Math.cos((turn * Math.PI) / 180) * scale, Math.sin((turn * Math.PI) / 180) * scale];
  return [at[0] + c * u - s * v, at[1] + s * u + c * v];
}
