/**
 * The declaration in `schema.ts`, read once into plain nodes. The reader, the defaults and the writer all walk these,
 * so that a key is declared in one place only. Zod's own parse is not used: on its first run it takes 30 ms for
 * 150 KB, and on a hostile file it lists every fault before anyone can stop it. That both judge alike is tested.
 */
import type * as z from 'zod/mini';

export type Shape =
  | ObjectShape
  | ListShape
  | TupleShape
  | { readonly kind: 'choice'; readonly options: readonly Shape[] }
  | NumberShape
  | { readonly kind: 'text'; readonly least: number; readonly most: number }
  | { readonly kind: 'word'; readonly words: readonly string[] }
  | { readonly kind: 'flag' }
  | { readonly kind: 'nullable'; readonly inner: Shape }
  /** An object with any keys, and any value at all: what notes and records hold. */
  | { readonly kind: 'record' }
  | { readonly kind: 'anything' };

export interface ListShape {
  readonly kind: 'list';
  readonly item: Shape;
  readonly least: number;
  readonly most: number;
}

export interface TupleShape {
  readonly kind: 'tuple';
  readonly items: readonly Shape[];
  /** The shape of all items, when they are numbers within the same bounds, both included: a point. */
  readonly each: NumberShape | undefined;
}

export interface ObjectShape {
  readonly kind: 'object';
  readonly members: readonly Member[];
  readonly byKey: ReadonlyMap<string, Member>;
  /** The keys with a preset, and their presets. */
  readonly presets: Readonly<Record<string, unknown>>;
  /** The members that hold objects, which may leave keys out in their turn. */
  readonly nests: readonly Member[];
}

export interface NumberShape {
  readonly kind: 'number';
  readonly whole: boolean;
  readonly min: number;
  readonly max: number;
  /** Whether min and max themselves are outside. */
  readonly aboveMin: boolean;
  readonly belowMax: boolean;
}

export interface Member {
  readonly key: string;
  readonly shape: Shape;
  readonly required: boolean;
  /** What a file means that leaves the key out, one frozen value for all; undefined: nothing. */
  readonly preset: unknown;
}

const known = new WeakMap<z.core.$ZodType, Shape>();

/** The plain node of a declaration; the same declaration gives the same node. */
export function readShape(schema: z.core.$ZodType): Shape {
  let shape = known.get(schema);
  if (shape === undefined) {
    shape = buildShape(schema);
    known.set(schema, shape);
  }
  return shape;
}

function buildShape(schema: z.core.$ZodType): Shape {
  const { def } = (schema as z.core.$ZodTypes)._zod;
  switch (def.type) {
    case 'object':
      return buildObject(def.shape);
    case 'array': {
      const { least, most } = readLengths(def.checks);
      return { kind: 'list', item: readShape(def.element), least, most };
    }
    case 'tuple':
      return buildTuple(def.items.map(readShape));
    case 'union':
      return { kind: 'choice', options: def.options.map(readShape) };
    case 'number':
      return buildNumber(def);
    case 'string':
      return { kind: 'text', ...readLengths(def.checks) };
    case 'enum':
      return { kind: 'word', words: Object.values(def.entries).map(String) };
    case 'literal':
      return { kind: 'word', words: def.values.map(String) };
    case 'boolean':
      return { kind: 'flag' };
    case 'nullable':
      return { kind: 'nullable', inner: readShape(def.innerType) };
    case 'record':
      return { kind: 'record' };
    case 'unknown':
      return { kind: 'anything' };
    default:
      throw new Error(`The floor file declares a ${def.type}, which its reader does not know.`);
  }
}

function buildObject(declared: Readonly<Record<string, z.core.$ZodType>>): ObjectShape {
  const members = Object.entries(declared).map(([key, schema]): Member => {
    const { def } = (schema as z.core.$ZodTypes)._zod;
    if (def.type === 'optional') return { key, shape: readShape(def.innerType), required: false, preset: undefined };
    if (def.type === 'default' || def.type === 'prefault')
      return { key, shape: readShape(def.innerType), required: false, preset: Object.freeze(def.defaultValue) };
    return { key, shape: readShape(schema), required: true, preset: undefined };
  });
  return {
    kind: 'object',
    members,
    byKey: new Map(members.map((member) => [member.key, member])),
    presets: Object.fromEntries(
      members.filter(({ preset }) => preset !== undefined).map(({ key, preset }) => [key, preset]),
    ),
    nests: members.filter(({ shape }) => holdsObjects(shape)),
  };
}

/** Whether a shape has declared objects in it. */
export function holdsObjects(shape: Shape): boolean {
  if (shape.kind === 'list') return holdsObjects(shape.item);
  return shape.kind === 'object' || (shape.kind === 'choice' && shape.options.some(holdsObjects));
}

function buildTuple(items: readonly Shape[]): TupleShape {
  const [first] = items;
  const isPoint =
    first?.kind === 'number' &&
    !first.whole &&
    !first.aboveMin &&
    !first.belowMax &&
    items.every((item) => item === first);
  return { kind: 'tuple', items, each: isPoint ? first : undefined };
}

type Checks = readonly z.core.$ZodCheck<never>[] | undefined;

function buildNumber(def: z.core.$ZodNumberDef): NumberShape {
  let [min, max, aboveMin, belowMax] = [-Infinity, Infinity, false, false];
  for (const check of def.checks ?? []) {
    const bound = (check as z.core.$ZodChecks)._zod.def;
    if (bound.check === 'greater_than') [min, aboveMin] = [Number(bound.value), !bound.inclusive];
    else if (bound.check === 'less_than') [max, belowMax] = [Number(bound.value), !bound.inclusive];
    else throw new Error(`The floor file declares a number with a check its reader does not know: ${bound.check}.`);
  }
  return { kind: 'number', whole: 'format' in def, min, max, aboveMin, belowMax };
}

function readLengths(checks: Checks): { least: number; most: number } {
  let [least, most] = [0, Infinity];
  for (const check of checks ?? []) {
    const bound = (check as z.core.$ZodChecks)._zod.def;
    if (bound.check === 'min_length') least = bound.minimum;
    else if (bound.check === 'max_length') most = bound.maximum;
    else throw new Error(`The floor file declares a length with a check its reader does not know: ${bound.check}.`);
  }
  return { least, most };
}
