/** Typed numbers: sums, feet and inches, degrees. What cannot be read is answered with what would be right. */
import type { Units } from './tools/tool.ts';
import { sayLength } from './tools/words.ts';

export type QuantityKind = 'length' | 'angle' | 'number';

export interface QuantityRule {
  readonly kind: QuantityKind;
  readonly min?: number;
  readonly max?: number;
  /** The bound itself is not allowed. */
  readonly above?: number;
  /** What else must hold; the answer is what would be right, or null. */
  readonly check?: (value: number) => string | null;
}

export type Quantity = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly remedy: string };

const EXAMPLE: Readonly<Record<QuantityKind, string>> = {
  length: 'Write metres, such as 2.4 or 3.6 + 1.2, or feet and inches, such as 8 ft 2 in.',
  angle: 'Write degrees, such as 110 or 45 + 15.',
  number: 'Write a number, such as 0.9.',
};

const EXAMPLE_IN_FEET =
  'Write feet, such as 8.2 or 3 + 1.5, feet and inches, such as 8\' 2 1/2", or metres, such as 2.4 m.';

const FOOT = 0.3048;
const INCH = 0.0254;
const UNITS: Readonly<Record<QuantityKind, Readonly<Record<string, number>>>> = {
  length: { m: 1, cm: 0.01, mm: 0.001, ft: FOOT, "'": FOOT, '′': FOOT, in: INCH, '"': INCH, '″': INCH },
  angle: { '°': 1, deg: 1 },
  number: {},
};

/** A sign, a number with a fraction behind it or a fraction alone, a unit. */
const TERM =
  /^\s*([+\-−]?)\s*(?:(\d+(?:[.,]\d*)?|[.,]\d+)(?!\d*\/))?(?:\s*(?<![\d.,])(\d{1,4})\/(\d{1,4}))?\s*(mm|cm|m|ft|in|deg|°|'|"|′|″)?/u;

/**
 * Reads what was typed. A length without a unit is in the unit that lengths are shown in: metres, or feet. Another may be
 * written (m, cm, mm, ft, in); feet may be followed by inches, with fractions (8' 2 1/2"); terms may be added and taken
 * off; a comma is a decimal point.
 * @returns metres, degrees, or the number
 */
export function parseQuantity(text: string, rule: QuantityRule, shown: Units): Quantity {
  const value = sumTerms(text, rule.kind, shown);
  if (value === null)
    return { ok: false, remedy: rule.kind === 'length' && shown === 'feet' ? EXAMPLE_IN_FEET : EXAMPLE[rule.kind] };
  const { min, max, above } = rule;
  const bad =
    (min !== undefined && value < min) || (max !== undefined && value > max) || (above !== undefined && value <= above);
  if (bad) return { ok: false, remedy: describeBounds(rule, shown) };
  const remedy = rule.check?.(value) ?? null;
  return remedy === null ? { ok: true, value } : { ok: false, remedy };
}

function sumTerms(text: string, kind: QuantityKind, shown: Units): number | null {
  const bare = kind === 'length' && shown === 'feet' ? FOOT : 1;
  const units = UNITS[kind];
  let rest = text;
  let sum = 0;
  let terms = 0;
  let afterFeet = false;
  while (rest.trim() !== '') {
    const match = TERM.exec(rest);
    if (match === null) return null;
    const [whole, sign = '', digits, above, below, unit] = match;
    if (digits === undefined && above === undefined) return null;
    // A second number needs a sign before it, but for the inches after feet.
    if (terms > 0 && sign === '' && !(afterFeet && (unit === 'in' || unit === '"' || unit === '″'))) return null;
    const factor = unit === undefined ? bare : units[unit];
    if (factor === undefined) return null;
    const part = above === undefined ? 0 : Number(above) / Number(below);
    if (!Number.isFinite(part)) return null;
    const size = (Number((digits ?? '0').replace(',', '.')) + part) * factor;
    sum += sign === '' || sign === '+' ? size : -size;
    afterFeet = unit !== undefined && factor === FOOT;
    terms += 1;
    rest = rest.slice(whole.length);
  }
  return terms === 0 ? null : sum;
}

function describeBounds({ kind, min, max, above }: QuantityRule, shown: Units): string {
  const say = (bound: number): string => {
    if (kind === 'length') return shown === 'feet' ? sayLength(bound, shown) : `${bound} m`;
    return `${bound}${kind === 'angle' ? '°' : ''}`;
  };
  const low = above ?? min;
  const lower = low === undefined ? null : `${above === undefined ? 'at least' : 'above'} ${say(low)}`;
  const upper = max === undefined ? null : `at most ${say(max)}`;
  return `Write ${[lower, upper].filter((part) => part !== null).join(' and ')}.`;
}
