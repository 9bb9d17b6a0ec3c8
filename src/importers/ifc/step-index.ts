/**
 * Where every statement of a STEP file (ISO 10303-21) lies: one pass over the bytes, nothing parsed yet. A model has many times
 * more statements than a floor needs, so they are parsed when asked for (`step-file.ts`).
 */

export interface StepIndex {
  /** Ids in the order of the file. */
  readonly ids: Float64Array;
  /** Per statement, where its arguments begin: the byte of the opening bracket. */
  readonly starts: Uint32Array;
  /** Per statement, its type as a position in `types`. */
  readonly typeOf: Uint16Array;
  /** Names of types, in capitals. */
  readonly types: readonly string[];
  /** Where the first section of data begins, in bytes. */
  readonly dataStart: number;
  /** Where the last whole statement ends, in bytes. */
  readonly end: number;
  /** The end mark was reached. */
  readonly isWhole: boolean;
  /** What stands between statements and is none: how many, and where the first lies (bytes). */
  readonly strays: { readonly count: number; readonly at: number };
  /** From where to where strays reach in bytes, two numbers each. */
  readonly strayRanges: readonly number[];
  /** Statements of several types at once, which are not read. */
  readonly complexCount: number;
}

const QUOTE = 0x27;
const SEMICOLON = 0x3b;
const SLASH = 0x2f;
const STAR = 0x2a;
const HASH = 0x23;
const EQUALS = 0x3d;
const BRACKET = 0x28;
const LINE_FEED = 0x0a;

const MAX_TYPES = 65_535;
const MAX_RANGES = 200_000;

/** Finds every statement. Never throws: what cannot be read is counted. */
export function indexStep(bytes: Uint8Array): StepIndex {
  const { length } = bytes;
  let capacity = Math.max(64, length >> 6);
  let ids = new Float64Array(capacity);
  let starts = new Uint32Array(capacity);
  let typeOf = new Uint16Array(capacity);
  let count = 0;
  const types: string[] = [];
  const typesByHash = new Map<number, number>();
  let strayCount = 0;
  let strayAt = -1;
  let complexCount = 0;
  let dataStart = -1;
  let end = 0;
  let isWhole = false;

  const grow = (): void => {
    capacity *= 2;
    const more = new Float64Array(capacity);
    more.set(ids);
    ids = more;
    const moreStarts = new Uint32Array(capacity);
    moreStarts.set(starts);
    starts = moreStarts;
    const moreTypes = new Uint16Array(capacity);
    moreTypes.set(typeOf);
    typeOf = moreTypes;
  };
  const strayRanges: number[] = [];
  const stray = (from: number, to: number): void => {
    strayCount++;
    if (strayAt < 0) strayAt = from;
    if (strayRanges.length < MAX_RANGES) strayRanges.push(from, to);
  };

  const line: LineEnd = { at: -1 };
  let at = 0;
  while (at < length) {
    at = skipBlank(bytes, at);
    if (at >= length) break;
    const begin = at;
    if (bytes[at] !== HASH) {
      const close = findStatementEnd(bytes, at, line);
      const word = readWord(bytes, at);
      if (word === 'DATA') {
        const isStart = dataStart < 0;
        if (isStart) dataStart = begin;
      } else if (word === 'END') {
        isWhole = true;
        end = close < 0 ? length : close + 1;
        break;
      } else if (dataStart >= 0 && word !== 'ENDSEC') stray(begin, close < 0 ? -close - 2 : close + 1);
      if (close === -1) break;
      at = close < 0 ? -close - 2 : close + 1;
      end = at;
      continue;
    }
    at++;
    let id = 0;
    let digits = 0;
    for (let c = bytes[at] as number; c >= 0x30 && c <= 0x39; c = bytes[++at] as number) {
      id = id * 10 + (c - 0x30);
      digits++;
    }
    at = skipBlank(bytes, at);
    const hasEquals = bytes[at] === EQUALS;
    if (hasEquals) at = skipBlank(bytes, at + 1);
    let hash = 5381;
    const typeStart = at;
    for (let c = bytes[at] as number; isNameByte(c); c = bytes[++at] as number)
      hash = (Math.imul(hash, 33) ^ (c & 0xdf)) | 0;
    const typeEnd = at;
    at = skipBlank(bytes, at);
    const open = at;
    const hasBracket = bytes[open] === BRACKET;
    const close = findStatementEnd(bytes, open, line);
    if (close === -1) break;
    at = close < 0 ? -close - 2 : close + 1;
    end = at;
    if (close < 0 || !hasEquals || !hasBracket || digits === 0 || digits > 15) {
      stray(begin, at);
      continue;
    }
    if (typeEnd === typeStart) {
      complexCount++;
      continue;
    }
    const key = (hash >>> 0) * 256 + Math.min(255, typeEnd - typeStart);
    let type = typesByHash.get(key);
    if (type === undefined) {
      if (types.length >= MAX_TYPES) {
        stray(begin, at);
        continue;
      }
      type = types.length;
      types.push(readAscii(bytes, typeStart, typeEnd).toUpperCase());
      typesByHash.set(key, type);
    }
    if (count === capacity) grow();
    ids[count] = id;
    starts[count] = open;
    typeOf[count] = type;
    count++;
  }
  return {
    ids: ids.subarray(0, count),
    starts: starts.subarray(0, count),
    typeOf: typeOf.subarray(0, count),
    types,
    dataStart,
    end,
    isWhole,
    strays: { count: strayCount, at: strayAt },
    strayRanges,
    complexCount,
  };
}

function isNameByte(c: number): boolean {
  return (c >= 0x41 && c <= 0x5a) || (c >= 0x30 && c <= 0x39) || c === 0x5f || (c >= 0x61 && c <= 0x7a);
}

/** The next byte that is neither blank nor in a comment. Everything up to the space counts as blank, zero bytes too. */
export function skipBlank(bytes: Uint8Array, from: number): number {
  let at = from;
  for (;;) {
    while (at < bytes.length && (bytes[at] as number) <= 0x20) at++;
    if (bytes[at] !== SLASH || bytes[at + 1] !== STAR) return at;
    at = findCommentEnd(bytes, at + 2);
  }
}

function findCommentEnd(bytes: Uint8Array, from: number): number {
  for (let at = bytes.indexOf(STAR, from); at >= 0; at = bytes.indexOf(STAR, at + 1)) {
    if (bytes[at + 1] === SLASH) return at + 2;
  }
  return bytes.length;
}

/** The next end of a line, looked for once. */
interface LineEnd {
  at: number;
}

/**
 * The semicolon that ends a statement, or −1 at the end of the file. Semicolons in strings and comments do not count. Where
 * a quote or a semicolon was lost, the next line that begins a statement ends it: −2 less the byte it begins at.
 */
function findStatementEnd(bytes: Uint8Array, from: number, line: LineEnd): number {
  const { length } = bytes;
  let at = from;
  while (at < length) {
    const c = bytes[at] as number;
    if (c === SEMICOLON) return at;
    if (c === LINE_FEED && bytes[at + 1] === HASH && beginsStatement(bytes, at + 1)) return -3 - at;
    if (c === QUOTE) {
      const close = bytes.indexOf(QUOTE, at + 1);
      const last = close < 0 ? length : close;
      if (line.at < at) line.at = findLineEnd(bytes, at);
      for (let end = line.at; end < last; end = findLineEnd(bytes, end + 1)) {
        if (bytes[end + 1] === HASH && beginsStatement(bytes, end + 1)) return -3 - end;
      }
      if (close < 0) return -1;
      at = close + 1;
    } else if (c === SLASH && bytes[at + 1] === STAR) at = findCommentEnd(bytes, at + 2);
    else at++;
  }
  return -1;
}

function findLineEnd(bytes: Uint8Array, from: number): number {
  const at = bytes.indexOf(LINE_FEED, from);
  return at < 0 ? bytes.length : at;
}

/** Whether `#12=` or `#12 =` stands here. */
function beginsStatement(bytes: Uint8Array, from: number): boolean {
  let at = from + 1;
  while ((bytes[at] as number) >= 0x30 && (bytes[at] as number) <= 0x39) at++;
  if (at === from + 1) return false;
  while (bytes[at] === 0x20) at++;
  return bytes[at] === EQUALS;
}

function readWord(bytes: Uint8Array, from: number): string {
  let to = from;
  while (to < from + 40 && isNameByte(bytes[to] as number)) to++;
  return readAscii(bytes, from, to).toUpperCase();
}

export function readAscii(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  for (let at = from; at < to; at++) text += String.fromCharCode(bytes[at] as number);
  return text;
}
