/** The groups of one entity, gathered before anything is made of them. */
import type { GroupReader } from './groups.ts';

/** Codes and numbers in the order of the file; texts beside them. Used again for every entity. */
export class Fields {
  entity = '';
  layer = '0';
  handle = '';
  /** Where the entity begins. */
  where = '';
  /** Lies in paper space. */
  paper = false;
  invisible = false;
  /** A number among them is none. */
  broken = '';
  count = 0;
  readonly codes: number[] = [];
  readonly values: number[] = [];
  readonly texts: { readonly code: number; readonly bytes: Uint8Array }[] = [];

  begin(entity: string, where: string): void {
    this.entity = entity;
    this.layer = '0';
    this.handle = '';
    this.where = where;
    this.paper = false;
    this.invisible = false;
    this.broken = '';
    this.count = 0;
    this.texts.length = 0;
  }

  /** Takes the reader's group in. */
  take(reader: GroupReader): void {
    const { code } = reader;
    if (code >= 10 && code < 100) this.takeNumber(reader);
    else if (code === 8) this.layer = reader.name();
    else if (code === 5) this.handle = reader.name();
    else if (code >= 1 && code <= 7) this.texts.push({ code, bytes: reader.bytes() });
    else if (code >= 210 && code < 240) this.takeNumber(reader);
  }

  private takeNumber(reader: GroupReader): void {
    const { code } = reader;
    if (code === 67) this.paper = reader.number() === 1;
    else if (code === 60) this.invisible = reader.number() === 1;
    else if (code !== 62 && code !== 48) {
      const value = reader.number();
      if (!Number.isFinite(value) && this.broken === '') this.broken = reader.where();
      this.codes[this.count] = code;
      this.values[this.count++] = value;
    }
  }

  /** The first number of a code. */
  get(code: number, otherwise: number): number {
    for (let i = 0; i < this.count; i++) if (this.codes[i] === code) return this.values[i] as number;
    return otherwise;
  }

  /** All numbers of a code. */
  all(code: number): number[] {
    const found: number[] = [];
    for (let i = 0; i < this.count; i++) if (this.codes[i] === code) found.push(this.values[i] as number);
    return found;
  }

  text(code: number): Uint8Array | undefined {
    return this.texts.find((text) => text.code === code)?.bytes;
  }
}
