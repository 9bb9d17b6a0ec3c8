/**
 * A mask template at 1:1: the lens as it is seen looking up, the sectors to take out of its view shaded and numbered, an
 * arrow that says which edge goes where, and a bar of 50 mm to check the print by. Millimetres.
 *
 * The lens is taken as a half-sphere seen from below: a line of sight at nadir angle n leaves it at radius · sin n.
 * Looking up, east and west change sides: azimuth a of the plan is drawn at 180° − a.
 */
import type { Detector, Mask, Point } from '../../core/floor/index.ts';
import { spanOf } from '../../core/sight/index.ts';
import { COLOUR, FONT, LINE } from '../plan/paper.ts';
import { cutToWidth, element, formatNumber, textAt } from '../plan/svg.ts';

export interface TemplateFacts {
  /** `M-D4` */
  readonly name: string;
  readonly number: string;
  readonly detector: Detector;
  /** Metres. */
  readonly lensDiameter: number;
  /** From the lens to what the arrow points at, in plan. */
  readonly toward: Point;
  /** `the north wall, 1.85 m away` */
  readonly towardWords: string;
}

export interface Template {
  readonly svg: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Around the lens: the arrow, the words, the edge to cut along. */
const RIM = 19;
const BAR = 50;
const LEAST_WIDTH = 84;

/** Draws the template of one detector. */
export function drawTemplate(facts: TemplateFacts): Template {
  const radius = (facts.lensDiameter * 1000) / 2;
  const width = Math.max(LEAST_WIDTH, 2 * (radius + RIM));
  const height = 2 * (radius + RIM) + 16;
  const centre = { x: width / 2, y: radius + RIM };
  const { detector } = facts;
  const sectors = detector.masks.map((mask, k) => drawSector(mask, k + 1, detector.turn, radius, centre));
  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${formatNumber(width)}mm`,
      height: `${formatNumber(height)}mm`,
      viewBox: `0 0 ${formatNumber(width)} ${formatNumber(height)}`,
      'font-family': FONT.working,
      fill: COLOUR.ink,
    },
    [
      element('rect', {
        x: 0.1,
        y: 0.1,
        width: width - 0.2,
        height: height - 0.2,
        fill: COLOUR.paper,
        stroke: COLOUR.ink3,
        'stroke-width': LINE.hair,
        'stroke-dasharray': '2 1.4',
      }),
      ...sectors,
      `<circle cx="${fine(centre.x)}" cy="${fine(centre.y)}" r="${fine(radius)}" fill="none" stroke="${COLOUR.ink}" stroke-width="0.25"/>`,
      cross(centre),
      drawTurn(detector.turn, radius, centre),
      drawArrow(facts, radius, centre),
      textAt({ x: 3, y: 6 }, cutToWidth(facts.name, width - 30, { size: 4.4, bold: true }), { size: 4.4, bold: true }),
      textAt({ x: width - 3, y: 5.4 }, 'seen looking up', { size: 2.2, fill: COLOUR.ink2, anchor: 'end' }),
      drawBar({ x: (width - BAR) / 2, y: height - 6 }),
    ].join('\n'),
  );
  return { svg, widthMm: width, heightMm: height };
}

interface Centre {
  readonly x: number;
  readonly y: number;
}

/** Three decimals: on a lens of 30 mm a tenth of a degree is 0.03 mm. */
function fine(value: number): string {
  const rounded = Math.round(value * 1000) / 1000;
  return Object.is(rounded, -0) ? '0' : String(rounded);
}

/** A place on the sheet at an azimuth of the plan (degrees counter-clockwise from +x), seen looking up. */
function onLens(centre: Centre, azimuth: number, radius: number): Centre {
  const angle = (azimuth * Math.PI) / 180;
  return { x: centre.x - radius * Math.cos(angle), y: centre.y - radius * Math.sin(angle) };
}

function drawSector(mask: Mask, number: number, turn: number, lens: number, centre: Centre): string {
  const inner = lens * Math.sin((mask.inner * Math.PI) / 180);
  const outer = lens * Math.sin((mask.outer * Math.PI) / 180);
  const span = spanOf(mask);
  const from = mask.from + turn;
  const put = ({ x, y }: Centre) => `${fine(x)} ${fine(y)}`;
  const on = (azimuth: number, radius: number) => put(onLens(centre, azimuth, radius));
  // Counter-clockwise in plan is clockwise looking up, which SVG calls sweep 1. In steps of at most a third of a turn.
  const arc = (radius: number, start: number, end: number): string => {
    const steps = Math.max(1, Math.ceil(Math.abs(end - start) / 120));
    const sweep = end > start ? 1 : 0;
    return Array.from({ length: steps }, (_, k) => {
      const to = start + ((end - start) * (k + 1)) / steps;
      return `A${fine(radius)} ${fine(radius)} 0 0 ${sweep} ${on(to, radius)}`;
    }).join('');
  };
  const isWhole = span >= 360 - 1e-9;
  const rim = `M${on(from, outer)}${arc(outer, from, from + span)}`;
  const hole =
    inner > 0
      ? `${isWhole ? `ZM${on(from + span, inner)}` : `L${on(from + span, inner)}`}${arc(inner, from + span, from)}`
      : isWhole
        ? ''
        : `L${put(centre)}`;
  const middle = onLens(centre, from + span / 2, (inner + outer) / 2);
  const hatch = hatchSector(from, span, inner, outer, centre);
  return [
    `<path data-sector="${number}" d="${rim}${hole}Z" fill="${COLOUR.ink}" fill-opacity="0.12" fill-rule="evenodd" stroke="${COLOUR.ink}" stroke-width="0.35"/>`,
    hatch,
    textAt({ x: middle.x, y: middle.y + 1.2 }, String(number), { size: 3.4, bold: true, anchor: 'middle', rim: true }),
  ].join('');
}

/** Arcs 1.6 mm apart: shaded on any printer. */
function hatchSector(from: number, span: number, inner: number, outer: number, centre: Centre): string {
  let d = '';
  const put = ({ x, y }: Centre) => `${fine(x)} ${fine(y)}`;
  for (let radius = (Math.floor(inner / 1.6) + 1) * 1.6; radius < outer - 0.2; radius += 1.6) {
    const steps = Math.max(1, Math.ceil(span / 120));
    d += `M${put(onLens(centre, from, radius))}`;
    for (let k = 1; k <= steps; k++) {
      d += `A${fine(radius)} ${fine(radius)} 0 0 1 ${put(onLens(centre, from + (span * k) / steps, radius))}`;
    }
  }
  return d === '' ? '' : element('path', { d, fill: 'none', stroke: COLOUR.ink, 'stroke-width': LINE.thin });
}

function cross({ x, y }: Centre): string {
  return element('path', {
    d: `M${formatNumber(x - 2)} ${formatNumber(y)}h4M${formatNumber(x)} ${formatNumber(y - 2)}v4`,
    stroke: COLOUR.ink,
    'stroke-width': LINE.hair,
  });
}

/** A wedge outside the lens at the detector's own 0°. */
function drawTurn(turn: number, radius: number, centre: Centre): string {
  const tip = onLens(centre, turn, radius + 1);
  const [a, b] = [onLens(centre, turn - 5, radius + 4.5), onLens(centre, turn + 5, radius + 4.5)];
  // Beside the mark, so that an arrow the same way finds room.
  const aside = (9 / (radius + 4)) * (180 / Math.PI);
  const words = onLens(centre, turn + aside, radius + 4);
  return (
    element('path', {
      d: `M${fine(tip.x)} ${fine(tip.y)}L${fine(a.x)} ${fine(a.y)}L${fine(b.x)} ${fine(b.y)}Z`,
      fill: COLOUR.ink,
    }) +
    textAt({ x: words.x, y: words.y + 0.8 }, 'turn mark', { size: 2.1, anchor: 'middle', fill: COLOUR.ink2, rim: true })
  );
}

function drawArrow({ toward, towardWords }: TemplateFacts, radius: number, centre: Centre): string {
  const azimuth = (Math.atan2(toward[1], toward[0]) * 180) / Math.PI;
  const [from, to] = [onLens(centre, azimuth, radius + 6), onLens(centre, azimuth, radius + 13.5)];
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const head = `M${fine(to.x)} ${fine(to.y)}L${fine(to.x - 3 * ux - 1.5 * uy)} ${fine(to.y - 3 * uy + 1.5 * ux)}L${fine(to.x - 3 * ux + 1.5 * uy)} ${fine(to.y - 3 * uy - 1.5 * ux)}Z`;
  return (
    element('path', {
      d: `M${fine(from.x)} ${fine(from.y)}L${fine(to.x - 2 * ux)} ${fine(to.y - 2 * uy)}`,
      fill: 'none',
      stroke: COLOUR.ink,
      'stroke-width': LINE.strong,
    }) +
    element('path', { d: head, fill: COLOUR.ink }) +
    writeEdge(`This edge towards ${towardWords}`, { x: ux, y: uy }, radius, centre)
  );
}

/** Words along the edge that the arrow points at. */
function writeEdge(text: string, way: Centre, radius: number, centre: Centre): string {
  const style = { size: 2.5, anchor: 'middle' as const };
  const off = radius + RIM - 3;
  if (Math.abs(way.y) >= Math.abs(way.x))
    return textAt({ x: centre.x, y: centre.y + (way.y < 0 ? -off + 1.5 : off) }, text, style);
  return textAt({ x: centre.x + (way.x < 0 ? -off + 1 : off), y: centre.y }, text, { ...style, turn: -90 });
}

/** 50 mm, with its ends and a tick every 10 mm: measured before the template is cut. */
function drawBar({ x, y }: Centre): string {
  const ticks = [0, 10, 20, 30, 40, 50]
    .map(
      (at) => `M${formatNumber(x + at)} ${formatNumber(y - (at % 50 === 0 ? 2.4 : 1.4))}v${at % 50 === 0 ? 2.4 : 1.4}`,
    )
    .join('');
  return (
    element('path', {
      d: `M${formatNumber(x)} ${formatNumber(y)}h${BAR}${ticks}`,
      fill: 'none',
      stroke: COLOUR.ink,
      'stroke-width': LINE.drawing,
    }) +
    textAt({ x: x + BAR / 2, y: y + 3.4 }, 'this bar is 50 mm: measure it', {
      size: 2.1,
      anchor: 'middle',
      fill: COLOUR.ink2,
    })
  );
}
