/** Long places walked straight at a detector: the longest stretch in which walking lengthways is not seen. */
import type { Point } from '../../floor/index.ts';
import { findRoomAt, nameOf } from '../../floor/index.ts';
import { hasCell, SLACK } from '../../sight/index.ts';
import type { Coverage } from '../coverage.ts';
import { crosses, EVERY_HEADING_WITHIN } from '../headings.ts';
import type { Draft, FindingContext } from './context.ts';
import { draft } from './context.ts';
import { metres } from './wording.ts';

/** Metres unseen lengthways (common practice, no source). */
const STRETCH = { note: 1, warn: 2, fail: 4 };

/** A room this many times as long as wide is walked lengthways. */
const LONG = 3;

const STEP = 0.05;

export interface Stretch {
  readonly length: number;
  readonly from: Point;
  readonly to: Point;
}

export function findEndOn({ coverage }: FindingContext): Draft[] {
  const { floor } = coverage;
  const zones = floor.zones
    .filter((zone) => zone.need === 'walking' && zone.heading !== undefined)
    .map((zone) => ({ place: zone, axis: axisOf(zone.outline, zone.heading!) }));
  // A zone with a heading speaks for the room it lies in.
  const spokenFor = new Set(zones.map(({ axis }) => findRoomAt(floor.rooms, middleOf(axis))));
  const rooms = floor.rooms
    .filter((room) => !spokenFor.has(room))
    .filter((room) => coverage.serving.groups.some((group) => group.rooms.includes(floor.rooms.indexOf(room))))
    .flatMap((room) => {
      const axis = longAxisOf(room.outline);
      return axis ? [{ place: room, axis }] : [];
    });
  return [...zones, ...rooms].flatMap(({ place, axis }) => {
    const stretch = findLongestUnseen(coverage, axis);
    if (!stretch || stretch.length <= STRETCH.note + SLACK) return [];
    const level =
      stretch.length > STRETCH.fail + SLACK ? 'fail' : stretch.length > STRETCH.warn + SLACK ? 'warn' : 'note';
    const text = `${nameOf(place)}: along ${metres(stretch.length)} nobody walking lengthways is seen, because one walks straight at the detector there. Turn, move or add one.`;
    const at: Point = [(stretch.from[0] + stretch.to[0]) / 2, (stretch.from[1] + stretch.to[1]) / 2];
    return [draft(level, 'end-on', text, at, [place.id], stretch.length)];
  });
}

/** The middle line of a place in a direction. */
interface Axis {
  readonly start: Point;
  readonly ux: number;
  readonly uy: number;
  readonly length: number;
  readonly outline: readonly Point[];
}

function middleOf({ start, ux, uy, length }: Axis): Point {
  return [start[0] + (length / 2) * ux, start[1] + (length / 2) * uy];
}

function axisOf(outline: readonly Point[], heading: number): Axis {
  const ux = Math.cos((heading * Math.PI) / 180);
  const uy = Math.sin((heading * Math.PI) / 180);
  const along = outline.map(([x, y]) => x * ux + y * uy);
  const across = outline.map(([x, y]) => y * ux - x * uy);
  const from = Math.min(...along);
  const middle = (Math.min(...across) + Math.max(...across)) / 2;
  return {
    start: [from * ux - middle * uy, from * uy + middle * ux],
    ux,
    uy,
    length: Math.max(...along) - from,
    outline,
  };
}

/** The lengthways middle line of a room at least three times as long as wide, measured along its longest edge. */
function longAxisOf(outline: readonly Point[]): Axis | null {
  let longest = 0;
  let heading = 0;
  outline.forEach(([x, y], i) => {
    const [nx, ny] = outline[(i + 1) % outline.length]!;
    const length = Math.hypot(nx - x, ny - y);
    if (length > longest) {
      longest = length;
      heading = (Math.atan2(ny - y, nx - x) * 180) / Math.PI;
    }
  });
  const axis = axisOf(outline, heading);
  const width = axisOf(outline, heading + 90).length;
  return axis.length >= LONG * width - SLACK ? axis : null;
}

function findLongestUnseen(coverage: Coverage, axis: Axis): Stretch | null {
  const { lattice } = coverage.grid;
  const heading = (Math.atan2(axis.uy, axis.ux) * 180) / Math.PI;
  let best: Stretch | null = null;
  let from: Point | null = null;
  const at = (step: number): Point => [axis.start[0] + step * STEP * axis.ux, axis.start[1] + step * STEP * axis.uy];
  const steps = Math.floor(axis.length / STEP + SLACK);
  const close = (to: Point) => {
    if (!from) return;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (!best || length > best.length) best = { length, from, to };
    from = null;
  };
  for (let step = 0; step <= steps; step++) {
    const place = at(step);
    const i = Math.floor((place[0] - lattice.x0) / lattice.cell);
    const j = Math.floor((place[1] - lattice.y0) / lattice.cell);
    const walked = hasCell(coverage.walking.occupiable, i, j);
    if (walked && !seesLengthways(coverage, i, j, place, heading)) from ??= place;
    else close(place);
  }
  close(at(steps));
  return best;
}

function seesLengthways(coverage: Coverage, i: number, j: number, [x, y]: Point, heading: number): boolean {
  return coverage.served.some((layers, detector) => {
    if (layers.radial && hasCell(layers.radial, i, j)) return true;
    if (!layers.tangential || !hasCell(layers.tangential, i, j)) return false;
    const lens = coverage.scene.lenses[detector]!;
    if (Math.hypot(x - lens.x, y - lens.y) <= EVERY_HEADING_WITHIN + SLACK) return true;
    return crosses(
      heading,
      (Math.atan2(y - lens.y, x - lens.x) * 180) / Math.PI,
      coverage.floor.analysis.crossingAngle,
    );
  });
}
