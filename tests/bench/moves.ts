/** Something that is dragged: the floor at each step, made before the clock runs. */
import {
  type Detector,
  type Floor,
  type Furniture,
  findRoomAt,
  lensHeightOf,
  type Point,
} from '../../src/core/floor/index.ts';
import { isInRing } from '../../src/core/geometry/polygon.ts';

/** Metres a step: one cell. */
const STEP = 0.1;
/** A lens stays this far from walls and from what reaches up to it, metres. */
const KEEP_OFF = 0.1;
/** Degrees by which a path turns where it cannot go on. */
const TURN = 103;

/** The floor as one detector is dragged through its room in steps of 0.1 m, turning where it would meet something. */
export function dragDetector(floor: Floor, index: number, steps: number): Floor[] {
  const detector = floor.detectors[index]!;
  const isFree = createFreePlaces(floor, detector);
  let at = detector.at;
  let heading = 17;
  return Array.from({ length: steps }, () => {
    let next = stepFrom(at, heading);
    for (let turns = 0; !isFree(next); turns++) {
      if (turns > 360) throw new Error(`${detector.name} cannot move`);
      heading += TURN;
      next = stepFrom(at, heading);
    }
    at = next;
    return { ...floor, detectors: floor.detectors.with(index, { ...detector, at }) };
  });
}

function stepFrom([x, y]: Point, heading: number): Point {
  const angle = (heading * Math.PI) / 180;
  return [x + STEP * Math.cos(angle), y + STEP * Math.sin(angle)];
}

/** Tells whether a lens can hang at a place: in the room it hangs in now, clear of walls and of pieces as high as it. */
function createFreePlaces(floor: Floor, detector: Detector): (place: Point) => boolean {
  const room = findRoomAt(floor.rooms, detector.at);
  if (room === undefined) throw new Error(`${detector.name} hangs in no room`);
  const height = lensHeightOf(detector, floor);
  const inTheWay = floor.furniture.filter(({ base, top }) => base <= height && top >= height);
  return ([x, y]) =>
    [-KEEP_OFF, KEEP_OFF].every((dx) =>
      [-KEEP_OFF, KEEP_OFF].every((dy) => {
        const corner: Point = [x + dx, y + dy];
        return (
          findRoomAt(floor.rooms, corner) === room && !inTheWay.some(({ outline }) => isInRing(outline, ...corner))
        );
      }),
    );
}

/** The floor as a piece is dragged to and fro along x in steps of 0.1 m, 3 m each way. */
export function dragPiece(floor: Floor, index: number, steps: number): Floor[] {
  return Array.from({ length: steps }, (_, step) => {
    const shift = STEP * swing(step + 1, 30);
    return withPiece(floor, index, ({ outline }) => ({ outline: outline.map(([x, y]): Point => [x + shift, y]) }));
  });
}

/** The floor as the top of a piece goes up and down in steps of 0.05 m, between its own height and 1 m lower. */
export function dragTop(floor: Floor, index: number, steps: number): Floor[] {
  return Array.from({ length: steps }, (_, step) =>
    withPiece(floor, index, ({ top }) => ({ top: top - 0.05 * (20 - Math.abs(((step + 1) % 40) - 20)) })),
  );
}

/** The floor as an opening slides to and fro along its wall in steps of 0.02 m: the first past the middle of the list of which `counts` says yes. */
export function dragOpening(floor: Floor, steps: number, counts: (moved: Floor) => boolean): Floor[] {
  const middle = floor.openings.length >> 1;
  for (let step = 0; step < floor.openings.length; step++) {
    const index = (middle + step) % floor.openings.length;
    if (counts(slideOpening(floor, index, 1)[0]!)) return slideOpening(floor, index, steps);
  }
  throw new Error(`${floor.name}: has no opening that counts`);
}

function slideOpening(floor: Floor, index: number, steps: number): Floor[] {
  const opening = floor.openings[index]!;
  const [ax, ay] = opening.from;
  const [bx, by] = opening.to;
  const length = Math.hypot(bx - ax, by - ay);
  return Array.from({ length: steps }, (_, step) => {
    const shift = (0.02 * swing(step + 1, 10)) / length;
    const along = ([x, y]: Point): Point => [x + shift * (bx - ax), y + shift * (by - ay)];
    const moved = { ...opening, from: along(opening.from), to: along(opening.to) };
    return { ...floor, openings: floor.openings.with(index, moved) };
  });
}

/**
 * The floor as a corner of a room moves to and fro along x in steps of 0.02 m: of the rooms past the middle of the list the
 * first whose corner is not the floor's own edge, because there all cells shift and everything is worked out anew, elsewhere.
 */
export function dragCorner(floor: Floor, steps: number): Floor[] {
  const edge = floor.rooms.flatMap(({ outline }) => outline).reduce((least, [x]) => Math.min(least, x), Infinity);
  const middle = floor.rooms.length >> 1;
  const index = floor.rooms.findIndex(({ outline }, room) => room >= middle && outline[0]![0] > edge + 1);
  if (index < 0) throw new Error(`${floor.name}: every room stands at its edge`);
  const room = floor.rooms[index]!;
  return Array.from({ length: steps }, (_, step) => {
    const [x, y] = room.outline[0]!;
    const outline = room.outline.with(0, [x + 0.02 * swing(step + 1, 10), y]);
    return { ...floor, rooms: floor.rooms.with(index, { ...room, outline }) };
  });
}

/** 1, 2 … most, most − 1 … −most … 0, 1 …: to and fro by one a step. */
function swing(step: number, most: number): number {
  const at = step % (4 * most);
  return at <= most ? at : at <= 3 * most ? 2 * most - at : at - 4 * most;
}

function withPiece(floor: Floor, index: number, change: (piece: Furniture) => Partial<Furniture>): Floor {
  const piece = floor.furniture[index]!;
  return { ...floor, furniture: floor.furniture.with(index, { ...piece, ...change(piece) }) };
}
