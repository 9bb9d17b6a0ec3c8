import { type FloorFile, floorSchema } from './schema.ts';
import { readShape, type Shape } from './shape.ts';

/** An object or list stands on one line up to this many characters; an outline always does. */
const LINE = 160;
/** The line end of the floor's own keys: their lists are one thing per line, so that a change to one changes one line. */
const TOP = '\n  ';

/**
 * The text of a floor file: readable JSON with a newline at its end, keys in the order of the format, one thing per
 * line where it fits. Nothing is lost: `JSON.parse` gives a value equal to the file. The same content gives the same text.
 */
export function serialiseFloor(file: FloorFile): string {
  return `${write(file, readShape(floorSchema), '\n')}\n`;
}

/** @param newline a line end and the indentation of the value's own line */
function write(value: unknown, shape: Shape, newline: string): string {
  if (typeof value === 'number') return Object.is(value, -0) ? '-0' : String(value);
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const inner = `${newline}  `;
  if (Array.isArray(value)) {
    const item: Shape = shape.kind === 'list' ? shape.item : { kind: 'anything' };
    const parts = value.map((each) => write(each, item, inner));
    if (isPoints(value)) return `[${parts.join(', ')}]`;
    return join('[', parts, ']', newline, newline === TOP ? 0 : LINE);
  }
  const object = shape.kind === 'choice' ? findShape(value, shape.options) : shape;
  const members = object.kind === 'object' ? object.byKey : undefined;
  const written = Object.keys(value);
  const keys =
    members === undefined
      ? written
      : [
          ...[...members.keys()].filter((key) => Object.hasOwn(value, key)),
          ...written.filter((key) => !members.has(key)),
        ];
  const parts: string[] = [];
  for (const key of keys) {
    const member = (value as Readonly<Record<string, unknown>>)[key];
    if (member !== undefined)
      parts.push(`${JSON.stringify(key)}: ${write(member, members?.get(key)?.shape ?? { kind: 'anything' }, inner)}`);
  }
  return join('{', parts, '}', newline, LINE);
}

/** Numbers, or lists of nothing but numbers: a point, a size, an outline. */
function isPoints(list: readonly unknown[]): boolean {
  return list.every(
    (each) => typeof each === 'number' || (Array.isArray(each) && each.every((part) => typeof part === 'number')),
  );
}

function findShape(value: object, options: readonly Shape[]): Shape {
  return (
    options.find((option) => option.kind === 'object' && Object.keys(value).every((key) => option.byKey.has(key))) ?? {
      kind: 'anything',
    }
  );
}

function join(open: string, parts: readonly string[], close: string, newline: string, most: number): string {
  if (parts.length === 0) return open + close;
  const length = parts.reduce((sum, part) => sum + part.length + 2, 0);
  if (length <= most && !parts.some((part) => part.includes('\n'))) {
    return open === '{' ? `{ ${parts.join(', ')} }` : `[${parts.join(', ')}]`;
  }
  return `${open}${newline}  ${parts.join(`,${newline}  `)}${newline}${close}`;
}
