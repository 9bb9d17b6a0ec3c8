import { type Floor, type FloorFile, floorSchema } from './schema.ts';
import { holdsObjects, type ObjectShape, readShape, type Shape } from './shape.ts';

/** What each object and list of a file was resolved to. */
const resolved = new WeakMap<object, unknown>();
/** By the first member of a resolved list, the list it was last the first of: found again when an equal one is made. */
const listsByFirst = new WeakMap<object, readonly unknown[]>();
/** By the first member of a list of a file, the list it was last the first of, and what that was resolved to. */
const lastByStart = new WeakMap<object, { readonly file: readonly unknown[]; readonly out: readonly unknown[] }>();
const emptyList: readonly unknown[] = Object.freeze([]);

/**
 * Fills in the defaults of a floor file. What the file holds is trusted: read it with `parseFloor` first.
 *
 * The same object or list of the file gives the same object of the floor, and lists whose members are all the same
 * give the same list, so that identity tells what an edit has changed. The floor is frozen but for what it shares with
 * the file (outlines, notes).
 */
export function resolveFloor(file: FloorFile): Floor {
  return resolveValue(file, readShape(floorSchema)) as Floor;
}

function resolveValue(value: unknown, shape: Shape): unknown {
  switch (shape.kind) {
    case 'object':
      return resolveObject(value as Readonly<Record<string, unknown>>, shape);
    case 'list':
      return holdsObjects(shape.item) ? resolveList(value as readonly unknown[], shape.item) : value;
    case 'choice': {
      // Only objects have defaults, and the options of a choice between objects differ in required keys alone.
      const option = shape.options.find((each) => each.kind === 'object' && isMeant(value, each));
      return option === undefined ? value : resolveValue(value, option);
    }
    default:
      return value;
  }
}

function resolveObject(file: Readonly<Record<string, unknown>>, shape: ObjectShape): unknown {
  const known = resolved.get(file);
  if (known !== undefined) return known;
  const { presets, nests } = shape;
  const out: Record<string, unknown> = { ...presets, ...file };
  // A key may be there without a value, and then counts as left out.
  for (const key in presets) if (out[key] === undefined) out[key] = presets[key];
  for (const { key, shape: inner } of nests) if (out[key] !== undefined) out[key] = resolveValue(out[key], inner);
  resolved.set(file, Object.freeze(out));
  return out;
}

function resolveList(file: readonly unknown[], item: Shape): readonly unknown[] {
  if (file.length === 0) return emptyList;
  const known = resolved.get(file) as readonly unknown[] | undefined;
  if (known !== undefined) return known;
  // Most members are those of the list before, which is found by the first.
  const start = file[0] as object;
  const last = lastByStart.get(start);
  let out: readonly unknown[] = file.map((each, i) =>
    last !== undefined && each === last.file[i] ? last.out[i] : resolveValue(each, item),
  );
  const first = out[0] as object;
  const before = listsByFirst.get(first);
  if (before !== undefined && before.length === out.length && out.every((each, i) => each === before[i])) out = before;
  else listsByFirst.set(first, Object.freeze(out));
  resolved.set(file, out);
  lastByStart.set(start, { file, out });
  return out;
}

function isMeant(value: unknown, shape: ObjectShape): boolean {
  return (
    typeof value === 'object' && value !== null && shape.members.every(({ key, required }) => !required || key in value)
  );
}
