/** Whether a value has the shape the floor file declares: kinds, keys, bounds, lengths. One fault per thing wrong. */
import { describeValue, type FaultList, findNearestWord, formatPath, joinChoices, quote } from './fault.ts';
import type { ListShape, NumberShape, ObjectShape, Shape, TupleShape } from './shape.ts';
import { describeShape, nameShape } from './shape-words.ts';

/** Where the walk is, and what it has found. */
interface Walk {
  /** Keys and list positions from the root; only the first `depth` of them hold. */
  readonly steps: (string | number)[];
  readonly faults: FaultList;
}

/** Adds what is wrong with a value to the faults. The value must be plain JSON, as `surveyValue` makes sure. */
export function checkShape(value: unknown, shape: Shape, faults: FaultList): void {
  checkValue(value, shape, 0, { steps: [], faults });
}

function checkValue(value: unknown, shape: Shape, depth: number, walk: Walk): void {
  switch (shape.kind) {
    case 'object':
      if (isObject(value)) checkObject(value, shape, depth, walk);
      else addFault(value, shape, depth, walk);
      return;
    case 'list':
      checkList(value, shape, depth, walk);
      return;
    case 'tuple':
      checkTuple(value, shape, depth, walk);
      return;
    case 'choice':
      checkChoice(value, shape.options, depth, walk);
      return;
    default:
      if (!isRight(value, shape)) addFault(value, shape, depth, walk);
  }
}

/** Whether a value that holds no objects has its shape. */
function isRight(value: unknown, shape: Shape): boolean {
  switch (shape.kind) {
    case 'number':
      return isNumberRight(value, shape);
    case 'text':
      return typeof value === 'string' && value.length >= shape.least && value.length <= shape.most;
    case 'word':
      return typeof value === 'string' && shape.words.includes(value);
    case 'flag':
      return typeof value === 'boolean';
    case 'nullable':
      return value === null || isRight(value, shape.inner);
    case 'record':
      return isObject(value);
    case 'anything':
      return true;
    case 'tuple': {
      const { items } = shape;
      if (!Array.isArray(value) || value.length !== items.length) return false;
      for (let i = 0; i < items.length; i++) if (!isRight(value[i], items[i] as Shape)) return false;
      return true;
    }
    default:
      return false;
  }
}

function isNumberRight(value: unknown, shape: NumberShape): boolean {
  if (typeof value !== 'number' || !Number.isFinite(value)) return false;
  if (shape.whole && !Number.isSafeInteger(value)) return false;
  if (shape.aboveMin ? value <= shape.min : value < shape.min) return false;
  return shape.belowMax ? value < shape.max : value <= shape.max;
}

function checkObject(value: Readonly<Record<string, unknown>>, shape: ObjectShape, depth: number, walk: Walk): void {
  const { steps, faults } = walk;
  let met = 0;
  for (const { key, shape: inner, required } of shape.members) {
    const member = Object.hasOwn(value, key) ? value[key] : undefined;
    if (member !== undefined) {
      met++;
      steps[depth] = key;
      checkValue(member, inner, depth + 1, walk);
    } else if (required) {
      steps[depth] = key;
      faults.add(formatPath(steps.slice(0, depth + 1)), 'is missing', describeShape(inner));
    }
    if (faults.isFull) return;
  }
  let written = 0;
  for (const _ in value) written++;
  if (written === met) return;
  for (const key in value) {
    if (shape.byKey.has(key) || value[key] === undefined) continue;
    steps[depth] = key;
    addUnknownKey(key, shape, formatPath(steps.slice(0, depth + 1)), faults);
    if (faults.isFull) return;
  }
}

function addUnknownKey(key: string, shape: ObjectShape, path: string, faults: FaultList): void {
  const legal = shape.members.map((member) => member.key);
  const nearest = findNearestWord(key, legal);
  const remedy =
    nearest === undefined
      ? `Leave it out, or put it under notes. Known here: ${legal.join(', ')}.`
      : `The nearest known key is ${nearest}.`;
  faults.add(path, 'is a key this format does not know', remedy);
}

function checkList(value: unknown, shape: ListShape, depth: number, walk: Walk): void {
  if (!Array.isArray(value) || value.length < shape.least || value.length > shape.most) {
    addFault(value, shape, depth, walk);
    return;
  }
  const start = shape.item.kind === 'tuple' ? countRightPoints(value, shape.item) : 0;
  for (let i = start; i < value.length; i++) {
    walk.steps[depth] = i;
    checkValue(value[i], shape.item, depth + 1, walk);
    if (walk.faults.isFull) return;
  }
}

/**
 * How many points at the beginning of a list are right. Outlines are most of a file, and a first run is interpreted:
 * one loop without calls saves a third of the time a file takes.
 */
function countRightPoints(list: readonly unknown[], { items, each }: TupleShape): number {
  if (each === undefined || items.length !== 2) return 0;
  const { min, max } = each;
  for (let i = 0; i < list.length; i++) {
    const point = list[i];
    if (!Array.isArray(point) || point.length !== 2) return i;
    const x: unknown = point[0];
    const y: unknown = point[1];
    if (typeof x !== 'number' || typeof y !== 'number') return i;
    if (!(x >= min && x <= max && y >= min && y <= max)) return i;
  }
  return list.length;
}

function checkTuple(value: unknown, shape: TupleShape, depth: number, walk: Walk): void {
  if (isRight(value, shape)) return;
  if (!Array.isArray(value) || value.length !== shape.items.length) {
    addFault(value, shape, depth, walk);
    return;
  }
  shape.items.forEach((item, i) => {
    walk.steps[depth] = i;
    checkValue(value[i], item, depth + 1, walk);
  });
}

/** Of several shapes the one that is meant, told by the kind of value or, between objects, by the keys only one has. */
function checkChoice(value: unknown, options: readonly Shape[], depth: number, walk: Walk): void {
  const fitting = options.filter((option) => isOfKind(value, option));
  const [only] = fitting;
  if (only !== undefined && fitting.length === 1) {
    checkValue(value, only, depth, walk);
    return;
  }
  const path = formatPath(walk.steps.slice(0, depth));
  const objects = fitting.filter((option) => option.kind === 'object');
  if (objects.length < 2 || !isObject(value)) {
    walk.faults.add(path, `is ${describeValue(value)}`, `Give ${joinChoices(options.map(nameShape))}.`);
    return;
  }
  const ownKeys = objects.map((option) => listOwnKeys(option, objects));
  const [meant, other] = objects.filter((_, i) => ownKeys[i]?.some((key) => Object.hasOwn(value, key)));
  if (meant !== undefined && other === undefined) {
    checkObject(value, meant, depth, walk);
    return;
  }
  const written = ownKeys.flat().filter((key) => Object.hasOwn(value, key));
  const what =
    written.length === 0
      ? `has no ${joinChoices(ownKeys.flat())}`
      : `has ${written.join(' and ')}, which exclude each other`;
  walk.faults.add(path, what, `Give either ${ownKeys.map((keys) => keys.join(' and ')).join(', or ')}.`);
}

/** The keys an option requires and no other option has. */
function listOwnKeys(option: ObjectShape, all: readonly ObjectShape[]): readonly string[] {
  const isShared = (key: string): boolean => all.some((other) => other !== option && other.byKey.has(key));
  return option.members.filter(({ key, required }) => required && !isShared(key)).map(({ key }) => key);
}

function isOfKind(value: unknown, shape: Shape): boolean {
  if (shape.kind === 'object' || shape.kind === 'record') return isObject(value);
  return shape.kind === 'text' && typeof value === 'string';
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The fault of a value that is of the wrong kind, out of bounds, too short or too long. */
function addFault(value: unknown, shape: Shape, depth: number, walk: Walk): void {
  let what = `is ${describeValue(value)}`;
  if (shape.kind === 'text' && typeof value === 'string')
    what = value === '' ? 'is an empty text' : `is a text of ${value.length} characters`;
  let remedy = describeShape(shape);
  if (shape.kind === 'word' && typeof value === 'string' && shape.words.length > 1) {
    const nearest = findNearestWord(value, shape.words);
    if (nearest !== undefined) remedy += ` The nearest is ${quote(nearest)}.`;
  }
  walk.faults.add(formatPath(walk.steps.slice(0, depth)), what, remedy);
}
