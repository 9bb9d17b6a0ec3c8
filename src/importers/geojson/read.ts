/** Reads indoor maps in GeoJSON: one file or several, levels by file, by a list of levels, or by a property. */
import type { Point } from '../../core/floor/index.ts';
import type { DrawnStorey, OnProgress, ReadSource, Refusal, Remark } from '../storey.ts';
import { type Feature, type FeatureFile, isObject, readFeatures } from './features.ts';
import { drawStorey } from './storey.ts';
import { createTangentPlane, fromWebMercator } from './tangent-plane.ts';

/** A file as it was handed over. */
export interface NamedBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface GeoJsonAnswers {
  /** What the coordinates are; left out: what the file says, else what their size says. */
  readonly unit?: 'm' | 'degrees';
}

/** A list of levels that names one file each. */
interface Level {
  readonly name: string;
  readonly file: string;
  readonly order: number;
}

/**
 * Storeys of GeoJSON files, in metres east and north. Never throws for what is in the bytes.
 * @param files one file, or the files of a folder; one of them may list the others as levels
 */
export function readGeoJson(
  files: readonly NamedBytes[],
  answers: GeoJsonAnswers,
  onProgress: OnProgress,
): ReadSource | Refusal {
  const maps: FeatureFile[] = [];
  const remarks: Remark[] = [];
  let levels: readonly Level[] | undefined;
  for (const [i, { name, bytes }] of files.entries()) {
    onProgress((0.6 * i) / files.length, `Reading ${name}`);
    const document = parse(bytes);
    if (document === undefined) {
      if (files.length === 1)
        return refuse(`${name} is no JSON text in UTF-8`, 'An indoor map in GeoJSON is expected.');
      remarks.push(remark('left out', 'files', 'They are no JSON text in UTF-8.', name));
      continue;
    }
    if (isObject(document) && document.format === 'lacuna/1' && files.length === 1)
      return refuse(`${name} is a floor of Lacuna already`, 'Open it; there is nothing to import.');
    const map = readFeatures(name, document);
    const list = readLevels(document);
    if (map !== undefined) maps.push(map);
    else if (list !== undefined) levels ??= list;
    else if (files.length === 1)
      return refuse(`${name} holds no features`, 'GeoJSON with a FeatureCollection is expected (RFC 7946).');
    else remarks.push(remark('left out', 'files', 'They hold no features of GeoJSON.', name));
  }
  if (maps.length === 0) {
    return levels === undefined
      ? refuse('No file holds features', 'GeoJSON with a FeatureCollection is expected (RFC 7946).')
      : refuse(
          `The list names ${levels.length} levels, and none of their files is here`,
          'Hand over the folder with all files, or one level.',
        );
  }
  const storeys = sortLevels(maps, levels, remarks);
  const features = storeys.flatMap((storey) => storey.features);
  const frame = chooseFrame(
    features,
    maps.map(({ crs }) => crs),
    answers,
    remarks,
  );
  if (frame === undefined)
    return refuse(
      'The features have no coordinates',
      'Polygons or lines with at least three and two points are expected.',
    );
  const unread = maps.reduce((sum, map) => sum + map.unread, 0);
  if (unread > 0)
    remarks.push({
      fate: 'left out',
      what: 'features',
      count: unread,
      reason: 'They have no geometry that could be read.',
      places: [],
    });
  const drawn = storeys.map((storey, i): DrawnStorey => {
    onProgress(0.6 + (0.4 * i) / storeys.length, `Sorting ${storey.name}`);
    return drawStorey(storey.name, storey.order, storey.features, frame);
  });
  return { ok: true, format: 'GeoJSON', name: nameOf(files), origin: frame.origin, storeys: drawn, remarks };
}

function refuse(reason: string, remedy: string): Refusal {
  return { ok: false, reason, remedy };
}

function remark(fate: Remark['fate'], what: string, reason: string, name: string): Remark {
  return { fate, what, count: 1, reason, places: [{ key: name, name, at: null }] };
}

/** The one file's name, the folder's where all lie in one, else how many there are. */
function nameOf(files: readonly NamedBytes[]): string {
  if (files.length === 1) return files[0]?.name ?? '';
  const folders = new Set(files.map(({ name }) => /^(.*)[\\/]/u.exec(name)?.[1] ?? ''));
  const [folder = ''] = folders;
  return folders.size === 1 && folder !== '' ? folder : `${files.length} files`;
}

function parse(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}

/** `{ "levels": [{ "filename", "readable_name" or "name", "z_order" }] }`, as some indoor maps come with. */
function readLevels(document: unknown): readonly Level[] | undefined {
  if (!isObject(document) || !Array.isArray(document.levels)) return undefined;
  return document.levels.flatMap((level: unknown, i): Level[] => {
    if (!isObject(level)) return [];
    const file = [level.filename, level.file].find((each) => typeof each === 'string');
    const name = [level.readable_name, level.name, level.id].find((each) => typeof each === 'string' && each !== '');
    if (typeof file !== 'string') return [];
    return [
      {
        file,
        name: typeof name === 'string' ? name : file,
        order: typeof level.z_order === 'number' ? level.z_order : i,
      },
    ];
  });
}

interface SortedStorey {
  readonly name: string;
  readonly order: number | null;
  readonly features: readonly Feature[];
}

const baseOf = (path: string): string => path.replace(/^.*[\\/]/u, '');

function sortLevels(
  maps: readonly FeatureFile[],
  levels: readonly Level[] | undefined,
  remarks: Remark[],
): readonly SortedStorey[] {
  if (levels === undefined) return maps.flatMap((map) => splitByLevel(map, maps.length === 1));
  const storeys: SortedStorey[] = [];
  const used = new Set<FeatureFile>();
  for (const { name, file, order } of levels.toSorted((a, b) => a.order - b.order)) {
    const map = maps.find((each) => baseOf(each.name) === baseOf(file));
    if (map === undefined) remarks.push(remark('left out', 'levels', 'Their files are not here.', name));
    else {
      used.add(map);
      storeys.push({ name, order, features: map.features });
    }
  }
  for (const map of maps)
    if (!used.has(map))
      remarks.push(
        remark('left out', 'files', 'The list of levels does not name them. Import them by themselves.', map.name),
      );
  return storeys.length > 0 ? storeys : maps.flatMap((map) => splitByLevel(map, maps.length === 1));
}

/** One storey for each value of a level property, or the file as one. */
function splitByLevel(map: FeatureFile, isOnly: boolean): readonly SortedStorey[] {
  const byLevel = new Map<string, Feature[]>();
  for (const feature of map.features) {
    for (const level of levelsOf(feature)) byLevel.set(level, [...(byLevel.get(level) ?? []), feature]);
  }
  const title = baseOf(map.name).replace(/\.[^.]*$/u, '');
  if (byLevel.size < 2) return [{ name: isOnly ? '' : title, order: null, features: map.features }];
  const everywhere = map.features.filter((feature) => levelsOf(feature).length === 0);
  return [...byLevel].map(([level, features]) => ({
    name: `Level ${level}`,
    order: Number.isFinite(Number(level)) ? Number(level) : null,
    features: [...features, ...everywhere],
  }));
}

function levelsOf({ properties }: Feature): readonly string[] {
  const value = [properties.level, properties.level_id, properties.storey, properties.floor].find(
    (each) => typeof each === 'string' || typeof each === 'number',
  );
  return value === undefined
    ? []
    : String(value)
        .split(';')
        .map((each) => each.trim())
        .filter((each) => each !== '')
        .slice(0, 50);
}

/** How coordinates become metres. */
export interface Frame {
  readonly toMetres: (place: Point) => Point;
  readonly origin: Point;
}

/** Widest a floor is in degrees, and narrowest in metres, when a file does not say which it uses. */
const WIDEST_DEGREES = 0.2;

function chooseFrame(
  features: readonly Feature[],
  names: readonly string[],
  answers: GeoJsonAnswers,
  remarks: Remark[],
): Frame | undefined {
  const box = boxOf(features);
  if (box === undefined) return undefined;
  const crs = names.find((name) => name !== '') ?? '';
  const middle: Point = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
  const span = Math.max(box[2] - box[0], box[3] - box[1]);
  const isOnEarth = box[0] >= -180 && box[2] <= 180 && box[1] >= -90 && box[3] <= 90;
  const isMercator = /(?:3857|900913)\b/u.test(crs);
  const statesDegrees = /CRS84|\b4326\b/u.test(crs) && isOnEarth;
  const isDegrees =
    answers.unit === 'degrees' ||
    (answers.unit === undefined && (statesDegrees || (crs === '' && isOnEarth && span <= WIDEST_DEGREES)));
  const note = (fate: Remark['fate'], reason: string): void => {
    remarks.push({ fate, what: 'reference system', count: 1, reason, places: [] });
  };
  if (isDegrees || (isMercator && answers.unit === undefined)) {
    const toDegrees = isMercator && !isDegrees ? fromWebMercator : (place: Point): Point => place;
    const [longitude, latitude] = toDegrees(middle);
    // To a thousandth of a degree, so that a newer version of the map gets the same frame.
    const centre: Point = [Math.round(longitude * 1000) / 1000, Math.round(latitude * 1000) / 1000];
    const project = createTangentPlane(centre);
    note(
      statesDegrees || isMercator ? 'taken' : 'guessed',
      `Degrees of WGS 84 became metres east and north in the plane that touches the earth at longitude ${centre[0]}, latitude ${centre[1]} (geographic to topocentric, EPSG method 9837; 4 µm short at 1 km).`,
    );
    return { toMetres: (place) => project(toDegrees(place)), origin: [0, 0] };
  }
  // Whole hundreds of metres, so that a newer version of the map gets the same frame.
  const origin: Point =
    Math.hypot(...middle) > 5_000 ? [Math.round(middle[0] / 100) * 100, Math.round(middle[1] / 100) * 100] : [0, 0];
  note(
    answers.unit === undefined ? 'guessed' : 'taken',
    crs === ''
      ? 'The coordinates are taken for metres.'
      : `The coordinates (${crs.slice(0, 80)}) are taken for metres.`,
  );
  return { toMetres: ([x, y]) => [x - origin[0], y - origin[1]], origin };
}

function boxOf(features: readonly Feature[]): readonly [number, number, number, number] | undefined {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { polygons, lines, points } of features) {
    for (const ring of [...polygons.flat(), ...lines, points]) {
      for (const [x, y] of ring) {
        x0 = Math.min(x0, x);
        y0 = Math.min(y0, y);
        x1 = Math.max(x1, x);
        y1 = Math.max(y1, y);
      }
    }
  }
  return x0 <= x1 ? [x0, y0, x1, y1] : undefined;
}
