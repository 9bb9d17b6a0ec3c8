/** The signs of lenses, workplaces, sources and handles as SVG, about the origin, px. */
import { GLYPH } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { createSvg } from './create-svg.ts';

export interface SignLook {
  readonly glyph: number;
  readonly radius: number;
  /** Of its line. */
  readonly width: number;
  /** Radians counter-clockwise. */
  readonly turn: number;
  readonly own: string;
  /** Hex by place in the palette. */
  readonly colours: readonly string[];
}

export function drawSign({ glyph, radius: r, width: w, turn, own, colours }: SignLook): SVGElement[] {
  const paper = colours[COLOUR.paper] ?? '';
  const disc = (radius: number, fill: string, opacity = 1) =>
    createSvg('circle', { r: Math.max(0, radius), fill, 'fill-opacity': opacity });
  const ring = (radius: number, width: number, stroke = own, more: Readonly<Record<string, string | number>> = {}) =>
    createSvg('circle', { r: Math.max(0, radius), fill: 'none', stroke, 'stroke-width': width, ...more });
  const cross = (reach: number, width: number, stroke: string, isTurned: boolean) => {
    const d = reach * (isTurned ? Math.SQRT1_2 : 1);
    const path = isTurned ? `M${-d} ${-d}L${d} ${d}M${-d} ${d}L${d} ${-d}` : `M${-d} 0H${d}M0 ${-d}V${d}`;
    return createSvg('path', { d: path, stroke, 'stroke-width': width, fill: 'none' });
  };
  const square = (half: number, fill: string) =>
    createSvg('rect', {
      x: -half,
      y: -half,
      width: 2 * half,
      height: 2 * half,
      fill,
      transform: `rotate(${(-turn * 180) / Math.PI})`,
    });
  switch (glyph) {
    case GLYPH.detector:
      return [disc(r + 2, paper), disc(r, own), disc(r * 0.34, paper)];
    case GLYPH.main:
      return [disc(r + 5.5, paper), ring(r + 3.5, 1.5), disc(r, own), disc(r * 0.34, paper)];
    case GLYPH.hollow:
      return [disc(r + 2, paper), ring(r - 0.75, 1.5), disc(r * 0.34, own)];
    case GLYPH.hollowMain:
      return [disc(r + 5.5, paper), ring(r + 3.5, 1.25), ring(r - 0.75, 1.5), disc(r * 0.34, own)];
    case GLYPH.removed:
      return [disc(r + 2, paper), ring(r - 0.75, 1.5), cross(r * 0.62, 1.5, own, true)];
    case GLYPH.ring:
      return [disc(r, paper), ring(r, w)];
    case GLYPH.dashedRing:
      return [disc(r + 1.5, paper, 0.85), ring(r, w, own, { 'stroke-dasharray': (Math.PI * r) / 7 })];
    case GLYPH.circleOutline:
      return [ring(r, w)];
    case GLYPH.missed:
      return [disc(r + 1.5, paper), disc(r, own), cross(r * 0.46, 1.6, colours[COLOUR.onAccent] ?? '', true)];
    case GLYPH.source:
      return [disc(r + 0.5, paper, 0.7), ring(r, w), cross(4, w, own, false)];
    case GLYPH.square:
      return [square(r + 1.25, paper), square(r, own), square(r - 1.75, paper)];
    case GLYPH.squareFull:
      return [square(r + 1.25, paper), square(r, own)];
    case GLYPH.circle:
      return [disc(r + 1.25, paper), disc(r, own), disc(r - 1.75, paper)];
    case GLYPH.circleFull:
      return [disc(r + 1.25, paper), disc(r, own)];
    case GLYPH.cross:
      return [disc(r, paper), cross(r * 0.62, 1.75, own, true)];
    case GLYPH.target:
      return [ring(r, 4.5, paper, { 'stroke-opacity': 0.9 }), ring(r, 1.5), disc(2, own)];
    case GLYPH.walker:
      return [disc(r + 1.5, paper), disc(r, own)];
    default:
      return [];
  }
}
