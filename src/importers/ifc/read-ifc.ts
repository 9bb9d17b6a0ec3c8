/**
 * Reads an IFC model (IFC2x3, IFC4, IFC4x3; `.ifc` and `.ifczip`) into its storeys. Statements, placements, profiles and faces
 * are read by hand, exact and in double precision; the geometry engine meshes what is left.
 */
import type { PlanPoint } from '../../core/geometry/polygon.ts';
import type { DrawnStorey, OnProgress, ReadSource, Refusal, Remark } from '../storey.ts';
import { createAccount } from './account.ts';
import { assignStoreys } from './assign-storeys.ts';
import { type Body, cornersOf, extentOf, placeBody } from './bodies.ts';
import { buildStorey, type ModelWords } from './build-storey.ts';
import { openContainer } from './container.ts';
import { type IfcApiSource, meshByEngine } from './engine.ts';
import { type IfcHeader, readHeader, tellState } from './header.ts';
import { readNorth } from './north.ts';
import { createPlacements, type Model } from './placements.ts';
import { createShapes, type Solid, toSolid } from './shapes.ts';
import { numberOf, openStep, refOf, refsOf, type StepFile } from './step-file.ts';
import { readStructure } from './structure.ts';
import { createThingReader, type Thing } from './things.ts';
import { readUnits } from './units.ts';

export interface ReadIfcOptions {
  /** The geometry engine, or a way to it that is only gone when the model needs it. */
  readonly ifcApi: IfcApiSource;
  /** The file's name, for the account; the path is left out. */
  readonly name?: string;
  readonly onProgress?: OnProgress;
}

/** Coordinates up to this (metres) are left as they are; beyond, an origin is taken off. */
const NEAR = 2_000;
/** What lies further than this (metres) from the middle of the building is no part of a floor. */
const FAR = 9_000;
/** Heights beyond this (metres) are none. */
const HIGH = 20_000;

/**
 * Reads all storeys of a model. Never throws for what a file holds: a file that cannot be used at all is refused with the
 * reason and the remedy; what of it cannot be used is told in the remarks.
 */
export async function readIfc(bytes: Uint8Array, options: ReadIfcOptions): Promise<ReadSource | Refusal> {
  try {
    return await readModel(bytes, options);
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    return {
      ok: false,
      reason: `The model could not be read: ${words.slice(0, 200)}.`,
      remedy: 'Export the model again, best as IFC4 reference view, with the architecture alone.',
    };
  }
}

async function readModel(
  bytes: Uint8Array,
  { ifcApi, name = '', onProgress = () => {} }: ReadIfcOptions,
): Promise<ReadSource | Refusal> {
  const contained = openContainer(bytes);
  if (!contained.ok) return contained;
  onProgress(0.02, 'reading statements');
  const step = openStep(contained.bytes);
  const header = readHeader(contained.bytes, step);
  if ('ok' in header) return header;
  const units = readUnits(step);
  const model: Model = { step, units };
  const placements = createPlacements(model);
  const structure = readStructure(step);
  const shapes = createShapes(model, placements);
  const reader = createThingReader(step, structure, shapes);
  onProgress(0.1, 'reading shapes');
  const spaces = step.listOf('IFCSPACE').map((id) => reader.readThing(id, 'part'));
  const things = reader.listThings((share) => onProgress(0.1 + 0.4 * share, 'reading shapes'));
  const holes = [...step.listOf('IFCOPENINGELEMENT'), ...step.listOf('IFCOPENINGSTANDARDCASE')].map((id) =>
    reader.readThing(id, 'part'),
  );
  if (spaces.length === 0 && things.every(({ role }) => typeof role === 'object')) return refuseEmpty(step, header);

  const global = createAccount();
  for (const [type, ids] of reader.unknown) {
    for (const id of ids)
      global.note('left out', `entities of type ${type}`, 'This kind is not read.', {
        key: `#${id}`,
        name: '',
        at: null,
      });
  }
  const needing = [...spaces, ...things, ...holes].filter(({ unread }) => unread.length > 0);
  if (needing.length > 0) {
    onProgress(0.5, 'meshing curved and cut bodies');
    const ids = needing.filter(({ unread }) => unread.every(isForEngine)).map(({ id }) => id);
    const ended = wholeStatements(contained.bytes, step);
    const { meshes, failure } = await meshByEngine(ended, ifcApi, ids, (share) =>
      onProgress(0.5 + 0.3 * share, 'meshing curved and cut bodies'),
    );
    takeMeshes(needing, meshes, failure, global, (thing) => placements.hangsOnGrid(refOf(thing.args[5])));
  }
  joinParts(things);
  onProgress(0.8, 'putting storeys together');

  const { origin, isFar } = chooseOrigin([...spaces, ...things], global);
  const solids = new Map<number, Solid | undefined>();
  const solidOf = (thing: Thing): Solid | undefined => {
    if (!solids.has(thing.id)) solids.set(thing.id, toSolid(thing.bodies));
    return solids.get(thing.id);
  };
  const boundaries = indexBoundaries(step, spaces);
  const areas = indexAreas(step);
  const words: ModelWords = {
    model,
    origin,
    north: readNorth(model, global),
    boundariesOf: (space) => boundaries.get(space) ?? [],
    statedAreaOf: (space) => areas.get(space),
    isGlass: reader.namesGlass,
    solidOf,
  };
  const found = assignStoreys({
    step,
    units,
    placements,
    structure,
    spaces: spaces.filter((space) => !isFar(space)),
    things: things.filter((thing) => !isFar(thing)),
    holes,
    account: global,
    solidOf,
    projectName: header.project,
  });
  const storeys: DrawnStorey[] = [];
  for (const [i, storey] of found.entries()) {
    onProgress(0.8 + (0.2 * i) / found.length, `storey ${storey.level.name}`);
    storeys.push(buildStorey(storey, words));
  }
  if (storeys.every(isBare)) return refuseEmpty(step, header);
  onProgress(1, 'done');
  const remarks: Remark[] = [...tellState(step, header, contained), ...units.remarks, ...global.list()];
  return {
    ok: true,
    format: header.schema,
    name: name.replace(/^.*[\\/]/u, '') || header.project,
    origin,
    storeys,
    remarks,
  };
}

const isBare = ({ rooms, walls, openings, pieces, luminaires, workplaces, sources }: DrawnStorey): boolean =>
  [rooms, walls, openings, pieces, luminaires, workplaces, sources].every((list) => list.length === 0);

function refuseEmpty(step: StepFile, header: IfcHeader): Refusal {
  const count = step.index.ids.length;
  const cut = step.index.isWhole ? '' : ' It is also cut off before its end.';
  const reason =
    count === 0
      ? `The file holds no statements: its section DATA is empty (${header.schema}).${cut}`
      : `The model (${header.schema}, ${count} statements) holds no room, wall, door or furniture with a body.${cut}`;
  return { ok: false, reason, remedy: 'Export the architecture with its bodies and, best, with spaces (IfcSpace).' };
}

/**
 * What the engine can be asked for: whole bodies of kinds it knows. Bodies with parts that are missing or that refer to
 * themselves are kept from it: it may never come back.
 */
const ENGINE_KINDS =
  /^(IFC\w*(SOLID|BREP|SURFACE|SPACE|PROFILEDEF|RESULT|SPHERE|PYRAMID|CONE|CYLINDER|SPINE|SHELL|FACESET|MODEL)\w*$|\.\w+\. of bodies$|a body with a IFC\w+ taken)/u;

const isForEngine = (unread: string): boolean => ENGINE_KINDS.test(unread);

/** The bytes up to the last whole statement, closed properly and without strays, for an engine that trusts what it reads. */
function wholeStatements(bytes: Uint8Array, { index }: StepFile): Uint8Array {
  const { isWhole, end, strayRanges } = index;
  if (isWhole && strayRanges.length === 0) return bytes;
  const tail = isWhole ? '' : '\nENDSEC;\nEND-ISO-10303-21;\n';
  const ended = new Uint8Array(end + tail.length);
  ended.set(bytes.subarray(0, end));
  for (let i = 0; i + 1 < strayRanges.length; i += 2) ended.fill(0x20, strayRanges[i], strayRanges[i + 1]);
  for (let i = 0; i < tail.length; i++) ended[end + i] = tail.charCodeAt(i);
  return ended;
}

/** Coordinates in a mesh beyond this (metres) lose a millimetre in single precision. */
const COARSE = 8_000;

function takeMeshes(
  needing: readonly Thing[],
  meshes: ReadonlyMap<number, readonly Body[]>,
  failure: string | undefined,
  account: ReturnType<typeof createAccount>,
  hangsOnGrid: (thing: Thing) => boolean,
): void {
  for (const thing of needing) {
    const mesh = meshes.get(thing.id);
    const place = { key: thing.key, name: thing.name, at: null };
    const types = [...new Set(thing.unread)].slice(0, 2).join(', ');
    if (mesh !== undefined) {
      // The engine puts what hangs on a grid on the origin.
      thing.bodies =
        hangsOnGrid(thing) && thing.frame !== undefined
          ? mesh.map((body) => placeBody(body, thing.frame as NonNullable<typeof thing.frame>))
          : mesh;
      thing.unread = [];
      const isCoarse = cornersOf(mesh).some(([x, y]) => Math.abs(x) > COARSE || Math.abs(y) > COARSE);
      if (isCoarse)
        account.note(
          'guessed',
          'curved or cut bodies',
          'They lie far from the origin, where the geometry engine is only exact to centimetres or worse.',
          place,
        );
    } else if (thing.bodies.length > 0) {
      account.note(
        'guessed',
        'cut bodies',
        `What was cut out of them (${types}) could not be followed${failure === undefined ? '' : `: ${failure}`}. They were taken whole.`,
        place,
      );
    } else if (failure !== undefined) {
      account.note('left out', 'curved or cut bodies', `${failure} at ${types}.`, place);
    }
  }
}

/** Walls, fronts and the like that are only made of parts take the bodies of their parts. */
function joinParts(things: readonly Thing[]): void {
  const byId = new Map(things.map((thing) => [thing.id, thing]));
  const isHollow = new Set(
    things.filter(({ bodies, role }) => bodies.length === 0 && typeof role === 'string').map(({ id }) => id),
  );
  for (const thing of things) {
    if (thing.owner === 0 || thing.role === 'door' || thing.role === 'window' || !isHollow.has(thing.owner)) continue;
    const owner = byId.get(thing.owner);
    if (owner === undefined) continue;
    owner.bodies = [...owner.bodies, ...thing.bodies];
    owner.form = 'body';
  }
}

/** Where the building stands: far off, a whole number of metres is taken off, and what lies elsewhere is left out. */
function chooseOrigin(
  things: readonly Thing[],
  account: ReturnType<typeof createAccount>,
): { origin: PlanPoint; isFar: (thing: Thing) => boolean } {
  const places = new Map<Thing, PlanPoint>();
  for (const thing of things) {
    const at = somePlace(thing);
    if (at !== undefined) places.set(thing, at);
  }
  const middle = (axis: 0 | 1): number => {
    const values = [...places.values()]
      .map((at) => at[axis])
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    return values[values.length >> 1] ?? 0;
  };
  const [x, y] = [middle(0), middle(1)];
  const origin: PlanPoint = Math.abs(x) > NEAR || Math.abs(y) > NEAR ? [Math.round(x), Math.round(y)] : [0, 0];
  if (origin[0] !== 0 || origin[1] !== 0) {
    account.note(
      'taken',
      'coordinates',
      `The model lies far from its origin: ${origin[0]} m in x and ${origin[1]} m in y were taken off.`,
    );
  }
  const far = new Set<Thing>();
  for (const thing of places.keys()) {
    const extent = extentOf(thing.bodies);
    if (
      reachOf(thing.bodies, x, y) <= FAR &&
      (extent === undefined || (Math.abs(extent.base) < HIGH && Math.abs(extent.top) < HIGH))
    )
      continue;
    far.add(thing);
    account.note(
      'left out',
      'things far off',
      `They reach ${FAR / 1000} km or more from the middle of the building, or ${HIGH / 1000} km up or down.`,
      {
        key: thing.key,
        name: thing.name,
        at: null,
      },
    );
  }
  return { origin, isFar: (thing) => far.has(thing) };
}

/** How far the furthest corner of bodies lies from a place. */
function reachOf(bodies: readonly Body[], x: number, y: number): number {
  let most = 0;
  const take = (a: number, b: number): void => {
    const distance = Math.max(Math.abs(a - x), Math.abs(b - y));
    if (distance > most) most = distance;
  };
  for (const body of bodies) {
    if (body.kind === 'mesh')
      for (let i = 0; i < body.xyz.length; i += 3) take(body.xyz[i] as number, body.xyz[i + 1] as number);
    else for (const { outer } of body.regions) for (const [a, b] of outer) take(a, b);
  }
  return most;
}

function somePlace(thing: Thing): PlanPoint | undefined {
  const [body] = thing.bodies;
  if (body?.kind === 'prism') return body.regions[0]?.outer[0];
  if (body?.kind === 'mesh' && body.xyz.length >= 2) return [body.xyz[0] as number, body.xyz[1] as number];
  return undefined;
}

/** Boundaries by space, for spaces without a body only. */
function indexBoundaries(step: StepFile, spaces: readonly Thing[]): ReadonlyMap<number, readonly number[]> {
  const wanted = new Set(spaces.filter(({ bodies }) => bodies.length === 0).map(({ id }) => id));
  const found = new Map<number, number[]>();
  if (wanted.size === 0) return found;
  for (const type of ['IFCRELSPACEBOUNDARY', 'IFCRELSPACEBOUNDARY1STLEVEL', 'IFCRELSPACEBOUNDARY2NDLEVEL']) {
    for (const id of step.listOf(type)) {
      const space = refOf(step.read(id)[4]);
      if (!wanted.has(space)) continue;
      found.set(space, [...(found.get(space) ?? []), id]);
    }
  }
  return found;
}

/** The net floor area that quantities state by space, in m² where the unit says nothing else. */
function indexAreas(step: StepFile): ReadonlyMap<number, number> {
  const areas = new Map<number, number>();
  const names = ['NetFloorArea', 'GrossFloorArea', 'Area', 'GSA BIM Area'];
  for (const id of step.listOf('IFCRELDEFINESBYPROPERTIES')) {
    const args = step.read(id);
    const set = refOf(args[5]);
    if (step.typeOf(set) !== 'IFCELEMENTQUANTITY') continue;
    const spaces = refsOf(args[4]).filter((ref) => step.typeOf(ref) === 'IFCSPACE');
    if (spaces.length === 0) continue;
    const stated = new Map<string, number>();
    for (const quantity of refsOf(step.read(set)[5])) {
      if (step.typeOf(quantity) !== 'IFCQUANTITYAREA') continue;
      const [label, , , value] = step.read(quantity);
      const area = numberOf(value);
      if (typeof label === 'string' && area !== undefined) stated.set(label, area);
    }
    const area = names.map((label) => stated.get(label)).find((value) => value !== undefined);
    if (area !== undefined) for (const space of spaces) if (!areas.has(space)) areas.set(space, area);
  }
  return areas;
}
