/** The features of a GeoJSON text (RFC 7946), with rings and lines as plain points; nothing is thrown for what is in it. */
import type { Point } from '../../core/floor/index.ts';

export interface Feature {
  /** Its id, or its place in the file. */
  readonly key: string;
  readonly properties: Readonly<Record<string, unknown>>;
  /** Outer ring and holes of each polygon; not closed. */
  readonly polygons: readonly (readonly (readonly Point[])[])[];
  readonly lines: readonly (readonly Point[])[];
  readonly points: readonly Point[];
}

export interface FeatureFile {
  readonly name: string;
  readonly features: readonly Feature[];
  /** Name of the reference system the file states, or empty. */
  readonly crs: string;
  /** Features without a geometry that could be read. */
  readonly unread: number;
}

type Json = Readonly<Record<string, unknown>>;

export function isObject(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The features of a document, or undefined when it is no GeoJSON. */
export function readFeatures(name: string, document: unknown): FeatureFile | undefined {
  if (!isObject(document)) return undefined;
  const list =
    document.type === 'FeatureCollection' ? document.features : document.type === 'Feature' ? [document] : undefined;
  if (!Array.isArray(list)) return undefined;
  const features: Feature[] = [];
  let unread = 0;
  const used = new Map<string, number>();
  list.forEach((each: unknown, i) => {
    const feature = isObject(each) ? readFeature(each, i, used) : undefined;
    if (feature === undefined) unread++;
    else features.push(feature);
  });
  return { name, features, crs: readCrs(document.crs), unread };
}

function readCrs(crs: unknown): string {
  const properties = isObject(crs) ? crs.properties : undefined;
  return isObject(properties) && typeof properties.name === 'string' ? properties.name : '';
}

function readFeature(feature: Json, place: number, used: Map<string, number>): Feature | undefined {
  const properties = isObject(feature.properties) ? feature.properties : {};
  const polygons: (readonly (readonly Point[])[])[] = [];
  const lines: (readonly Point[])[] = [];
  const points: Point[] = [];
  const gather = (geometry: unknown, depth: number): void => {
    if (!isObject(geometry) || depth > 4) return;
    const { type, coordinates } = geometry;
    if (type === 'Polygon') polygons.push(readRings(coordinates));
    else if (type === 'MultiPolygon') for (const each of listOf(coordinates)) polygons.push(readRings(each));
    else if (type === 'LineString') lines.push(readPoints(coordinates));
    else if (type === 'MultiLineString') for (const each of listOf(coordinates)) lines.push(readPoints(each));
    else if (type === 'Point') points.push(...readPoints([coordinates]));
    else if (type === 'MultiPoint') points.push(...readPoints(coordinates));
    else if (type === 'GeometryCollection') for (const each of listOf(geometry.geometries)) gather(each, depth + 1);
  };
  gather(feature.geometry, 0);
  const whole = {
    polygons: polygons.filter((rings) => (rings[0]?.length ?? 0) >= 3),
    lines: lines.filter((line) => line.length >= 2),
    points,
  };
  if (whole.polygons.length + whole.lines.length + points.length === 0) return undefined;
  const id = [feature.id, properties.id, properties['@id']].find(
    (each) => typeof each === 'string' || typeof each === 'number',
  );
  const stem = id === undefined ? `feature ${place + 1}` : String(id).slice(0, 150);
  const count = (used.get(stem) ?? 0) + 1;
  used.set(stem, count);
  return { key: count === 1 ? stem : `${stem} (${count})`, properties, ...whole };
}

function readRings(rings: unknown): readonly (readonly Point[])[] {
  return listOf(rings).map((ring) => {
    const points = readPoints(ring);
    const [first, last] = [points[0], points.at(-1)];
    const isClosed = points.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
    return isClosed ? points.slice(0, -1) : points;
  });
}

function readPoints(list: unknown): readonly Point[] {
  return listOf(list).flatMap((each): Point[] => {
    const [x, y] = listOf(each);
    return typeof x === 'number' && typeof y === 'number' && Number.isFinite(x) && Number.isFinite(y) ? [[x, y]] : [];
  });
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}
