/** All layers of all detectors at both planes, against ray casters and plain byte writing. */
import { createCoverage } from '../../src/core/coverage/index.ts';
import { castLayers, createSurroundings, hasCell, WHEN_STATED } from '../../src/core/sight/index.ts';
import { type BenchFloor, generateBenchFloor } from './bench-floors.ts';
import type { Clock } from './clock.ts';
import { buildFloorMesh } from './floor-mesh.ts';
import { createBvhCaster, createRapierCaster, type Point3, type RayCaster } from './peers.ts';
import { fillBytes, listSpans, type SightLayer, type Spans, writeBytes } from './spans.ts';
import { type Contestant, type Timing, takeTurns } from './timing.ts';

/** One line of JSON, as the design states it. Milliseconds for all layers of all detectors at both planes. */
export interface LayersRecord {
  readonly case: string;
  readonly areaM2: number;
  readonly cells: number;
  readonly detectors: number;
  readonly sightLines: number;
  readonly lacunaMs: number;
  readonly bvhMs: number;
  readonly rapierMs: number;
  readonly bytesMs: number;
  readonly fillMs: number;
  /** Sampled sight lines, not on an edge, that Lacuna and a ray caster judge differently. */
  readonly disagree: number;
}

const WHO = ['lacuna', 'bvh', 'rapier', 'bytes', 'fill'] as const;
type Who = (typeof WHO)[number];

/** How one ray caster's verdicts compare with Lacuna's over the sampled sight lines. */
interface Comparison {
  readonly disagree: number;
  /** Different, but within 1.5 mm of an edge by the ray caster's own word. */
  readonly onEdge: number;
}

export interface LayersResult {
  readonly record: LayersRecord;
  readonly pieces: number;
  readonly triangles: number;
  /** Sight lines whose verdicts were compared, and how many of them are clear. */
  readonly compared: number;
  readonly seen: number;
  readonly bvh: Comparison;
  readonly rapier: Comparison;
  /** Milliseconds by the wall clock. */
  readonly wall: { readonly [who in Who]: number };
}

const AREAS = [250, 1_000, 10_000];
const TURNS = { rounds: 25, sampleMs: 10, warmMs: 250 };

/** A ray caster is timed on about this many sight lines at a time, the next rows each time. */
export const TIMED_LINES = 4_000;
/** Verdicts are compared on about this many sight lines a floor. */
export const COMPARED_LINES = 250_000;
/** How far a target is moved to see whether it lies on an edge, metres. */
const EDGE = 0.0015;

/** A floor made ready: everything that comes before the first sight line. */
interface Bout {
  readonly bench: BenchFloor;
  readonly areaM2: number;
  readonly cells: number;
  readonly layers: readonly SightLayer[];
  readonly spans: Spans;
  readonly triangles: number;
  readonly casters: readonly [RayCaster, RayCaster];
  readonly contestants: readonly Contestant[];
}

export async function runLayersCases(clock: Clock, tell: (what: string) => void): Promise<LayersResult[]> {
  const bouts: Bout[] = [];
  for (const areaM2 of AREAS) {
    tell(`building ${areaM2} m²`);
    bouts.push(await prepare(areaM2));
  }
  tell('timing layers');
  // All floors take turns as well, so that times per sight line of different floors can be compared.
  const timings = takeTurns(
    bouts.flatMap((bout) => bout.contestants),
    { clock, ...TURNS },
  );
  return bouts.map((bout) => {
    tell(`comparing verdicts, ${bout.bench.name}`);
    return judge(bout, timings);
  });
}

async function prepare(areaM2: number): Promise<Bout> {
  const bench = generateBenchFloor(areaM2);
  const { scene, grid, seated, walking } = createCoverage(bench.floor);
  const surroundings = createSurroundings(scene);
  const planes = { seated: seated.height, walking: walking.height };
  const castAll = () =>
    scene.lenses.map((lens) => castLayers(scene, surroundings, lens, grid.inRoom, planes, WHEN_STATED));
  const layers = castAll().flatMap(({ minor, tangential }, index): SightLayer[] => {
    const lens = scene.lenses[index]!;
    if (!minor || !tangential) throw new Error(`${bench.name}: a detector has no layer`);
    return [
      { lens, h: planes.seated, seen: minor.seen, inRange: minor.inRange },
      { lens, h: planes.walking, seen: tangential.seen, inRange: tangential.inRange },
    ];
  });
  const spans = listSpans(layers);
  const mesh = buildFloorMesh(bench.floor);
  const casters = [createBvhCaster(mesh), await createRapierCaster(mesh)] as const;
  const bytes = new Uint8Array(spans.bytes);
  let value = 0;
  const contestants: Contestant[] = [
    {
      name: `${bench.name} lacuna`,
      run() {
        castAll();
        return spans.sightLines;
      },
    },
    ...casters.map((caster) => takeRows(caster, `${bench.name} ${caster.name}`, layers, spans)),
    {
      name: `${bench.name} bytes`,
      run() {
        writeBytes(spans, bytes, ++value);
        return spans.sightLines;
      },
    },
    {
      name: `${bench.name} fill`,
      run() {
        fillBytes(spans, bytes, ++value);
        return spans.sightLines;
      },
    },
  ];
  const { nx, ny } = grid.lattice;
  return { bench, areaM2, cells: nx * ny, layers, spans, triangles: mesh.index.length / 3, casters, contestants };
}

/** A ray caster that does every n-th row of all layers, other rows each time it is run. */
function takeRows(caster: RayCaster, name: string, layers: readonly SightLayer[], spans: Spans): Contestant {
  const every = Math.max(1, Math.round(spans.sightLines / TIMED_LINES));
  let offset = 0;
  return {
    name,
    run() {
      let lines = 0;
      for (let span = offset; span < spans.count; span += every) {
        const { lens, h, inRange } = layers[spans.layer[span]!]!;
        const { x0, y0, cell } = inRange.lattice;
        const count = spans.end[span]! - spans.start[span]!;
        const x = x0 + (spans.column[span]! + 0.5) * cell;
        caster.countClear(lens, x, cell, count, y0 + (spans.row[span]! + 0.5) * cell, h);
        lines += count;
      }
      offset = (offset + 1) % every;
      return lines;
    },
  };
}

function judge(
  { bench, areaM2, cells, layers, spans, triangles, casters }: Bout,
  timings: ReadonlyMap<string, Timing>,
): LayersResult {
  const { compared, seen, comparisons } = compareVerdicts(layers, spans, casters);
  const [bvh, rapier] = comparisons;
  if (!bvh || !rapier) throw new Error(`${bench.name}: nothing was compared`);
  const readMs = (read: (timing: Timing) => number) =>
    Object.fromEntries(
      WHO.map((who) => [who, (read(timings.get(`${bench.name} ${who}`)!) * spans.sightLines) / 1e6]),
    ) as { readonly [who in Who]: number };
  const chosen = readMs((timing) => timing.median);
  const wall = readMs((timing) => timing.wall);
  const record: LayersRecord = {
    case: `layers, ${bench.name}`,
    areaM2,
    cells,
    detectors: bench.floor.detectors.length,
    sightLines: spans.sightLines,
    lacunaMs: chosen.lacuna,
    bvhMs: chosen.bvh,
    rapierMs: chosen.rapier,
    bytesMs: chosen.bytes,
    fillMs: chosen.fill,
    disagree: bvh.disagree + rapier.disagree,
  };
  return { record, pieces: bench.floor.furniture.length, triangles, compared, seen, bvh, rapier, wall };
}

function compareVerdicts(layers: readonly SightLayer[], spans: Spans, casters: readonly RayCaster[]) {
  const every = Math.max(1, Math.round(spans.sightLines / COMPARED_LINES));
  const comparisons = casters.map(() => ({ disagree: 0, onEdge: 0 }));
  let compared = 0;
  let seen = 0;
  for (let span = 0; span < spans.count; span += every) {
    const layer = layers[spans.layer[span]!]!;
    const { lens, h } = layer;
    const { x0, y0, cell } = layer.inRange.lattice;
    const j = spans.row[span]!;
    const count = spans.end[span]! - spans.start[span]!;
    for (let k = 0; k < count; k++) {
      const i = spans.column[span]! + k;
      const target = { x: x0 + (i + 0.5) * cell, y: y0 + (j + 0.5) * cell, h };
      const verdict = hasCell(layer.seen, i, j);
      compared++;
      if (verdict) seen++;
      casters.forEach((caster, index) => {
        if (caster.isClear(lens, target) === verdict) return;
        if (isOnEdge(caster, lens, target)) comparisons[index]!.onEdge++;
        else comparisons[index]!.disagree++;
      });
    }
  }
  return { compared, seen, comparisons };
}

/** Does the ray caster itself change its mind when the target moves by 1.5 mm in x or y? */
function isOnEdge(caster: RayCaster, lens: Point3, target: Point3): boolean {
  const verdict = caster.isClear(lens, target);
  for (const dx of [-EDGE, 0, EDGE]) {
    for (const dy of [-EDGE, 0, EDGE]) {
      if (caster.isClear(lens, { x: target.x + dx, y: target.y + dy, h: target.h }) !== verdict) return true;
    }
  }
  return false;
}
