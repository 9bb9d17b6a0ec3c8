/** What may turn out otherwise than drawn: each case is the floor with one thing changed. */
import type { Floor, Furniture, Point } from '../../floor/index.ts';
import { findRoomAt, nameOf } from '../../floor/index.ts';
import { hangsFree } from './hangs-free.ts';

/** Reach that is left when sensitivity is lower than declared. */
const WEAK_REACH = 0.8;
/** How far an assumed height may be off, metres. */
const DOUBT = 0.2;
/** How far a detector may hang from where it is drawn: a ceiling tile, metres. */
const ASIDE = 0.6;
/** The least a piece keeps of its height when its top is doubted, metres. */
const LEAST_HEIGHT = 0.01;

export type StressKind = 'doors' | 'raised' | 'reach' | 'ceiling' | 'furniture' | 'detector';

export interface StressCase {
  readonly kind: StressKind;
  /** The case in words: "Every door stands open". */
  readonly text: string;
  readonly about: readonly string[];
  readonly floor: Floor;
}

/**
 * Every case, cheap ones first: doors open, each raised desk up and all of them, reach 0.8, each assumed height 0.2 m up
 * and down, each detector 0.6 m to either side along both axes of its ceiling (places where it could not hang are left out).
 *
 * A piece that stands on the floor grows when it is raised; one that hangs off it moves up whole.
 */
export function listStressCases(floor: Floor): StressCase[] {
  return [
    ...openDoors(floor),
    ...raiseDesks(floor),
    ...weakenReach(floor),
    ...doubtCeilings(floor),
    ...doubtFurniture(floor),
    ...shiftDetectors(floor),
  ];
}

function openDoors(floor: Floor): StressCase[] {
  const closed = floor.openings.filter((opening) => opening.kind === 'door' && opening.state !== 'open');
  if (closed.length === 0) return [];
  const openings = floor.openings.map((opening) =>
    closed.includes(opening) ? { ...opening, state: 'open' as const } : opening,
  );
  const about = closed.map((opening) => opening.id);
  return [{ kind: 'doors', text: 'Every door stands open', about, floor: { ...floor, openings } }];
}

function raiseDesks(floor: Floor): StressCase[] {
  const pieces = floor.furniture.filter((piece) => piece.raised > 0);
  const up = (those: readonly Furniture[], text: string): StressCase => ({
    kind: 'raised',
    text,
    about: those.map((piece) => piece.id),
    floor: { ...floor, furniture: floor.furniture.map((piece) => (those.includes(piece) ? raise(piece) : piece)) },
  });
  const each = pieces.map((piece) => up([piece], `${nameOf(piece)} is raised by ${piece.raised.toFixed(2)} m`));
  return pieces.length > 1 ? [up(pieces, 'Every desk that can be raised is up'), ...each] : each;
}

function raise(piece: Furniture): Furniture {
  const base = piece.base > 0 ? piece.base + piece.raised : 0;
  return { ...piece, base, top: piece.top + piece.raised };
}

function weakenReach(floor: Floor): StressCase[] {
  const working = floor.detectors.filter((detector) => detector.status !== 'remove');
  if (working.length === 0) return [];
  const detectors = floor.detectors.map((each) => ({ ...each, reach: each.reach * WEAK_REACH }));
  const text = `Every detector reaches ${WEAK_REACH} of its declared range`;
  return [{ kind: 'reach', text, about: working.map((each) => each.id), floor: { ...floor, detectors } }];
}

function doubtCeilings(floor: Floor): StressCase[] {
  return floor.rooms
    .filter((room) => room.ceilingFrom === 'assumed')
    .flatMap((room) =>
      doubted(room.ceiling).map((ceiling) => ({
        kind: 'ceiling' as const,
        text: `The ceiling of ${nameOf(room)}, assumed at ${room.ceiling.toFixed(2)} m, is at ${ceiling.toFixed(2)} m`,
        about: [room.id],
        floor: { ...floor, rooms: floor.rooms.map((each) => (each === room ? { ...each, ceiling } : each)) },
      })),
    );
}

function doubtFurniture(floor: Floor): StressCase[] {
  return floor.furniture
    .filter((piece) => piece.from === 'assumed')
    .flatMap((piece) =>
      doubted(piece.top).map((height) => {
        const top = Math.max(piece.base + LEAST_HEIGHT, height);
        return {
          kind: 'furniture' as const,
          text: `${nameOf(piece)}, assumed ${piece.top.toFixed(2)} m high, is ${top.toFixed(2)} m`,
          about: [piece.id],
          floor: { ...floor, furniture: floor.furniture.map((each) => (each === piece ? { ...each, top } : each)) },
        };
      }),
    );
}

function doubted(height: number): number[] {
  return [height - DOUBT, height + DOUBT].filter((each) => each > 0);
}

function shiftDetectors(floor: Floor): StressCase[] {
  return floor.detectors.flatMap((detector, index) => {
    if (detector.status === 'remove') return [];
    return listAsides(floor, detector.at).flatMap((at): StressCase[] => {
      if (!hangsFree(floor, detector, at)) return [];
      const moved = { ...detector, at };
      const towards = `to (${at[0].toFixed(2)}, ${at[1].toFixed(2)})`;
      return [
        {
          kind: 'detector',
          text: `${nameOf(detector)} hangs ${ASIDE} m off, ${towards}`,
          about: [detector.id],
          floor: { ...floor, detectors: floor.detectors.with(index, moved) },
        },
      ];
    });
  });
}

/** Four places a tile away, along the axes of the ceiling grid over the place. */
function listAsides(floor: Floor, [x, y]: Point): Point[] {
  const room = findRoomAt(floor.rooms, [x, y]);
  const turn = ((room?.tiles?.turn ?? 0) * Math.PI) / 180;
  const [u, v] = [ASIDE * Math.cos(turn), ASIDE * Math.sin(turn)];
  return [
    [x + u, y + v],
    [x - v, y + u],
    [x - u, y - v],
    [x + v, y - u],
  ];
}
