/** Detectors, their masks and ranges. */
import {
  type Detector,
  type DetectorId,
  type Floor,
  lensHeightOf,
  type Mask,
  type Motion,
} from '../../core/floor/index.ts';
import { rangeAt, spanOf } from '../../core/sight/index.ts';
import type { Frame } from './frame.ts';
import type { Labels } from './labels.ts';
import { COLOUR, DASH, LINE } from './paper.ts';
import { element, formatNumber, measureText, pathOf, type Spot, textAt } from './svg.ts';
import { around, besides } from './things-layer.ts';

const NAME_SIZE = 2.3;
/** Radii of a detector's rings, mm. */
const DISC = 1.05;
const DOT = 0.35;
const RIM = 1.4;
const MAIN = 1.85;

/** Whose ranges are drawn. */
export type Ranges = 'all' | readonly DetectorId[];

/** Ranges at their planes: small movements at the seated one, both walking motions at the walking one. */
export function drawRanges(floor: Floor, ranges: Ranges, frame: Frame): string {
  const { seatedPlane, walkingPlane } = floor.analysis;
  return floor.detectors
    .filter((detector) => ranges === 'all' || ranges.includes(detector.id))
    .flatMap((detector) =>
      (['tangential', 'radial', 'minor'] as const).map((motion) =>
        drawRange(floor, detector, motion, motion === 'minor' ? seatedPlane : walkingPlane, ranges !== 'all', frame),
      ),
    )
    .join('');
}

function drawRange(
  floor: Floor,
  detector: Detector,
  motion: Motion,
  height: number,
  withSize: boolean,
  frame: Frame,
): string {
  const extent = rangeAt(floor, detector, motion, height);
  if (extent === null) return '';
  const spot = frame.toSpot(detector.at);
  const line = {
    fill: 'none',
    // Of many ranges none may drown what stands under them.
    stroke: withSize ? COLOUR.ink : COLOUR.ink3,
    'stroke-width': motion === 'tangential' ? LINE.range * 1.3 : withSize ? LINE.range : LINE.thin,
    'stroke-dasharray': DASH[motion] || undefined,
    'stroke-linecap': motion === 'tangential' ? 'round' : undefined,
  };
  if (extent.kind === 'round') {
    const radius = extent.radius * frame.mmPerMetre;
    const size = `⌀ ${(2 * extent.radius).toFixed(1)}`;
    const foot = { x: spot.x, y: spot.y + radius + 0.6 };
    return (
      element('circle', { cx: spot.x, cy: spot.y, r: radius, ...line }) +
      (withSize ? textAt(foot, size, { size: 1.8, anchor: 'middle', fill: COLOUR.ink2, rim: true }) : '')
    );
  }
  const [u, v] = [(extent.length / 2) * frame.mmPerMetre, (extent.width / 2) * frame.mmPerMetre];
  const corners = [
    [-u, -v],
    [u, -v],
    [u, v],
    [-u, v],
  ].map(([along = 0, across = 0]) => polarSpot(spot, (detector.turn * Math.PI) / 180, along, across));
  const lowest = corners.reduce((low, each) => (each.y > low.y ? each : low), corners[0] ?? spot);
  return (
    element('path', { d: pathOf(corners, true), ...line }) +
    (withSize
      ? textAt({ x: lowest.x, y: lowest.y + 2 }, `${extent.length.toFixed(1)} × ${extent.width.toFixed(1)}`, {
          size: 1.8,
          anchor: 'middle',
          fill: COLOUR.ink2,
          rim: true,
        })
      : '')
  );
}

function polarSpot(spot: Spot, turn: number, along: number, across: number): Spot {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return { x: spot.x + along * c - across * s, y: spot.y - along * s - across * c };
}

/** Masks at the height of the plane: the sector they take away, as far as the detector's widest range. */
export function drawMasks(floor: Floor, height: number, frame: Frame): string {
  return floor.detectors
    .flatMap((detector) => {
      if (detector.masks.length === 0) return [];
      const drop = lensHeightOf(detector, floor) - height;
      const widest = Math.max(
        0,
        ...(['minor', 'tangential', 'radial'] as const).map((motion) => {
          const extent = rangeAt(floor, detector, motion, height);
          if (extent === null) return 0;
          return extent.kind === 'round' ? extent.radius : Math.hypot(extent.length, extent.width) / 2;
        }),
      );
      return detector.masks.map((mask) => drawMask(detector, mask, drop, widest, frame));
    })
    .join('');
}

function drawMask(detector: Detector, mask: Mask, drop: number, widest: number, frame: Frame): string {
  const reachOf = (nadir: number) =>
    nadir >= 90 ? widest : Math.min(widest, Math.tan((nadir * Math.PI) / 180) * drop);
  const inner = reachOf(mask.inner) * frame.mmPerMetre;
  const outer = reachOf(mask.outer) * frame.mmPerMetre;
  if (!(outer > inner)) return '';
  const spot = frame.toSpot(detector.at);
  const from = ((mask.from + detector.turn) * Math.PI) / 180;
  const sweep = spanOf(mask);
  const isWhole = sweep >= 360 - 1e-9;
  const to = from + (sweep * Math.PI) / 180;
  const on = (radius: number, angle: number): Spot => ({
    x: spot.x + radius * Math.cos(angle),
    y: spot.y - radius * Math.sin(angle),
  });
  const arc = (radius: number, start: number, end: number): string => {
    const middle = on(radius, (start + end) / 2);
    const last = on(radius, end);
    const r = formatNumber(radius);
    const flag = end > start ? 0 : 1;
    return [middle, last]
      .map((each) => `A${r} ${r} 0 0 ${flag} ${formatNumber(each.x)} ${formatNumber(each.y)}`)
      .join('');
  };
  const start = (radius: number, angle: number, step: 'M' | 'L') => {
    const each = on(radius, angle);
    return `${step}${formatNumber(each.x)} ${formatNumber(each.y)}`;
  };
  const rim = start(outer, from, 'M') + arc(outer, from, to);
  const hole =
    inner > 0
      ? start(inner, to, isWhole ? 'M' : 'L') + arc(inner, to, from)
      : isWhole
        ? ''
        : `L${formatNumber(spot.x)} ${formatNumber(spot.y)}`;
  return element('path', {
    d: `${rim}${isWhole ? 'Z' : ''}${hole}Z`,
    fill: COLOUR.ink,
    'fill-opacity': 0.07,
    'fill-rule': 'evenodd',
    stroke: COLOUR.ink,
    'stroke-width': LINE.drawing,
  });
}

/** Detectors with their numbers. A main has a second ring; one to be removed is struck through. */
export function drawDetectors(floor: Floor, frame: Frame, labels: Labels): string {
  const mains = new Set(floor.groups.map((group) => group.main));
  return floor.detectors
    .map((detector) => {
      const spot = frame.toSpot(detector.at);
      const isMain = mains.has(detector.id);
      const radius = isMain ? MAIN : RIM;
      labels.block(around(spot, radius));
      const text = detector.name || detector.id;
      const style = {
        size: NAME_SIZE,
        bold: true,
        rim: true,
        fill: detector.status === 'remove' ? COLOUR.ink3 : COLOUR.ink,
      };
      labels.put(text, besides(spot, radius + 0.6, NAME_SIZE, measureText(text, style)), style, true);
      return drawDetector(spot, isMain, detector.status);
    })
    .join('');
}

/** The mark of a detector. */
export function drawDetector({ x, y }: Spot, isMain: boolean, status: Detector['status']): string {
  const ink = status === 'remove' ? COLOUR.ink3 : COLOUR.ink;
  const ring = isMain
    ? element('circle', { cx: x, cy: y, r: MAIN, fill: COLOUR.paper }) +
      element('circle', { cx: x, cy: y, r: MAIN - 0.25, fill: 'none', stroke: ink, 'stroke-width': LINE.drawing })
    : '';
  const strike =
    status === 'remove'
      ? element('path', {
          d: pathOf(
            [
              { x: x - 2, y: y + 2 },
              { x: x + 2, y: y - 2 },
            ],
            false,
          ),
          stroke: ink,
          'stroke-width': LINE.drawing,
        })
      : '';
  return [
    ring,
    element('circle', { cx: x, cy: y, r: RIM - (isMain ? 0.15 : 0), fill: COLOUR.paper }),
    element('circle', { cx: x, cy: y, r: DISC, fill: ink }),
    element('circle', { cx: x, cy: y, r: DOT, fill: COLOUR.paper }),
    strike,
  ].join('');
}
