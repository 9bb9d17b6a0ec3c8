/** Gives every thing its storey: the one that holds it, else by its height; tall walls and columns every storey they pass. */

import { type Box, computeBox } from '../../core/geometry/polygon.ts';
import { type Account, createAccount } from './account.ts';
import { cornersOf, type Extent, extentOf } from './bodies.ts';
import type { StoreyThings } from './build-storey.ts';
import { ceilingLevel, findLevelAt, type Level, readLevels } from './levels.ts';
import type { OpeningParts } from './openings.ts';
import type { Placements } from './placements.ts';
import { isInRegion } from './regions.ts';
import { chooseSpaces } from './rooms.ts';
import type { Solid } from './shapes.ts';
import type { StepFile } from './step-file.ts';
import type { Structure } from './structure.ts';
import type { Thing } from './things.ts';
import type { Units } from './units.ts';

export interface Assignment {
  readonly step: StepFile;
  readonly units: Units;
  readonly placements: Placements;
  readonly structure: Structure;
  readonly spaces: readonly Thing[];
  readonly things: readonly Thing[];
  readonly holes: readonly Thing[];
  /** The account of the whole model. */
  readonly account: Account;
  readonly solidOf: (thing: Thing) => Solid | undefined;
  readonly projectName: string;
}

/** A wall or column reaching this far (metres) into another storey stands there too. */
const REACH = 1;
/** A door or window this far (metres) out of the middle of its wall still stands in its hole. */
const NEAR = 0.1;

interface Draft {
  readonly level: Level;
  readonly spaces: Thing[];
  readonly things: Thing[];
  readonly openings: Omit<OpeningParts, 'walls'>[];
  readonly account: Account;
}

export function assignStoreys(input: Assignment): StoreyThings[] {
  const { step, units, placements, structure, account, solidOf } = input;
  const rooms = chooseSpaces(input.spaces, structure, (space, what, reason) =>
    account.note('left out', what, reason, { key: space.key, name: space.name, at: null }),
  );
  const basesOf = (storey: number) => {
    const bases = (list: readonly Thing[]): number[] =>
      list.filter((thing) => thing.storey === storey).flatMap(({ bodies }) => extentOf(bodies)?.base ?? []);
    return {
      rooms: bases(rooms.filter(({ form }) => form === 'body')),
      walls: bases(input.things.filter(({ role }) => role === 'wall')),
    };
  };
  let levels = readLevels(step, units, placements, basesOf);
  if (levels.length === 0) {
    levels = [standIn(input)];
    account.note('guessed', 'storeys', 'The file has no storeys: everything was taken as one.');
  }
  const drafts = levels.map(
    (level): Draft => ({ level, spaces: [], things: [], openings: [], account: createAccount() }),
  );
  const draftOf = (thing: Thing): Draft | undefined => {
    const held = drafts.find(({ level }) => level.id === thing.storey && thing.storey !== 0);
    if (held !== undefined) return held;
    const extent = extentOf(thing.bodies);
    const level = extent === undefined ? undefined : findLevelAt(levels, extent.base);
    const draft = drafts.find((each) => each.level === level);
    if (draft !== undefined && levels.length > 1)
      draft.account.note(
        'guessed',
        'things on no storey',
        'No storey holds them: they were taken to stand on the one at their height.',
        { key: thing.key, name: thing.name, at: null },
      );
    return draft;
  };
  for (const room of rooms) {
    const draft = draftOf(room) ?? drafts[0];
    draft?.spaces.push(room);
  }

  const byId = new Map(input.things.map((thing) => [thing.id, thing]));
  const bareHoles = input.holes.filter(({ id }) => structure.fillingsOf(id).length === 0);
  let boxes: readonly HoleBox[] | undefined;
  const bareBoxes = (): readonly HoleBox[] => {
    boxes ??= bareHoles.flatMap((hole) => {
      const reach = extentOf(hole.bodies);
      return reach === undefined ? [] : [{ hole, reach, box: computeBox(cornersOf(hole.bodies)) }];
    });
    return boxes;
  };
  /** Bare holes with a door or window in them that nothing ties to them. */
  const used = new Set<number>();
  const holesById = new Map(input.holes.map((hole) => [hole.id, hole]));
  for (const thing of input.things) {
    if (isSwallowed(thing, structure, byId)) continue;
    if (thing.role === 'door' || thing.role === 'window') {
      const hole = holesById.get(structure.openingOf(thing.id));
      const around =
        hole === undefined
          ? findHoleAround(thing, bareBoxes(), (hole) => byId.get(structure.wallOf(hole.id)), solidOf)
          : undefined;
      if (around !== undefined) used.add(around.id);
      const host = byId.get(structure.wallOf((hole ?? around)?.id ?? 0)) ?? byId.get(thing.owner);
      const draft = draftOf(thing) ?? (host && draftOf(host));
      draft?.openings.push({ filling: thing, hole, wall: host && solidOf(host), unit: units.length });
      if (draft === undefined)
        account.note('left out', `${thing.role}s`, thing.unplaced ?? 'Nothing says on which storey they are.', {
          key: thing.key,
          name: thing.name,
          at: null,
        });
      continue;
    }
    const draft = draftOf(thing);
    if (draft !== undefined) draft.things.push(thing);
    else tellHomeless(thing, account);
    if (draft !== undefined) reachUp(thing, draft, drafts, solidOf);
  }
  addBareHoles({ ...input, holes: bareHoles.filter(({ id }) => !used.has(id)) }, drafts, byId, draftOf);
  return drafts.map((draft) => ({ ...draft, height: ceilingLevel(levels, draft.level) - draft.level.floor }));
}

interface HoleBox {
  readonly hole: Thing;
  readonly reach: Extent;
  readonly box: Box;
}

/** The bare hole that a door or window stands in without being tied to it. */
function findHoleAround(
  filling: Thing,
  holes: readonly HoleBox[],
  hostOf: (hole: Thing) => Thing | undefined,
  solidOf: (thing: Thing) => Solid | undefined,
): Thing | undefined {
  const extent = extentOf(filling.bodies);
  if (extent === undefined) return undefined;
  const box = computeBox(cornersOf(filling.bodies));
  const [x, y, z] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2, (extent.base + extent.top) / 2];
  const around = holes
    .filter(({ reach, box: { minX, minY, maxX, maxY } }) => {
      if (z < reach.base || z > reach.top) return false;
      return x > minX - NEAR && x < maxX + NEAR && y > minY - NEAR && y < maxY + NEAR;
    })
    .map(({ hole }) => hole);
  // Holes reach out of their walls, over corners too: the wall it stands in decides.
  const isInWall = (hole: Thing): boolean => {
    const host = hostOf(hole);
    const regions = (host && solidOf(host)?.regions) ?? [];
    return regions.some((region) => isInRegion(region, x, y));
  };
  return around.find(isInWall) ?? around[0];
}

function tellHomeless(thing: Thing, account: Account): void {
  const what = typeof thing.role === 'object' ? thing.role.leftOut : 'things without a storey';
  const reason =
    typeof thing.role === 'object'
      ? thing.role.reason
      : (thing.unplaced ?? 'No storey holds them and they have no body.');
  if (thing.role === 'assembly') return;
  account.note('left out', what, reason, { key: thing.key, name: thing.name, at: null });
}

/** One storey for a file that has none, from the lowest point of its rooms or walls. */
function standIn({ spaces, things, projectName }: Assignment): Level {
  const bodied = spaces.length > 0 ? spaces : things.filter(({ role }) => role === 'wall');
  const bases = (bodied.length > 0 ? bodied : things).flatMap(({ bodies }) => extentOf(bodies)?.base ?? []);
  const floor = bases.length === 0 ? 0 : bases.reduce((least, base) => Math.min(least, base));
  return { id: 0, key: 'storey', name: projectName || 'Storey 1', elevation: null, floor, doubt: '' };
}

/** Parts whose whole is already taken with its own body. */
function isSwallowed(thing: Thing, structure: Structure, byId: ReadonlyMap<number, Thing>): boolean {
  if (thing.role === 'door' || thing.role === 'window') return false;
  if (thing.owner !== 0 && byId.has(thing.owner)) return true;
  const parent = byId.get(structure.parentOf(thing.id));
  return (
    parent !== undefined && typeof parent.role === 'string' && parent.role !== 'assembly' && parent.bodies.length > 0
  );
}

/** Walls and columns that go on through the floors above stand there too. */
function reachUp(
  thing: Thing,
  own: Draft,
  drafts: readonly Draft[],
  solidOf: (thing: Thing) => Solid | undefined,
): void {
  if (thing.role !== 'wall' && thing.role !== 'column' && thing.role !== 'curtain wall') return;
  const extent = extentOf(thing.bodies);
  if (extent === undefined) return;
  for (const draft of drafts) {
    const { floor } = draft.level;
    if (draft === own || extent.top < floor + REACH || extent.base > floor + REACH || floor <= own.level.floor)
      continue;
    const solid = solidOf(thing);
    if (solid === undefined) return;
    draft.things.push(thing);
    const what = thing.role === 'column' ? 'columns' : 'walls';
    draft.account.note('taken', what, `They stand on another storey and go on through this one.`, {
      key: thing.key,
      name: thing.name,
      at: null,
    });
  }
}

/** Openings that nothing fills. */
function addBareHoles(
  { holes, structure, solidOf, units }: Assignment,
  drafts: readonly Draft[],
  byId: ReadonlyMap<number, Thing>,
  draftOf: (thing: Thing) => Draft | undefined,
): void {
  for (const hole of holes) {
    const host = byId.get(structure.wallOf(hole.id));
    // Holes in slabs and roofs open nothing between rooms.
    if (host === undefined || (host.role !== 'wall' && host.role !== 'curtain wall' && host.role !== 'plate')) continue;
    const extent = extentOf(hole.bodies);
    const near =
      extent === undefined
        ? undefined
        : findLevelAt(
            drafts.map(({ level }) => level),
            extent.base,
          );
    const draft = drafts.find(({ level }) => level === near) ?? draftOf(host);
    draft?.openings.push({ filling: undefined, hole, wall: solidOf(host), unit: units.length });
  }
}
