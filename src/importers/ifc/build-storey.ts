/** Puts the things of one storey where they belong: rooms first, then what stands, hangs and opens in them. */
import type { PlanPoint, PlanRing } from '../../core/geometry/polygon.ts';
import type {
  DrawnLuminaire,
  DrawnOpening,
  DrawnPiece,
  DrawnSource,
  DrawnStorey,
  DrawnWall,
  DrawnWorkplace,
} from '../storey.ts';
import type { Account } from './account.ts';
import { classify, type Placed, toPieces, toWorkplace } from './furniture.ts';
import type { Level } from './levels.ts';
import { findOpenEdges } from './open-edges.ts';
import { type OpeningParts, readOpening } from './openings.ts';
import type { Model } from './placements.ts';
import { isInRegion } from './regions.ts';
import { type CeilingPlan, readRoom } from './rooms.ts';
import { toHanging, toLuminaire, toSource } from './services.ts';
import type { Solid } from './shapes.ts';
import { createScope, placeOf, type RoomPlan, type StoreyScope } from './storey-scope.ts';
import type { Thing } from './things.ts';
import { joinFront, toGlassFront, toStandingPiece, toWalls } from './walls.ts';
import type { NamedKind } from './words.ts';

/** Everything that was found to belong to one storey. */
export interface StoreyThings {
  readonly level: Level;
  readonly height: number;
  readonly spaces: readonly Thing[];
  readonly things: readonly Thing[];
  /** Doors, windows and bare openings with the holes they stand in. */
  readonly openings: readonly Omit<OpeningParts, 'walls'>[];
  readonly account: Account;
}

/** What the building of storeys needs of the model. */
export interface ModelWords {
  readonly model: Model;
  readonly origin: PlanPoint;
  readonly north: number | null;
  boundariesOf(space: number): readonly number[];
  statedAreaOf(space: number): number | undefined;
  isGlass(thing: Thing): boolean;
  solidOf(thing: Thing): Solid | undefined;
}

export function buildStorey(found: StoreyThings, words: ModelWords): DrawnStorey {
  const { level, account } = found;
  const outer = createScope(level, found.height, account, words.origin, []);
  const ceilings = readCeilings(found.things, words);
  const rooms = found.spaces.flatMap((space) =>
    readRoom(outer, words.model, space, words.boundariesOf(space.id), ceilings, words.statedAreaOf(space.id)),
  );
  const scope = createScope(level, found.height, account, words.origin, rooms);
  const kept = sortThings(scope, found.things, words, rooms);
  const walls = found.things.filter(({ role }) => role === 'wall' || role === 'curtain wall');
  const wallSolids = walls.map((wall) => words.solidOf(wall)).filter((solid) => solid !== undefined);
  const openings = found.openings.flatMap((parts) => readOpening(scope, { ...parts, walls: wallSolids }) ?? []);
  // Glass bounds rooms as walls do, and so do plates that stand alone.
  const plates = found.things.filter(({ role }) => role === 'plate').map((plate) => words.solidOf(plate));
  const fronts = [...wallSolids, ...plates.filter((solid) => solid !== undefined)];
  if (level.doubt !== '')
    account.note('guessed', 'storey heights', level.doubt, { key: level.key, name: level.name, at: null });
  if (rooms.length === 0 && kept.walls.length === 0) {
    account.note('left out', 'storeys', 'This storey has neither rooms nor walls: there is no floor to compute.', {
      key: level.key,
      name: level.name,
      at: null,
    });
  } else if (rooms.length === 0) {
    const reason =
      'The file has no rooms (IfcSpace) on it: they have to be found from the walls. Rooms exported with the model are exact.';
    account.note('taken', 'storeys without rooms', reason, { key: level.key, name: level.name, at: null });
  }
  return {
    name: level.name,
    elevation: level.elevation ?? (level.id === 0 ? null : level.floor),
    north: words.north,
    rooms: rooms.map(({ room }) => room),
    walls: kept.walls,
    openings: [...openings, ...kept.openings, ...findOpenEdges(scope, rooms, fronts)],
    pieces: kept.pieces,
    luminaires: kept.luminaires,
    workplaces: kept.workplaces,
    sources: kept.sources,
    remarks: account.list(),
  };
}

function readCeilings(things: readonly Thing[], { solidOf }: ModelWords): CeilingPlan[] {
  return things.flatMap((thing) => {
    if (thing.role !== 'covering' || thing.predefined !== '.CEILING.') return [];
    const solid = solidOf(thing);
    return solid === undefined ? [] : [{ regions: solid.regions, base: solid.base }];
  });
}

interface Kept {
  readonly walls: DrawnWall[];
  readonly openings: DrawnOpening[];
  readonly pieces: DrawnPiece[];
  readonly luminaires: DrawnLuminaire[];
  readonly workplaces: DrawnWorkplace[];
  readonly sources: DrawnSource[];
}

function sortThings(scope: StoreyScope, things: readonly Thing[], words: ModelWords, rooms: readonly RoomPlan[]): Kept {
  const kept: Kept = { walls: [], openings: [], pieces: [], luminaires: [], workplaces: [], sources: [] };
  const isInRoom = ([x, y]: PlanPoint): boolean => rooms.some(({ region }) => isInRegion(region, x, y));
  const chairs: Placed[] = [];
  for (const thing of things) {
    const { role } = thing;
    if (typeof role === 'object') {
      scope.account.note('left out', role.leftOut, role.reason, placeOf(scope, thing));
      continue;
    }
    if (role === 'door' || role === 'window' || role === 'assembly') continue;
    if (role === 'furniture' || role === 'proxy' || role === 'part' || role === 'fixture') {
      takeFurniture(scope, thing, words, kept, chairs);
      continue;
    }
    const solid = words.solidOf(thing);
    if (solid === undefined) {
      scope.account.note('left out', NAMES[role] ?? 'things', whyNoShape(thing), placeOf(scope, thing));
      continue;
    }
    takeSolid(scope, thing, solid, words, kept, rooms.length > 0, isInRoom);
  }
  const desks: PlanRing[] = [];
  for (const piece of kept.pieces) if (piece.kind === 'desk') desks.push(piece.outline);
  for (const chair of chairs) {
    const workplace = toWorkplace(scope, chair, desks);
    if (workplace !== undefined) kept.workplaces.push(workplace);
  }
  return kept;
}

/** What things of a role are called in the account. */
const NAMES: Readonly<Partial<Record<string, string>>> = {
  wall: 'walls',
  'curtain wall': 'glass fronts',
  plate: 'plates',
  member: 'posts and members',
  beam: 'beams',
  column: 'columns',
  railing: 'railings',
  covering: 'coverings',
  duct: 'ducts, pipes and trays',
  luminaire: 'luminaires',
  heater: 'heaters',
  'air outlet': 'air outlets',
  fan: 'fans',
  machine: 'machines',
  equipment: 'equipment',
};

function whyNoShape(thing: Thing): string {
  if (thing.unplaced !== undefined) return `It has no place: ${thing.unplaced}.`;
  if (thing.unread.length > 0) return `Its body could not be read (${thing.unread[0]}).`;
  return thing.bodies.length > 0 ? 'Its body encloses nothing in plan.' : 'It has no body.';
}

function takeSolid(
  scope: StoreyScope,
  thing: Thing,
  solid: Solid,
  words: ModelWords,
  kept: Kept,
  hasRooms: boolean,
  isInRoom: (point: PlanPoint) => boolean,
): void {
  switch (thing.role) {
    case 'wall':
    case 'curtain wall': {
      const isFront = thing.role === 'curtain wall';
      const isGlass = isFront || words.isGlass(thing);
      const whole = isFront ? joinFront(solid) : solid;
      if (isGlass) {
        const front = toGlassFront(scope, thing, whole, isInRoom);
        kept.openings.push(...front.openings);
        if (hasRooms) kept.pieces.push(...front.pieces);
      }
      // Without rooms in the file every wall may be what bounds one.
      if (!isGlass || !hasRooms) kept.walls.push(...toWalls(scope, thing, whole));
      return;
    }
    case 'plate':
      kept.pieces.push(...toStandingPiece(scope, thing, solid, 'partition', words.isGlass(thing)));
      return;
    case 'railing':
      kept.pieces.push(...toStandingPiece(scope, thing, solid, 'partition', words.isGlass(thing)));
      return;
    case 'column':
      kept.pieces.push(...toStandingPiece(scope, thing, solid, 'column', false));
      return;
    case 'member':
    case 'beam':
    case 'duct':
      kept.pieces.push(...toHanging(scope, thing, solid, NAMES[thing.role] ?? thing.role));
      return;
    case 'covering':
      if (thing.predefined !== '.CEILING.')
        scope.account.note(
          'left out',
          'coverings',
          'Floor finishes and claddings hide nobody.',
          placeOf(scope, thing, solid),
        );
      else
        scope.account.note(
          'taken',
          'ceiling coverings',
          'They tell the height of ceilings where rooms have no body.',
          placeOf(scope, thing, solid),
        );
      return;
    case 'luminaire': {
      const luminaire = toLuminaire(scope, thing, solid);
      if (luminaire !== undefined) kept.luminaires.push(luminaire);
      return;
    }
    case 'heater':
    case 'air outlet':
    case 'fan':
    case 'machine': {
      const source = toSource(scope, thing, solid, thing.role);
      if (source !== undefined) kept.sources.push(source);
      return;
    }
    case 'equipment':
      takeEquipment(scope, thing, solid, words, kept);
      return;
    default:
      scope.account.note('left out', 'things', 'A floor has no use for them.', placeOf(scope, thing, solid));
  }
}

const SOURCE_KINDS: Readonly<Partial<Record<NamedKind, DrawnSource['kind']>>> = {
  heater: 'heater',
  fan: 'fan',
  'air outlet': 'air outlet',
  machine: 'machine',
};

/** Equipment whose kind only its name tells. */
function takeEquipment(scope: StoreyScope, thing: Thing, solid: Solid, words: ModelWords, kept: Kept): void {
  const placed = classify(scope, thing, 'equipment');
  if (placed === undefined) return;
  const kind = SOURCE_KINDS[placed.kind];
  if (placed.kind === 'lamp') {
    const luminaire = toLuminaire(scope, thing, solid);
    if (luminaire !== undefined) kept.luminaires.push(luminaire);
  } else if (kind !== undefined) {
    const source = toSource(scope, thing, solid, kind);
    if (source !== undefined) kept.sources.push(source);
  } else kept.pieces.push(...toPieces(scope, placed, words.isGlass(thing)));
}

function takeFurniture(scope: StoreyScope, thing: Thing, words: ModelWords, kept: Kept, chairs: Placed[]): void {
  const what =
    thing.role === 'furniture' ? 'furniture' : thing.role === 'fixture' ? 'fixtures' : 'unnamed kinds (proxies)';
  const placed = classify(scope, thing, what);
  if (placed === undefined) return;
  const kind = SOURCE_KINDS[placed.kind];
  if (placed.kind === 'chair' && thing.role !== 'fixture') chairs.push(placed);
  else if (placed.kind === 'lamp' && thing.role !== 'fixture') {
    const luminaire = toLuminaire(scope, thing, placed.solid);
    if (luminaire !== undefined) kept.luminaires.push(luminaire);
  } else if (kind !== undefined && thing.role !== 'fixture') {
    const source = toSource(scope, thing, placed.solid, kind);
    if (source !== undefined) kept.sources.push(source);
    // A machine stands in the way as well.
    if (kind === 'machine' || kind === 'heater')
      kept.pieces.push(
        ...toPieces(scope, { ...placed, kind: 'other' }, false).map((piece) => ({
          ...piece,
          key: `${piece.key}/body`,
        })),
      );
  } else {
    const isGlass =
      placed.kind === 'partition' || placed.kind === 'screen' || placed.kind === 'other' ? words.isGlass(thing) : false;
    kept.pieces.push(...toPieces(scope, placed, isGlass));
  }
}
