/** What a shape asks for, in words. */
import { formatNumber, joinChoices, quote } from './fault.ts';
import type { NumberShape, Shape } from './shape.ts';

/** A sentence: `Give a number from 0 to 50.` */
export function describeShape(shape: Shape): string {
  return shape.kind === 'word' ? `Write ${nameShape(shape)}.` : `Give ${nameShape(shape)}.`;
}

/** A noun: `a number from 0 to 50` */
export function nameShape(shape: Shape): string {
  switch (shape.kind) {
    case 'object': {
      const required = shape.members.filter((member) => member.required).map(({ key }) => key);
      return required.length === 0 ? 'an object' : `an object with ${required.join(', ')}`;
    }
    case 'record':
      return 'an object';
    case 'list':
      return nameList(shape.least, shape.most);
    case 'tuple':
      return `a list of ${shape.items.length}, each ${nameShape(shape.items[0] ?? { kind: 'anything' })}`;
    case 'choice':
      return joinChoices(shape.options.map(nameShape));
    case 'number':
      return nameNumber(shape);
    case 'text':
      return nameText(shape.least, shape.most);
    case 'word':
      return joinChoices(shape.words.map(quote));
    case 'flag':
      return 'true or false';
    case 'nullable':
      return `${nameShape(shape.inner)} or null`;
    case 'anything':
      return 'any value';
  }
}

function nameList(least: number, most: number): string {
  if (most === Infinity) return least === 0 ? 'a list' : `a list of at least ${least}`;
  return least === 0 ? `a list of at most ${most}` : `a list of ${least} to ${most}`;
}

function nameText(least: number, most: number): string {
  if (most === Infinity) return least === 0 ? 'a text' : `a text of at least ${least} characters`;
  return least === 0 ? `a text of at most ${most} characters` : `a text of ${least} to ${most} characters`;
}

function nameNumber({ whole, min, max, aboveMin, belowMax }: NumberShape): string {
  const low = `${aboveMin ? 'above' : 'from'} ${formatNumber(min)}`;
  const high = `${belowMax ? 'up to but not' : aboveMin ? 'and up to' : 'to'} ${formatNumber(max)}`;
  return `a ${whole ? 'whole ' : ''}number ${low} ${high}`;
}
