/**
 * The picture under the plan. The floor file holds its name, its digest and how it lies; its bytes are kept by the
 * browser. Lengths of the picture are pixels, or millimetres of a page; its axes run right and up from the lower left corner.
 */
import type { FloorFile, Point } from '../core/floor/index.ts';

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

/** Where a place of the picture lies on the floor. */
export function toFloor({ at, scale, turn }: Placement, u: number, v: number): Point {
  const [c, s] = [Math.cos((turn * Math.PI) / 180) * scale, Math.sin((turn * Math.PI) / 180) * scale];
  return [at[0] + c * u - s * v, at[1] + s * u + c * v];
}
