/**
 * Degrees of WGS 84 as metres in the plane that touches the earth at one point: geographic to topocentric coordinates as in
 * the guidance note 7-2 of the IOGP (EPSG method 9837; quoted from memory), exact but for the earth's curve: a length of
 * d metres at the edge comes out short by d³ / (6 R²), 4 µm at 1 km.
 */
import type { Point } from '../../core/floor/index.ts';

/** Of the WGS 84 ellipsoid: half its major axis in metres, and its flattening (EPSG 7030, from memory). */
const A = 6_378_137;
const F = 1 / 298.257_223_563;
const E2 = F * (2 - F);

/** East and north of the centre in metres, of a place in degrees of longitude and latitude on the ellipsoid. */
export function createTangentPlane([longitude, latitude]: Point): (place: Point) => Point {
  const centre = toGeocentric(longitude, latitude);
  const [sinLat, cosLat] = sinCos(latitude);
  const [sinLon, cosLon] = sinCos(longitude);
  return ([lon, lat]) => {
    const [x, y, z] = toGeocentric(lon, lat);
    const [dx, dy, dz] = [x - centre[0], y - centre[1], z - centre[2]];
    return [-sinLon * dx + cosLon * dy, -sinLat * cosLon * dx - sinLat * sinLon * dy + cosLat * dz];
  };
}

/** Degrees of longitude and latitude of a place in EPSG:3857, metres on a sphere's Mercator map. */
export function fromWebMercator([x, y]: Point): Point {
  return [(x / A) * (180 / Math.PI), (2 * Math.atan(Math.exp(y / A)) - Math.PI / 2) * (180 / Math.PI)];
}

function toGeocentric(longitude: number, latitude: number): readonly [number, number, number] {
  const [sinLat, cosLat] = sinCos(latitude);
  const [sinLon, cosLon] = sinCos(longitude);
  const n = A / Math.sqrt(1 - E2 * sinLat * sinLat);
  return [n * cosLat * cosLon, n * cosLat * sinLon, n * (1 - E2) * sinLat];
}

function sinCos(degrees: number): readonly [number, number] {
  const radians = (degrees * Math.PI) / 180;
  return [Math.sin(radians), Math.cos(radians)];
}
