/** A STEP file whose statements are parsed when asked for. Ids are those of the file (`#12` is 12). */
import { indexStep, readAscii, type StepIndex, skipBlank } from './step-index.ts';
import { decodeStepText, findEncoding, type TextEncoding } from './step-text.ts';

/** A reference to another statement. */
export interface Ref {
  readonly ref: number;
}

/** A value that names its type, as `IFCLABEL('x')`. */
export interface Typed {
  readonly type: string;
  readonly value: Value;
}

/** What stands between two commas. Left out (`$`) and derived (`*`) are null; `.T.` and other words keep their dots. */
export type Value = null | number | string | Ref | Typed | readonly Value[];

export interface StepFile {
  readonly index: StepIndex;
  readonly encoding: TextEncoding;
  /** The type of a statement in capitals, or '' when there is none of this id. */
  typeOf(id: number): string;
  /** The arguments of a statement; empty when there is none of this id. */
  read(id: number): readonly Value[];
  /** Ids of all statements of a type, in the order of the file. */
  listOf(type: string): readonly number[];
}

/** Brackets deeper than this are rubbish. */
const MAX_DEPTH = 64;

export function openStep(bytes: Uint8Array): StepFile {
  const index = indexStep(bytes);
  const encoding = findEncoding(bytes);
  const positions = createPositions(index.ids);
  // Ids by type, one type after the other.
  const typeStarts = new Uint32Array(index.types.length + 1);
  for (const type of index.typeOf) typeStarts[type + 1] = (typeStarts[type + 1] as number) + 1;
  for (let type = 1; type < typeStarts.length; type++)
    typeStarts[type] = (typeStarts[type] as number) + (typeStarts[type - 1] as number);
  const sorted = new Uint32Array(index.ids.length);
  const next = typeStarts.slice();
  index.typeOf.forEach((type, at) => {
    sorted[next[type] as number] = at;
    next[type] = (next[type] as number) + 1;
  });
  const typeNumbers = new Map(index.types.map((type, number) => [type, number]));
  const byType = new Map<string, readonly number[]>();

  const listOf = (type: string): readonly number[] => {
    const known = byType.get(type);
    if (known !== undefined) return known;
    const found: number[] = [];
    const number = typeNumbers.get(type);
    if (number !== undefined) {
      for (let i = typeStarts[number] as number; i < (typeStarts[number + 1] as number); i++) {
        const at = sorted[i] as number;
        const id = index.ids[at] as number;
        // Of two statements with one id the first counts, as everywhere here.
        if (positions(id) === at) found.push(id);
      }
    }
    byType.set(type, found);
    return found;
  };

  return {
    index,
    encoding,
    typeOf(id) {
      const at = positions(id);
      return at < 0 ? '' : (index.types[index.typeOf[at] as number] as string);
    },
    read(id) {
      const at = positions(id);
      return at < 0 ? [] : parseArguments(bytes, index.starts[at] as number, encoding.label);
    },
    listOf,
  };
}

/** Position of an id, or −1: a table when ids lie close, else a search in the sorted ids. */
function createPositions(ids: Float64Array): (id: number) => number {
  let highest = 0;
  for (const id of ids) if (id > highest) highest = id;
  if (highest <= ids.length * 8 + 100_000) {
    const table = new Int32Array(highest + 1).fill(-1);
    for (let at = ids.length - 1; at >= 0; at--) table[ids[at] as number] = at;
    return (id) => table[id] ?? -1;
  }
  const order = Uint32Array.from(ids, (_, at) => at).sort((a, b) => (ids[a] as number) - (ids[b] as number) || a - b);
  return (id) => {
    let low = 0;
    let high = order.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((ids[order[middle] as number] as number) < id) low = middle + 1;
      else high = middle;
    }
    const at = order[low];
    return at !== undefined && ids[at] === id ? at : -1;
  };
}

const COMMA = 0x2c;
const OPEN = 0x28;
const CLOSE = 0x29;
const QUOTE = 0x27;

/** Parses from the opening bracket to its closing one; what is broken ends the list there. */
function parseArguments(bytes: Uint8Array, start: number, label: string): Value[] {
  let at = start + 1;

  const readList = (depth: number): Value[] => {
    const list: Value[] = [];
    for (;;) {
      at = skipBlank(bytes, at);
      const c = bytes[at];
      if (c === undefined || c === 0x3b) return list;
      if (c === CLOSE) {
        at++;
        return list;
      }
      if (c === COMMA) {
        at++;
        continue;
      }
      const before = at;
      list.push(readValue(c, depth));
      if (at === before) at++;
    }
  };

  const readValue = (c: number, depth: number): Value => {
    if (c === 0x24 || c === 0x2a) {
      at++;
      return null;
    }
    if (c === 0x23) {
      let id = 0;
      for (let d = bytes[++at] as number; d >= 0x30 && d <= 0x39; d = bytes[++at] as number) id = id * 10 + (d - 0x30);
      return { ref: id };
    }
    if (c === QUOTE) return readString();
    if (c === OPEN) {
      at++;
      if (depth >= MAX_DEPTH) return null;
      return readList(depth + 1);
    }
    if (c === 0x2e) return readEnum();
    if ((c >= 0x30 && c <= 0x39) || c === 0x2d || c === 0x2b) return readNumber();
    if ((c >= 0x41 && c <= 0x5a) || (c >= 0x61 && c <= 0x7a)) {
      const from = at;
      while (isWordByte(bytes[at] as number)) at++;
      const type = readAscii(bytes, from, at).toUpperCase();
      at = skipBlank(bytes, at);
      if (bytes[at] !== OPEN) return type;
      at++;
      const inner = depth >= MAX_DEPTH ? [] : readList(depth + 1);
      return { type, value: inner.length === 1 ? (inner[0] as Value) : inner };
    }
    // Binary literals and rubbish: nothing here needs them.
    at++;
    if (c === 0x22) {
      const close = bytes.indexOf(0x22, at);
      at = close < 0 ? bytes.length : close + 1;
    }
    return null;
  };

  const readString = (): string => {
    const from = ++at;
    for (;;) {
      const close = bytes.indexOf(QUOTE, at);
      if (close < 0) {
        at = bytes.length;
        return decodeStepText(bytes, from, at, label);
      }
      at = close + 1;
      if (bytes[at] !== QUOTE) return decodeStepText(bytes, from, close, label);
      at++;
    }
  };

  const readEnum = (): string => {
    const from = at++;
    while (isWordByte(bytes[at] as number)) at++;
    if (bytes[at] === 0x2e) at++;
    return readAscii(bytes, from, at).toUpperCase();
  };

  const readNumber = (): number => {
    const from = at;
    let isWhole = true;
    for (let d = bytes[++at] as number; ; d = bytes[++at] as number) {
      if (d >= 0x30 && d <= 0x39) continue;
      if (d === 0x2e || d === 0x45 || d === 0x65 || d === 0x2d || d === 0x2b) isWhole = false;
      else break;
    }
    if (isWhole && at - from < 10) {
      let value = 0;
      let i = from;
      const sign = bytes[from];
      if (sign === 0x2d || sign === 0x2b) i++;
      for (; i < at; i++) value = value * 10 + ((bytes[i] as number) - 0x30);
      return sign === 0x2d ? -value : value;
    }
    return Number(readAscii(bytes, from, at));
  };

  return readList(0);
}

function isWordByte(c: number): boolean {
  return (c >= 0x41 && c <= 0x5a) || (c >= 0x30 && c <= 0x39) || c === 0x5f || (c >= 0x61 && c <= 0x7a);
}

/** A statement's reference, or 0. */
export function refOf(value: Value | undefined): number {
  return value !== null && typeof value === 'object' && 'ref' in value ? value.ref : 0;
}

/** All references of a list, or of a single one. */
export function refsOf(value: Value | undefined): readonly number[] {
  if (Array.isArray(value)) return value.map(refOf).filter((id) => id > 0);
  const one = refOf(value);
  return one > 0 ? [one] : [];
}

/** A number, also inside a typed value; undefined when it is none or not finite. */
export function numberOf(value: Value | undefined): number | undefined {
  const plain = plainOf(value);
  return typeof plain === 'number' && Number.isFinite(plain) ? plain : undefined;
}

/** A text, also inside a typed value; '' when there is none. */
export function textOf(value: Value | undefined): string {
  const plain = plainOf(value);
  return typeof plain === 'string' ? plain : '';
}

/** The items of a list; empty for anything else. */
export function listOfValues(value: Value | undefined): readonly Value[] {
  return Array.isArray(value) ? value : [];
}

function plainOf(value: Value | undefined): Value | undefined {
  return value !== null && typeof value === 'object' && 'type' in value ? value.value : value;
}
