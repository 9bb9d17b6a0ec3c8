/** Things lined up and spread evenly, by the boxes around them. */
import type { FloorFile, Point } from '../../core/floor/index.ts';
import type { Box } from '../../core/geometry/polygon.ts';
import { createChange, setListed } from './change.ts';
import { type Edit, refuse } from './edit.ts';
import { nameThings } from './fault-words.ts';
import { findPlaced, type Placed } from './lists.ts';
import { refuseToMove } from './moving.ts';
import { fine, joinBoxes } from './plane.ts';
import { boxOf, moveThing, shift } from './rigid-moves.ts';
import { withContents } from './room-contents.ts';

/** Where things are lined up: on an edge of the box around them all, or on its middle line along x or y. */
export type Alignment = 'left' | 'right' | 'top' | 'bottom' | 'middle of x' | 'middle of y';

const WORDS: Readonly<Record<Alignment, string>> = {
  left: 'on the left',
  right: 'on the right',
  top: 'at the top',
  bottom: 'at the bottom',
  'middle of x': 'on one upright line',
  'middle of y': 'on one level line',
};

/** Lines things up. Top is greater y. */
export function alignThings(file: FloorFile, ids: readonly string[], alignment: Alignment): Edit {
  const things = findPlaced(file, ids);
  if (things.length < 2) return refuse('One thing has nothing to line up with', 'Select at least two.');
  const around = joinBoxes(things.map(boxOf));
  const target = lineOf(around, alignment);
  const isUpright = alignment === 'left' || alignment === 'right' || alignment === 'middle of x';
  return moveEach(file, things, `Aligned ${nameThings(things)} ${WORDS[alignment]}`, (box) => {
    const by = target - lineOf(box, alignment);
    return isUpright ? [by, 0] : [0, by];
  });
}

function lineOf({ minX, minY, maxX, maxY }: Box, alignment: Alignment): number {
  switch (alignment) {
    case 'left':
      return minX;
    case 'right':
      return maxX;
    case 'top':
      return maxY;
    case 'bottom':
      return minY;
    case 'middle of x':
      return (minX + maxX) / 2;
    case 'middle of y':
      return (minY + maxY) / 2;
  }
}

/** Spreads things along an axis so that the gaps between their boxes are equal. The first and the last stay. */
export function distributeThings(file: FloorFile, ids: readonly string[], axis: 'x' | 'y'): Edit {
  const things = findPlaced(file, ids);
  if (things.length < 3) return refuse('Two things have one gap between them', 'Select at least three.');
  const spans = things.map((thing) => {
    const box = boxOf(thing);
    const [from, to] = axis === 'x' ? [box.minX, box.maxX] : [box.minY, box.maxY];
    return { id: thing.item.id, from, size: to - from, middle: from + to };
  });
  spans.sort((a, b) => a.middle - b.middle);
  const [first, last] = [spans[0], spans.at(-1)];
  if (first === undefined || last === undefined) return refuse('Nothing is selected', 'Select at least three things.');
  const filled = spans.reduce((sum, { size }) => sum + size, 0);
  const gap = (last.from + last.size - first.from - filled) / (spans.length - 1);
  const shifts = new Map<string, number>();
  let next = first.from;
  for (const { id, from, size } of spans) {
    shifts.set(id, next - from);
    next += size + gap;
  }
  const name = `Spread ${nameThings(things)} evenly along ${axis}`;
  return moveEach(file, things, name, (_, id) => {
    const by = shifts.get(id) ?? 0;
    return axis === 'x' ? [by, 0] : [0, by];
  });
}

/** Moves each thing by its own way; a room takes along what is in it and not moved for itself. */
function moveEach(
  file: FloorFile,
  things: readonly Placed[],
  name: string,
  wayOf: (box: Box, id: string) => Point,
): Edit {
  const change = createChange(file);
  const ids = things.map(({ item }) => item.id);
  const done = new Set<string>();
  for (const thing of things) {
    const [x, y] = wayOf(boxOf(thing), thing.item.id);
    const way: Point = [fine(x), fine(y)];
    if (way[0] === 0 && way[1] === 0) continue;
    const own = withContents(file, [thing.item.id]).filter((id) => id === thing.item.id || !ids.includes(id));
    const moved = findPlaced(file, own).filter(({ item }) => !done.has(item.id));
    const refused = refuseToMove(file, own, moved);
    if (refused !== null) return refused;
    for (const each of moved) {
      setListed(change, moveThing(each, shift(way)));
      done.add(each.item.id);
    }
  }
  return change.plan(name, ids);
}
