/**
 * Move-room: where each detector may hang with every need still met and the others where they are. It answers the call
 * from the ladder: "there is a sprinkler here, may it go one tile over?"
 */
import { createCoverage, judgeNeeds, updateCoverage } from '../../coverage/index.ts';
import type { Detector, DetectorId, Floor, Point, Room } from '../../floor/index.ts';
import { findRoomAt } from '../../floor/index.ts';
import { hangsFree } from './hangs-free.ts';
import { listLost } from './stress.ts';

export interface MoveRoomOptions {
  /** Metres around a detector in which places are tried. */
  readonly within: number;
  /** Metres between places in rooms without a ceiling grid. */
  readonly pitch: number;
}

const MOVE_ROOM_DEFAULTS: MoveRoomOptions = { within: 1, pitch: 0.25 };

export interface MovePlace {
  readonly at: Point;
  /** Is every need that is met now met with the detector here? */
  readonly allowed: boolean;
}

export interface MoveRoom {
  readonly detector: DetectorId;
  /** Centres of ceiling tiles, or places of a plain grid around the detector. */
  readonly on: 'tiles' | 'places';
  /** The detector's own place comes first and is allowed. */
  readonly places: readonly MovePlace[];
  readonly allowed: number;
  /** May it hang nowhere else? */
  readonly critical: boolean;
}

export interface MoveRoomResult {
  readonly format: 'lacuna-move-room/1';
  readonly floor: string;
  readonly within: number;
  readonly detectors: readonly MoveRoom[];
}

/**
 * Tries every place near every detector that is not to be removed. Needs are workplaces, zones and entrances; only those
 * met as drawn can be lost.
 * @param onProgress told the share of detectors done
 */
export function findMoveRoom(
  floor: Floor,
  options: Partial<MoveRoomOptions> = {},
  onProgress: (share: number) => void = () => {},
): MoveRoomResult {
  const { within, pitch } = { ...MOVE_ROOM_DEFAULTS, ...options };
  const coverage = createCoverage(floor);
  const drawn = judgeNeeds(coverage);
  const keeps = (state: Floor): boolean => {
    updateCoverage(coverage, state);
    if (drawn.workplaces.some((was, k) => was.met && !coverage.workplaces[k]!.met)) return false;
    const { zones, entrances } = listLost(drawn, judgeNeeds(coverage));
    return zones.length + entrances.length === 0;
  };
  const detectors = floor.detectors.flatMap((detector, index): MoveRoom[] => {
    onProgress(index / floor.detectors.length);
    const room = findRoomAt(floor.rooms, detector.at);
    if (detector.status === 'remove' || !room) return [];
    const others = listPlaces(room, detector.at, within, pitch).filter((at) => hangsFree(floor, detector, at));
    const places = others.map((at) => ({ at, allowed: keeps(withMoved(floor, index, detector, at)) }));
    const allowed = 1 + places.filter((place) => place.allowed).length;
    return [
      {
        detector: detector.id,
        on: room.tiles ? 'tiles' : 'places',
        places: [{ at: detector.at, allowed: true }, ...places],
        allowed,
        critical: allowed === 1,
      },
    ];
  });
  onProgress(1);
  return { format: 'lacuna-move-room/1', floor: floor.name, within, detectors };
}

/** A lens hung at a height of its own keeps it; one that follows the ceiling goes on following it. */
function withMoved(floor: Floor, index: number, detector: Detector, at: Point): Floor {
  return { ...floor, detectors: floor.detectors.with(index, { ...detector, at }) };
}

/** Places of the room near a detector, without its own; nearest first, of equals from the lower left on. */
function listPlaces(room: Room, at: Point, within: number, pitch: number): Point[] {
  const { tiles } = room;
  const turn = ((tiles?.turn ?? 0) * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [pu, pv] = tiles?.pitch ?? [pitch, pitch];
  // Tile centres lie half a pitch from the joints; a plain grid is centred on the detector.
  const origin: Point = tiles ? tiles.origin : [at[0] - pu / 2, at[1] - pv / 2];
  const [dx, dy] = [at[0] - origin[0], at[1] - origin[1]];
  const [u, v] = [(c * dx + s * dy) / pu, (c * dy - s * dx) / pv];
  const [nu, nv] = [Math.ceil(within / pu) + 1, Math.ceil(within / pv) + 1];
  const places: { at: Point; distance: number }[] = [];
  for (let i = Math.floor(u) - nu; i <= Math.floor(u) + nu; i++) {
    for (let j = Math.floor(v) - nv; j <= Math.floor(v) + nv; j++) {
      const [a, b] = [(i + 0.5) * pu, (j + 0.5) * pv];
      const place: Point = [toMicrons(origin[0] + c * a - s * b), toMicrons(origin[1] + s * a + c * b)];
      const distance = Math.hypot(place[0] - at[0], place[1] - at[1]);
      if (distance > 0.001 && distance <= within + 1e-9 && findRoomAt([room], place)) {
        places.push({ at: place, distance });
      }
    }
  }
  return places
    .sort((a, b) => a.distance - b.distance || a.at[1] - b.at[1] || a.at[0] - b.at[0])
    .map((place) => place.at);
}

function toMicrons(metres: number): number {
  return Math.round(metres * 1e6) / 1e6;
}
