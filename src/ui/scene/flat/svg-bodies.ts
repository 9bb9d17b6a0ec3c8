/** Rooms, walls and furniture as filled SVG outlines, local metres, y down. */
import type { Furniture, Ring } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { PALETTES, toneOf } from '../../tokens.ts';
import { footprint } from '../geometry/wall-mesh.ts';
import { listWalls } from '../geometry/wall-pieces.ts';
import { type LocalFrame, referenceCeiling } from '../local-frame.ts';
import { createSvg } from './create-svg.ts';

/** Paper, and what stands under the plane: the heat map lies over it. */
export function drawUnderField(state: EditorState, frame: LocalFrame): SVGElement[] {
  const { rooms } = shownFloor(state);
  const { paper } = PALETTES[state.theme];
  if (state.hiddenKinds.has('room')) return drawPieces(state, frame, true);
  const d = rooms.flatMap(({ outline, holes }) => [outline, ...holes].map((ring) => pathOf(ring, frame))).join('');
  return [createSvg('path', { d, fill: paper, 'fill-rule': 'evenodd' }), ...drawPieces(state, frame, true)];
}

/** What stands over the plane, and the walls. */
export function drawOverField(state: EditorState, frame: LocalFrame): SVGElement[] {
  const pieces = drawPieces(state, frame, false);
  if (state.hiddenKinds.has('room')) return pieces;
  const { paper } = PALETTES[state.theme];
  const walls = listWalls(shownFloor(state));
  const solid: string[] = [];
  const open: string[] = [];
  for (const piece of walls.pieces) (piece.gap === null ? solid : open).push(pathOfFlat(footprint(piece, frame)));
  for (const { xy } of walls.corners)
    solid.push(pathOfFlat(xy.map((value, i) => value - (i % 2 === 0 ? frame.x : frame.y))));
  return [
    ...pieces,
    createSvg('path', { d: solid.join(''), fill: toneOf(state.theme, 1, 1) }),
    createSvg('path', { d: open.join(''), fill: paper }),
  ];
}

/** Furniture in tones of its height, the lowest first; the same tone is one path. */
function drawPieces(state: EditorState, frame: LocalFrame, isUnder: boolean): SVGElement[] {
  if (state.hiddenKinds.has('furniture')) return [];
  const floor = shownFloor(state);
  const ceiling = referenceCeiling(floor);
  // Walking people are looked for on the floor: there no piece lies under the field.
  const plane = state.plane === 'seated' ? floor.analysis.seatedPlane : 0;
  const tones = new Map<string, string[]>();
  for (const piece of [...floor.furniture].sort((a, b) => a.top - b.top)) {
    if (piece.top <= plane !== isUnder) continue;
    const fill = fillOf(piece, state, ceiling);
    const list = tones.get(fill);
    if (list === undefined) tones.set(fill, [pathOf(piece.outline, frame)]);
    else list.push(pathOf(piece.outline, frame));
  }
  return [...tones].map(([fill, paths]) => createSvg('path', { d: paths.join(''), fill }));
}

function fillOf({ top, glass }: Furniture, { theme }: EditorState, ceiling: number): string {
  return glass ? `${PALETTES[theme].ink}12` : toneOf(theme, top, ceiling);
}

function pathOf(ring: Ring, frame: LocalFrame): string {
  return pathOfFlat(ring.flatMap(([x, y]) => [x - frame.x, y - frame.y]));
}

function pathOfFlat(xy: readonly number[]): string {
  let d = '';
  for (let i = 0; i + 1 < xy.length; i += 2)
    d += `${i === 0 ? 'M' : 'L'}${tidy(xy[i] ?? 0)} ${tidy(-(xy[i + 1] ?? 0))}`;
  return `${d}Z`;
}

function tidy(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}
