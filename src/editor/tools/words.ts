/** Lengths, places and areas in words, in metres or in feet and inches. */
import type { Point } from '../../core/floor/index.ts';
import type { Units } from './tool.ts';

const INCH = 0.0254;
const FOOT = 12 * INCH;
/** Parts of an inch that are told apart. */
const PARTS = 8;

/** `5.40 m`, or `17' 8 5/8"`. */
export function sayLength(metres: number, units: Units): string {
  if (units === 'metres') return `${trueMinus(metres.toFixed(2))} m`;
  const eighths = Math.round((Math.abs(metres) / INCH) * PARTS);
  const feet = Math.floor(eighths / (12 * PARTS));
  const inches = Math.floor(eighths / PARTS) % 12;
  const part = sayPart(eighths % PARTS);
  const minus = metres < 0 && eighths > 0 ? '−' : '';
  const rest = [inches > 0 || part === '' ? String(inches) : '', part].filter(Boolean).join(' ');
  return feet === 0 ? `${minus}${rest}"` : `${minus}${feet}' ${rest}"`;
}

/** A length where everybody knows its unit: `5.40`; feet and inches carry theirs. */
export function sayBare(metres: number, units: Units): string {
  return units === 'feet' ? sayLength(metres, units) : trueMinus(metres.toFixed(2));
}

function sayPart(eighths: number): string {
  if (eighths === 0) return '';
  const shared = eighths % 4 === 0 ? 4 : eighths % 2 === 0 ? 2 : 1;
  return `${eighths / shared}/${PARTS / shared}`;
}

/** `3.20, 4.50`, in the unit of lengths. */
export function sayPlace(at: Point, units: Units): string {
  if (units === 'metres') return `${trueMinus(at[0].toFixed(2))}, ${trueMinus(at[1].toFixed(2))}`;
  return `${sayLength(at[0], units)}, ${sayLength(at[1], units)}`;
}

/** `43.7 m²`, or `470 sq ft`. */
export function sayArea(squareMetres: number, units: Units): string {
  return units === 'metres' ? `${squareMetres.toFixed(1)} m²` : `${(squareMetres / (FOOT * FOOT)).toFixed(0)} sq ft`;
}

/** `30°`, `12.5°` */
export function sayAngle(degrees: number): string {
  return `${trueMinus((Math.round(degrees * 10) / 10).toString())}°`;
}

function trueMinus(text: string): string {
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** Sentences of the foot, one after another. */
export function joinHints(...hints: readonly (string | false | null)[]): string {
  return hints.filter((hint) => hint !== null && hint !== false && hint !== '').join(' · ');
}
