/** From a floor and candidates to a covering problem: what each candidate sees of every place that counts. */
import { type Coverage, seesSamples, servedSamples, viewAt, type WorkplaceSamples } from '../../coverage/index.ts';
import type { Floor } from '../../floor/index.ts';
import {
  castLayers,
  countCells,
  createSurroundings,
  NO_LAYERS,
  type Raster,
  type Scene,
  type Surroundings,
  WHEN_STATED,
  withDetectorsOf,
} from '../../sight/index.ts';
import { type Candidate, toDetectors } from './candidates.ts';
import { buildLevel, type ColumnView } from './classes.ts';
import type { ArrangeOptions } from './options.ts';
import { type AskedLevel, type CoverProblem, countFor, type Level, type Need, packRows } from './problem.ts';
import { createZoneGatherer, type ZoneNeed } from './zone-needs.ts';

/** A place that counts, and what candidates can make of it. */
export interface PlaceNeed {
  readonly kind: 'workplace' | 'zone';
  /** Index in the floor's list. */
  readonly index: number;
  /**
   * `met` by detectors that stay; `asked` of the candidates; `beyond`: all candidates together do not reach it, so only
   * what they reach is asked; `lost`: they reach nothing of it.
   */
  readonly state: 'met' | 'asked' | 'beyond' | 'lost';
  /** Share seen when every candidate hangs. */
  readonly reachable: number;
  /** Indices of the rows' and needs' owner in the problem; -1 where nothing is asked. */
  readonly need: number;
}

export interface BuiltProblem {
  readonly problem: CoverProblem;
  readonly places: readonly PlaceNeed[];
  /** Candidates that would see too much of a place where nobody may be seen. */
  readonly forbidden: Uint8Array;
  /** Zones where detectors that stay see too much already. */
  readonly broken: readonly number[];
  /** Of each need of the problem, the place that asks for it. */
  readonly placeOf: readonly number[];
  /** Does the problem have only a part of the truth: cells that two detectors see from two sides? */
  readonly isHalved: boolean;
  readonly scene: Scene;
  /** Cells of a zone (its index) that no allowed candidate sees. */
  readonly unreached: (zone: number) => Raster | null;
}

/**
 * @param coverage of the floor with only the detectors that stay
 * @param roomsOfGroup rooms in which a group of the floor works, whether it stays or is replaced
 */
export function buildProblem(
  coverage: Coverage,
  candidates: readonly Candidate[],
  options: ArrangeOptions,
  roomsOfGroup: ReadonlyMap<string, readonly number[]>,
): BuiltProblem {
  const floor: Floor = { ...coverage.floor, detectors: toDetectors(candidates), groups: [] };
  const scene = withDetectorsOf(coverage.scene, floor);
  const surroundings = createSurroundings(scene);
  const isChosen = (id: string) => options.needs === null || options.needs.includes(id);

  const zones = createZoneGatherer(coverage, scene, candidates, isChosen, roomsOfGroup);
  if (zones.isAsked) {
    const planes = { seated: coverage.seated.height, walking: coverage.walking.height };
    candidates.forEach(({ room }, column) => {
      if (!zones.concerns(room)) return;
      const layers = castLayers(scene, surroundings, scene.lenses[column]!, coverage.grid.inRoom, planes, WHEN_STATED);
      if (layers !== NO_LAYERS) zones.take(column, layers, surroundings);
    });
  }
  const { forbidden, limits, broken } = zones.judgeLimits();

  const needs: Need[] = [];
  const places: PlaceNeed[] = [];
  const placeOf: number[] = [];
  const rows: Int32Array[] = [];
  const ask = (kind: PlaceNeed['kind'], index: number, parts: AskedLevels): void => {
    const { state, levels, reachable } = settle(parts);
    const isAsked = state === 'asked' || state === 'beyond';
    const mandatory = isAsked && kind === 'zone' ? listMandatory(levels[0]!) : null;
    if (mandatory) rows.push(...mandatory.rows);
    const isWhole = mandatory?.isWhole === true;
    places.push({ kind, index, state, reachable, need: isAsked && !isWhole ? needs.length : -1 });
    if (!isAsked || isWhole) return;
    placeOf.push(places.length - 1);
    needs.push({ levels, worth: worthOf(levels) });
  };
  const columnsOfRoom = new Map<number, number[]>();
  candidates.forEach(({ room }, column) => {
    if (forbidden[column] === 1) return;
    const list = columnsOfRoom.get(room);
    if (list) list.push(column);
    else columnsOfRoom.set(room, [column]);
  });
  coverage.floor.workplaces.forEach(({ id }, index) => {
    if (!isChosen(id)) return;
    const samples = coverage.samples[index]!;
    const columns = columnsOfRoom.get(samples.room) ?? [];
    ask('workplace', index, levelsOfWorkplace(coverage, scene, surroundings, samples, columns));
  });
  for (const zone of zones.listNeeds(forbidden)) ask('zone', zone.index, { levels: [zone], all: zone.all });

  return {
    problem: {
      costs: Float64Array.from(candidates, ({ type }) => options.prices[type.id] ?? 1),
      rows: packRows(rows),
      needs,
      limits,
    },
    places,
    forbidden,
    broken,
    placeOf,
    isHalved: needs.some(({ levels }) => levels.some(({ units, base }) => units !== null || base !== null)),
    scene,
    unreached: (zone) => zones.unreached(zone, forbidden),
  };
}

interface AskedLevels {
  readonly levels: readonly (AskedLevel | ZoneNeed)[];
  /** Everything there is to see, what stays sees included. */
  readonly all: number;
}

/** Lowers what is asked to what can be reached. */
function settle({ levels, all }: AskedLevels): Pick<PlaceNeed, 'state' | 'reachable'> & { readonly levels: Level[] } {
  if (all === 0) return { state: 'lost', reachable: 0, levels: [] };
  if (levels.some(({ level }) => level.required <= 0)) return { state: 'met', reachable: 1, levels: [] };
  const open = levels.map(({ level }) => reachableWeight(level));
  const reachable = levels.map(({ level }, n) => {
    const covered = all - level.weights.reduce((sum, weight) => sum + weight, 0);
    return (covered + open[n]!) / all;
  });
  const possible = levels.filter(({ level }, n) => open[n]! >= level.required).map(({ level }) => level);
  if (possible.length > 0) return { state: 'asked', reachable: Math.max(...reachable), levels: possible };
  const { level, share } = levels[0]!;
  const required = Math.floor(share * open[0]!);
  if (required <= 0) return { state: 'lost', reachable: reachable[0]!, levels: [] };
  return { state: 'beyond', reachable: reachable[0]!, levels: [{ ...level, required }] };
}

function reachableWeight({ weights, base, classes, units }: Level): number {
  const got = base ? Uint8Array.from(base) : new Uint8Array(weights.length);
  classes.forEach((number, k) => {
    got[number] = Math.min(2, got[number]! + (units ? units[k]! : 2));
  });
  return weights.reduce((sum, weight, number) => sum + (got[number] === 2 ? weight : 0), 0);
}

function worthOf(levels: readonly Level[]): number {
  const needed = levels.map((level) => {
    let most = 1;
    level.columns.forEach((_, n) => {
      let sum = 0;
      for (let k = level.starts[n]!; k < level.starts[n + 1]!; k++) sum += level.weights[level.classes[k]!]!;
      most = Math.max(most, sum);
    });
    return level.required / most;
  });
  return Math.max(1, Math.min(...needed));
}

/** Classes too heavy to be left out: a row each. `isWhole`: that says everything about the need. */
function listMandatory(level: Level): { readonly rows: Int32Array[]; readonly isWhole: boolean } {
  const { weights, columns, starts, classes, units, base, required } = level;
  if (units || base) return { rows: [], isWhole: false };
  const reached = new Uint8Array(weights.length);
  for (const number of classes) reached[number] = 1;
  const reachable = weights.reduce((sum, weight, number) => sum + (reached[number] === 1 ? weight : 0), 0);
  const spare = reachable - required;
  const lists = new Map<number, number[]>();
  columns.forEach((column, n) => {
    for (let k = starts[n]!; k < starts[n + 1]!; k++) {
      const number = classes[k]!;
      if (weights[number]! <= spare) continue;
      const list = lists.get(number);
      if (list) list.push(column);
      else lists.set(number, [column]);
    }
  });
  return { rows: [...lists.values()].map((list) => Int32Array.from(list)), isWhole: spare === 0 };
}

/** A workplace at the heights of body and shoulders. */
function levelsOfWorkplace(
  coverage: Coverage,
  scene: Scene,
  surroundings: Surroundings,
  samples: WorkplaceSamples,
  columns: readonly number[],
): AskedLevels {
  const { count, cells } = samples;
  const share = coverage.floor.analysis.workplaceShare;
  if (count === 0) return { levels: [], all: 0 };
  const own: WorkplaceSamples = { ...samples, seen: new Map() };
  for (const column of columns) seesSamples(scene, surroundings, own, column);
  const near = [...own.seen.keys()].sort((a, b) => a - b);
  const levels = [0, 1].map((height) => {
    const stay = seenByStaying(coverage, samples, height);
    const elements: Raster = { ...cells, bits: cells.bits.map((word, k) => word & ~stay[k]!) };
    const views: ColumnView[] = near.flatMap((column) => {
      const bits = viewAt(scene, surroundings, own, column, height);
      const kind = compare(bits, elements.bits);
      return kind === 'none' ? [] : [{ column, full: kind === 'all' ? null : { ...cells, bits } }];
    });
    const required = countFor(share, count) - (count - countCells(elements));
    return { level: buildLevel(elements, required, views), share };
  });
  return { levels, all: count };
}

/** What detectors that stay, of groups that serve the workplace, see of it. */
function seenByStaying(coverage: Coverage, samples: WorkplaceSamples, height: number): Int32Array {
  const { serving, scene } = coverage;
  const union = new Int32Array(samples.cells.bits.length);
  if (samples.seen.size === 0) return union;
  const surroundings = createSurroundings(scene);
  for (const detector of samples.seen.keys()) {
    const group = serving.groups[serving.groupOf[detector]!];
    const served = group ? servedSamples(coverage, samples, group) : null;
    if (!served) continue;
    const bits = viewAt(scene, surroundings, samples, detector, height);
    for (let k = 0; k < union.length; k++) union[k] = union[k]! | (bits[k]! & served[k]!);
  }
  return union;
}

function compare(bits: Int32Array, elements: Int32Array): 'none' | 'some' | 'all' {
  let none = true;
  let all = true;
  for (let k = 0; k < elements.length; k++) {
    const both = bits[k]! & elements[k]!;
    if (both !== 0) none = false;
    if (both !== elements[k]) all = false;
  }
  return none ? 'none' : all ? 'all' : 'some';
}
