/** Pieces of furniture: placed from a catalogue, with the workplace a desk brings, and resized. */
import { type FloorFile, LIMITS, type Point, placeAtDesk, type Ring } from '../../core/floor/index.ts';
import { tidy, turnInto360 } from '../recipes.ts';
import { type Change, createChange } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing, nameThings, showMetres, startSentence } from './fault-words.ts';
import { createIdMaker, type IdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { findOutlineFault } from './outlines.ts';
import { along, cornerOf, finePoint, locate, place, rectangleAbout, unit } from './plane.ts';

type Piece = Items['furniture'];

/** A piece as a catalogue lists it (`models/furniture/catalogue.json`). Lengths in metres. */
export interface CatalogueEntry {
  readonly kind: Piece['kind'];
  readonly name: string;
  readonly length: number;
  readonly width: number;
  readonly base: number;
  readonly top: number;
  readonly glass?: boolean;
  readonly raised?: number;
  readonly movable?: boolean;
}

/** Where a piece is set down. */
export interface Spot {
  /** The middle of its outline. */
  readonly at: Point;
  /** Direction of its length, degrees. A desk's front, where the chair stands, is to the right of it. */
  readonly turn: number;
}

/**
 * Sets a piece of a catalogue down.
 * @param seated whether it brings a workplace; left out: a desk does
 */
export function addFurniture(file: FloorFile, entry: CatalogueEntry, spot: Spot, seated = entry.kind === 'desk'): Edit {
  const refused = refuseEntry(entry);
  if (refused !== null) return refused;
  const change = createChange(file);
  const { ids, name } = putPiece(change, createIdMaker(file), entry, spot, seated);
  return change.plan(`Added ${name}`, ids);
}

/** Adds a piece and its workplace to a change. The length runs along `turn`. */
export function putPiece(
  change: Change,
  maker: IdMaker,
  entry: CatalogueEntry,
  { at, turn }: Spot,
  seated: boolean,
): { readonly ids: readonly string[]; readonly name: string } {
  const { kind, length, width, base, top, glass, raised, movable } = entry;
  const axis = along(turn);
  const id = maker.next('furniture');
  const item: Piece = {
    id,
    kind,
    name: maker.nextName('furniture', stripSize(entry.name)),
    outline: rectangleAbout(at, axis, length, width),
    ...(base === 0 ? {} : { base }),
    top,
    ...(glass === true ? { glass } : {}),
    ...(raised === undefined || raised === 0 ? {} : { raised }),
    ...(movable === true ? { movable } : {}),
  };
  change.add('furniture', item);
  const name = nameThing({ list: 'furniture', item });
  if (!seated) return { ids: [id], name };
  const workplace = maker.next('workplaces');
  const chair = placeAtDesk(at, turn, width, top);
  change.add('workplaces', {
    id: workplace,
    name: maker.nextName('workplaces', ''),
    at: finePoint(chair.at),
    facing: turnInto360(chair.facing),
    ...(chair.posture === 'standing' ? { posture: chair.posture } : {}),
  });
  return { ids: [id, workplace], name };
}

/** A catalogue name without the size at its end, which the outline tells: `Desk 1.6 m` is `Desk`. */
function stripSize(name: string): string {
  return name.replace(/\s+\d+(?:[.,]\d+)?\s*m$/, '') || name;
}

/** Why a piece of such a size cannot be made, or null. */
export function refuseEntry({
  name,
  length,
  width,
  base,
  top,
}: Pick<CatalogueEntry, 'name' | 'length' | 'width' | 'base' | 'top'>): Refused | null {
  for (const size of [length, width])
    if (!(size >= 0.01 && size <= LIMITS.rangeSize))
      return refuse(`${name} would be ${size} m long or wide`, `Write a size from 0.01 to ${LIMITS.rangeSize} m.`);
  return refuseHeights(name, base, top);
}

function refuseHeights(name: string, base: number, top: number): Refused | null {
  if (!(base >= 0 && top <= LIMITS.height))
    return refuse(
      `${startSentence(name)} would reach from ${showMetres(base)} to ${showMetres(top)}`,
      `Heights lie from 0 to ${LIMITS.height} m.`,
    );
  return base < top
    ? null
    : refuse(
        `The top of ${name} would be ${showMetres(top)} and its base ${showMetres(base)}`,
        'The top must be above the base.',
      );
}

/** The axes of a piece: along its first edge, and its size along and across it. */
export interface PieceSize {
  readonly axis: Point;
  /** The corner of its box in these axes from which length and width run. */
  readonly origin: Point;
  readonly length: number;
  readonly width: number;
}

/** Length and width of an outline, measured along its first edge and across it. */
export function measurePiece(outline: Ring): PieceSize {
  const axis = unit(cornerOf(outline, 0), cornerOf(outline, 1));
  const local = outline.map((corner) => locate(cornerOf(outline, 0), axis, corner));
  const [us, vs] = [local.map(([u]) => u), local.map(([, v]) => v)];
  const [u, v] = [Math.min(...us), Math.min(...vs)];
  const origin = place(cornerOf(outline, 0), axis, [u, v]);
  return { axis, origin, length: Math.max(...us) - u, width: Math.max(...vs) - v };
}

/** What stays in its place while a piece is resized: the middle, or a corner of its box counted as a rectangle's corners are. */
export type Anchor = 'middle' | 0 | 1 | 2 | 3;

const ANCHORS: Readonly<Record<Anchor, Point>> = { middle: [0.5, 0.5], 0: [0, 0], 1: [1, 0], 2: [1, 1], 3: [0, 1] };

/** Sets length and width of a piece, metres, along its own axes however it is turned. Its angles stay. What is left out stays. */
export function resizePiece(
  file: FloorFile,
  id: string,
  size: { readonly length?: number; readonly width?: number },
  anchor: Anchor = 'middle',
): Edit {
  const piece = findItem(file, 'furniture', id);
  if (piece === undefined) return refuseGone('piece');
  const { axis, origin, length, width } = measurePiece(piece.outline);
  const [nextLength, nextWidth] = [size.length ?? length, size.width ?? width];
  const name = nameThing({ list: 'furniture', item: piece });
  const refused = refuseEntry({
    name,
    length: nextLength,
    width: nextWidth,
    base: piece.base ?? 0,
    top: piece.top,
  });
  if (refused !== null) return refused;
  const [u, v] = ANCHORS[anchor];
  const fixed = place(origin, axis, [u * length, v * width]);
  const outline = piece.outline.map((corner) => {
    const [x, y] = locate(fixed, axis, corner);
    return finePoint(place(fixed, axis, [(x * nextLength) / length, (y * nextWidth) / width]));
  });
  const fault = findOutlineFault(outline, `the outline of ${name}`);
  if (fault !== null) return fault;
  const change = createChange(file);
  change.set('furniture', { ...piece, outline });
  return change.plan(`Resized ${name} to ${showMetres(nextLength)} × ${showMetres(nextWidth)}`, [id]);
}

/** Sets base or top of pieces, metres. */
export function setPieceHeights(
  file: FloorFile,
  ids: readonly string[],
  { base, top }: { readonly base?: number; readonly top?: number },
): Edit {
  const pieces = ids.map((id) => findItem(file, 'furniture', id)).filter((piece) => piece !== undefined);
  if (pieces.length === 0) return refuseGone('piece');
  const change = createChange(file);
  for (const piece of pieces) {
    const next = { base: tidy(base ?? piece.base ?? 0), top: tidy(top ?? piece.top) };
    const refused = refuseHeights(nameThing({ list: 'furniture', item: piece }), next.base, next.top);
    if (refused !== null) return refused;
    change.set('furniture', { ...piece, ...(base === undefined ? {} : { base: next.base }), top: next.top });
  }
  const named = nameThings(pieces.map((item) => ({ list: 'furniture', item })));
  const parts = [
    base === undefined ? '' : `base ${showMetres(base)}`,
    top === undefined ? '' : `top ${showMetres(top)}`,
  ];
  return change.plan(
    `Set ${parts.filter((part) => part !== '').join(' and ')} of ${named}`,
    pieces.map(({ id }) => id),
  );
}
