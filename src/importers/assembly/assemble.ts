/** Makes a valid floor of what a reader took out of a storey, and tells what was taken, guessed and left out. */
import {
  type FloorFile,
  type FurnitureId,
  LIMITS,
  type LuminaireId,
  type OpeningId,
  type RoomId,
  type SourceId,
  type WorkplaceId,
} from '../../core/floor/index.ts';
import type { DrawnStorey } from '../storey.ts';
import { type Account, createAccount, placeOf } from './account.ts';
import { DEFAULT_CEILING, type ImportAnswers } from './answers.ts';
import { findInnerWalls, sortWalls } from './inner-walls.ts';
import { indexEdges, type SetOpening, setOpenings } from './openings.ts';
import { type CeiledRoom, clip, createRoomFinder, settlePieces, settleServices, tidy } from './pieces.ts';
import { countThings, type ImportReport, type SourceWords, shortenReport } from './report.ts';
import { areaOfRooms, findRooms, middleOf, type SoundRoom } from './rooms.ts';
import { settleSeats } from './seats.ts';
import { leaveOutFaults } from './settle.ts';
import { stampOf } from './stamp.ts';

/** A floor file that `validateFloor` accepts, and the account of it. */
export interface AssembledFloor {
  readonly floor: FloorFile;
  readonly report: ImportReport;
}

/**
 * Turns one storey into a floor file: metres, the storey's own axes, z = 0 at its floor. The result is always valid; what
 * cannot stand in a valid floor is left out and told. A floor without rooms means that nothing encloses one.
 */
export function assembleFloor(storey: DrawnStorey, answers: ImportAnswers, source: SourceWords): AssembledFloor {
  const account = createAccount([...source.remarks, ...storey.remarks]);
  const ceiling = chooseCeiling(storey, answers);
  const { bounding, low } = sortWalls(storey.walls, ceiling.height, account);
  const found = findRooms(storey, bounding, answers, account);
  const rooms = found.rooms.slice(0, LIMITS.rooms).map((room) => ceilRoom(room, ceiling, account));
  const findRoom = createRoomFinder(rooms);

  const inner = findInnerWalls(bounding, areaOfRooms(rooms), found.free, account);
  const pieces = settlePieces([...storey.pieces, ...low, ...inner], findRoom, answers, account);
  const openings = setOpenings(storey.openings, indexEdges(rooms.map(({ face }) => face)), account);
  const { luminaires, sources } = settleServices(storey, findRoom, account);
  const seats = settleSeats(storey, pieces, findRoom, answers, account);

  const draft: FloorFile = {
    format: 'lacuna/1',
    name: clip(nameOf(storey, source)),
    ...(storey.north === null || !Number.isFinite(storey.north)
      ? {}
      : { north: tidy(((storey.north % 360) + 360) % 360) }),
    rooms: rooms.map((room, i) => mark(room.key, writeRoom(room, i))),
    openings: openings.map((opening, i) => mark(opening.drawn.key, writeOpening(opening, i))),
    furniture: pieces.map(({ key, ...piece }, i) => mark(key, { id: `F${i + 1}` as FurnitureId, ...piece })),
    luminaires: luminaires.map(({ key, ...each }, i) => mark(key, { id: `L${i + 1}` as LuminaireId, ...each })),
    workplaces: seats.map(({ key, name, ...seat }, i) =>
      mark(key, { id: `W${i + 1}` as WorkplaceId, name: name === '' ? String(i + 1) : name, ...seat }),
    ),
    sources: sources.map(({ key, ...each }, i) => mark(key, { id: `Q${i + 1}` as SourceId, ...each })),
    types: [],
    detectors: [],
  };
  const valid = leaveOutFaults(draft, account);
  const report: ImportReport = {
    source: source.name,
    format: source.format,
    storey: storey.name,
    origin: source.origin,
    counts: countThings(valid),
    remarks: account.list(),
  };
  return { floor: { ...valid, notes: { import: shortenReport(report) } }, report };
}

function nameOf(storey: DrawnStorey, source: SourceWords): string {
  const file = source.name.replace(/^.*[\\/]/u, '').replace(/\.[^.]*$/u, '');
  return [file, storey.name].filter((part) => part.trim() !== '').join(', ') || 'Imported floor';
}

interface ChosenCeiling {
  readonly height: number;
  readonly because: string;
}

/** The height of ceilings that are not stated: as answered, as most rooms have it, as the walls go, or 2.8 m. */
function chooseCeiling(storey: DrawnStorey, answers: ImportAnswers): ChosenCeiling {
  if (answers.ceiling !== undefined) return { height: answers.ceiling, because: `the answer is ${answers.ceiling} m` };
  const rooms = commonest(storey.rooms.map(({ ceiling }) => ceiling));
  if (rooms !== undefined) return { height: rooms, because: `most rooms of the storey have ${rooms} m` };
  const walls = commonest(storey.walls.map((wall) => (wall.kind === 'footprint' ? wall.top : null)));
  if (walls !== undefined) return { height: walls, because: `most walls of the storey end at ${walls} m` };
  return { height: DEFAULT_CEILING, because: `${DEFAULT_CEILING} m is taken` };
}

/** The commonest height between 2 and 6 m, to a centimetre; of equals the lowest. */
function commonest(heights: readonly (number | null)[]): number | undefined {
  const counts = new Map<number, number>();
  for (const height of heights) {
    if (height === null || !(height >= 2 && height <= 6)) continue;
    const key = Math.round(height * 100) / 100;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0];
}

function ceilRoom(room: SoundRoom, chosen: ChosenCeiling, account: Account): CeiledRoom {
  const { ceiling } = room;
  if (ceiling !== null && ceiling > 0 && ceiling <= LIMITS.height) return { ...room, ceiling };
  account.add(
    'guessed',
    'ceilings',
    `The source does not state them: ${chosen.because}. Measure them.`,
    placeOf(room, middleOf(room.face)),
  );
  return { ...room, ceiling: chosen.height, isAssumed: true };
}

function writeRoom({ name, use, face, ceiling, isAssumed }: CeiledRoom, i: number): FloorFile['rooms'][number] {
  return {
    id: `R${i + 1}` as RoomId,
    name: name.trim() === '' ? `Room ${i + 1}` : clip(name),
    ...(use === undefined || use.trim() === '' ? {} : { use: clip(use) }),
    outline: face.outline,
    ...(face.holes.length === 0 ? {} : { holes: face.holes }),
    ceiling: tidy(ceiling),
    ...(isAssumed === true ? { ceilingFrom: 'assumed' } : {}),
  };
}

function writeOpening({ drawn, from, to, depth }: SetOpening, i: number): NonNullable<FloorFile['openings']>[number] {
  const sill = bounded(drawn.sill);
  const head = bounded(drawn.head);
  // A threshold is stepped over: sight passes from the floor upwards.
  const settledSill = drawn.kind === 'window' || (sill ?? 0) > 0.1 ? (sill ?? 0) : 0;
  const isAbove = head !== null && head > settledSill;
  const usual = settledSill < 2.1;
  return {
    id: `O${i + 1}` as OpeningId,
    kind: drawn.kind,
    from,
    to,
    depth,
    ...(settledSill > 0 && (isAbove || usual) ? { sill: tidy(settledSill) } : {}),
    ...(isAbove ? { head: tidy(head) } : {}),
  };
}

function bounded(height: number | null): number | null {
  return height === null || !Number.isFinite(height) ? null : Math.min(LIMITS.height, Math.max(0, height));
}

/** Keeps with a thing what it is called in the source, and what it was when it was taken. */
function mark<Thing extends object>(source: string, thing: Thing): Thing & { notes: { source: string; as: string } } {
  return { ...thing, notes: { source, as: stampOf(thing) } };
}
