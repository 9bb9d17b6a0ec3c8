/**
 * A DXF file as a row of groups: a code (what it is) and a value. Two writers of the same row: text, two lines a group, and
 * binary, where the code says how many bytes the value has.
 *
 * The `dxf` package reads text only, keeps neither lines nor unknown groups, and needs the whole file as one string and again as
 * one list. So the groups are read here, straight from the bytes: with binary files, with the place of every fault, and in
 * memory that does not grow with the file.
 */
import { BINARY_START, type DxfForm, latin } from './sniff.ts';

/** Reads group after group. The values belong to the group read last. */
export interface GroupReader {
  readonly code: number;
  /** Goes on to the next group; false at the end, or where the file is no longer to be understood (see `fault`). */
  next(): boolean;
  /** The value's bytes as a name of its own, a character a byte; the same string for the same bytes. */
  name(): string;
  /** The value's bytes, blanks at its ends left away. */
  bytes(): Uint8Array;
  /** The value as a number; NaN where it is none. */
  number(): number;
  /** Where the group stands: "line 12" or "byte 345". */
  where(): string;
  /** Share of the file read, 0 to 1. */
  share(): number;
  /** Why reading ended before the end, where it did. */
  readonly fault: string | null;
}

export function openGroups(bytes: Uint8Array, form: DxfForm): GroupReader {
  return form === 'binary' ? new BinaryGroups(bytes) : new TextGroups(bytes);
}

const POWERS = Float64Array.from({ length: 23 }, (_, i) => 10 ** i);
const NO_BYTES = new Uint8Array(0);

/** Names that come again and again (entities, layers) are made once. */
class NameTable {
  private readonly slots: (string | undefined)[] = new Array(1024);

  get(bytes: Uint8Array, from: number, to: number): string {
    let hash = 2166136261;
    for (let i = from; i < to; i++) hash = Math.imul(hash ^ (bytes[i] as number), 16777619);
    const slot = (hash ^ (hash >>> 13)) & 1023;
    const known = this.slots[slot];
    if (known !== undefined && known.length === to - from) {
      let same = true;
      for (let i = from; i < to && same; i++) same = known.charCodeAt(i - from) === bytes[i];
      if (same) return known;
    }
    const text = latin(bytes, from, to);
    this.slots[slot] = text;
    return text;
  }
}

class TextGroups implements GroupReader {
  code = 0;
  fault: string | null = null;
  private at = 0;
  private line = 0;
  private start = 0;
  private end = 0;
  private readonly names = new NameTable();
  private readonly source: Uint8Array;

  constructor(source: Uint8Array) {
    this.source = source;
    if (source[0] === 0xef && source[1] === 0xbb && source[2] === 0xbf) this.at = 3;
  }

  next(): boolean {
    do {
      if (!this.step()) return false;
      // 999 is a remark of the writer.
    } while (this.code === 999);
    return true;
  }

  private step(): boolean {
    const { source } = this;
    const length = source.length;
    let i = this.at;
    while (i < length && (source[i] === 32 || source[i] === 9)) i++;
    if (i >= length) return false;
    let code = 0;
    let digits = 0;
    const minus = source[i] === 45;
    if (minus) i++;
    for (; i < length; i++) {
      const digit = (source[i] as number) - 48;
      if (digit < 0 || digit > 9) break;
      code = code * 10 + digit;
      digits++;
    }
    while (i < length && (source[i] === 32 || source[i] === 9)) i++;
    const breaks = i >= length || source[i] === 10 || source[i] === 13;
    if (digits === 0 && breaks && this.isOnlySpace(i)) return false;
    if (digits === 0 || digits > 5 || !breaks) {
      const found = latin(source, this.at, Math.min(this.endOfLine(this.at), this.at + 40)).trim();
      this.fault = `line ${this.line + 1} reads ${JSON.stringify(found)} where a group code (a whole number) belongs`;
      return false;
    }
    i = this.afterBreak(i);
    this.line += 2;
    const start = i;
    if (i >= length) {
      this.fault = `the file ends after the group code of line ${this.line - 1}`;
      return false;
    }
    i = this.endOfLine(i);
    this.start = start;
    this.end = i;
    this.at = this.afterBreak(i);
    this.code = minus ? -code : code;
    return true;
  }

  private endOfLine(from: number): number {
    const { source } = this;
    let i = from;
    while (i < source.length && source[i] !== 10 && source[i] !== 13) i++;
    return i;
  }

  private afterBreak(from: number): number {
    const { source } = this;
    if (source[from] === 13 && source[from + 1] === 10) return from + 2;
    return from + 1;
  }

  private isOnlySpace(from: number): boolean {
    for (let i = from; i < this.source.length; i++) {
      const byte = this.source[i] as number;
      if (byte > 32 && byte !== 26) return false;
    }
    return true;
  }

  private trim(): void {
    const { source } = this;
    while (this.start < this.end && (source[this.start] as number) <= 32) this.start++;
    while (this.end > this.start && (source[this.end - 1] as number) <= 32) this.end--;
  }

  name(): string {
    this.trim();
    return this.names.get(this.source, this.start, this.end);
  }

  bytes(): Uint8Array {
    this.trim();
    return this.source.subarray(this.start, this.end);
  }

  number(): number {
    this.trim();
    const { source, end } = this;
    let i = this.start;
    if (i >= end) return Number.NaN;
    const minus = source[i] === 45;
    if (minus || source[i] === 43) i++;
    let mantissa = 0;
    let digits = 0;
    let scale = 0;
    let pointed = false;
    for (; i < end; i++) {
      const byte = source[i] as number;
      if (byte >= 48 && byte <= 57) {
        // Digits beyond the seventeenth say nothing more to a double.
        if (digits < 17) {
          mantissa = mantissa * 10 + (byte - 48);
          if (mantissa > 0) digits++;
          if (pointed) scale--;
        } else if (!pointed) scale++;
      } else if (byte === 46 && !pointed) pointed = true;
      else break;
    }
    if (i < end || digits > 15 || scale < -22 || scale > 22) return toNumber(latin(source, this.start, end));
    const value = scale < 0 ? mantissa / (POWERS[-scale] as number) : mantissa * (POWERS[scale] as number);
    return minus ? -value : value;
  }

  where(): string {
    return `line ${this.line}`;
  }

  share(): number {
    return this.at / Math.max(1, this.source.length);
  }
}

/** What `Number` makes of a text, except that an empty or a hexadecimal text is no number, and neither is Infinity. */
function toNumber(text: string): number {
  return /^[+-]?(\d+\.?\d*|\.\d+)([eEdD][+-]?\d+)?$/.test(text) ? Number(text.replace(/[dD]/, 'e')) : Number.NaN;
}

type Form = 'text' | 'double' | 'int16' | 'int32' | 'int64' | 'flag' | 'chunk';

/** How the value of a group is written in a binary file, from the format's public table of group codes. */
function formOf(code: number): Form {
  if (code < 10) return 'text';
  if (code < 60) return 'double';
  if (code < 80) return 'int16';
  if (code < 90) return 'text';
  if (code < 100) return 'int32';
  if (code < 110) return 'text';
  if (code < 150) return 'double';
  if (code >= 160 && code < 170) return 'int64';
  if (code >= 170 && code < 180) return 'int16';
  if (code >= 210 && code < 240) return 'double';
  if (code >= 270 && code < 290) return 'int16';
  if (code >= 290 && code < 300) return 'flag';
  if (code >= 310 && code < 320) return 'chunk';
  if (code >= 370 && code < 390) return 'int16';
  if (code >= 400 && code < 410) return 'int16';
  if (code >= 420 && code < 430) return 'int32';
  if (code >= 440 && code < 460) return 'int32';
  if (code >= 460 && code < 470) return 'double';
  if (code === 1004) return 'chunk';
  if (code >= 1010 && code < 1060) return 'double';
  if (code >= 1060 && code < 1071) return 'int16';
  if (code === 1071) return 'int32';
  return 'text';
}

const SIZES: Readonly<Record<Exclude<Form, 'text' | 'chunk'>, number>> = {
  double: 8,
  int16: 2,
  int32: 4,
  int64: 8,
  flag: 1,
};

class BinaryGroups implements GroupReader {
  code = 0;
  fault: string | null = null;
  private at = BINARY_START;
  private groupAt = BINARY_START;
  private start = 0;
  private end = 0;
  private value = Number.NaN;
  private readonly wide: boolean;
  private readonly view: DataView;
  private readonly names = new NameTable();
  private readonly source: Uint8Array;

  constructor(source: Uint8Array) {
    this.source = source;
    this.view = new DataView(source.buffer, source.byteOffset, source.byteLength);
    // The first group is 0 SECTION: up to R12 its code has one byte, later two.
    this.wide = source[BINARY_START + 1] === 0;
  }

  next(): boolean {
    do {
      if (!this.step()) return false;
    } while (this.code === 999);
    return true;
  }

  private step(): boolean {
    const { source, view } = this;
    const length = source.length;
    this.groupAt = this.at;
    const codeSize = this.wide ? 2 : source[this.at] === 255 ? 3 : 1;
    if (this.at + codeSize >= length) {
      if (this.at < length) this.fault = `the file ends within the group at byte ${this.at}`;
      return false;
    }
    this.code = this.wide
      ? view.getInt16(this.at, true)
      : codeSize === 3
        ? view.getInt16(this.at + 1, true)
        : (source[this.at] as number);
    if (this.code < -5 || this.code > 1071) {
      this.fault = `byte ${this.at} holds ${this.code} where a group code belongs`;
      return false;
    }
    this.start = this.at + codeSize;
    const form = formOf(this.code);
    if (form === 'text') {
      this.end = source.indexOf(0, this.start);
      this.at = this.end + 1;
      if (this.end < 0) this.at = length + 1;
    } else if (form === 'chunk') {
      this.start++;
      this.end = this.start + (source[this.start - 1] as number);
      this.at = this.end;
    } else {
      this.end = this.start + SIZES[form];
      this.at = this.end;
    }
    if (this.at > length) {
      this.fault = `the file ends within the group at byte ${this.groupAt}`;
      return false;
    }
    if (form !== 'text' && form !== 'chunk') this.value = this.readNumber(form);
    return true;
  }

  private readNumber(form: Exclude<Form, 'text' | 'chunk'>): number {
    const { view, start } = this;
    switch (form) {
      case 'double':
        return view.getFloat64(start, true);
      case 'int16':
        return view.getInt16(start, true);
      case 'int32':
        return view.getInt32(start, true);
      case 'int64':
        return Number(view.getBigInt64(start, true));
      case 'flag':
        return view.getUint8(start);
    }
  }

  name(): string {
    return formOf(this.code) === 'text' ? this.names.get(this.source, this.start, this.end) : '';
  }

  bytes(): Uint8Array {
    return formOf(this.code) === 'text' ? this.source.subarray(this.start, this.end) : NO_BYTES;
  }

  number(): number {
    return formOf(this.code) === 'text' ? toNumber(this.name().trim()) : this.value;
  }

  where(): string {
    return `byte ${this.groupAt}`;
  }

  share(): number {
    return this.at / Math.max(1, this.source.length);
  }
}
