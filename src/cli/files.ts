/** Reading and writing for the command line: bounded, in UTF-8, all or nothing. */
import {
  closeSync,
  fstatSync,
  openSync,
  readSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { type Floor, type FloorFile, formatFault, LIMITS, parseFloor, validateFloor } from '../core/floor/index.ts';
import { escapeText } from './text.ts';
import { describeSystemError, Unusable } from './unusable.ts';

/** No character takes more than four bytes in UTF-8. */
const MOST_BYTES = LIMITS.fileCharacters * 4;
const MOST_FAULTS = 50;

/** A floor as its file states it, and with every default filled in. */
export interface ReadFloor {
  readonly file: FloorFile;
  readonly floor: Floor;
}

/**
 * Reads a floor file, with another cell size when one is given.
 * @throws {Unusable} one line per fault, each naming the file.
 */
export function readFloor(path: string, cell: number | undefined): ReadFloor {
  let parsed = parseFloor(readText(path));
  if (parsed.ok && cell !== undefined) {
    parsed = validateFloor({ ...parsed.file, analysis: { ...parsed.file.analysis, cell } });
  }
  if (parsed.ok) return parsed;
  const shown = escapeText(path);
  const lines = parsed.faults.slice(0, MOST_FAULTS).map((fault) => `${shown}: ${escapeText(formatFault(fault))}`);
  const left = parsed.faults.length - lines.length;
  throw new Unusable(...lines, ...(left > 0 ? [`${shown}: and ${left} more faults.`] : []));
}

/**
 * Reads a text file, or standard input for `-`.
 * @throws {Unusable} when there is no such file, it is too large, or it is not UTF-8.
 */
export function readText(path: string): string {
  const shown = path === '-' ? 'Standard input' : escapeText(path);
  const bytes = readBytes(path, MOST_BYTES);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Unusable(`${shown}: is not UTF-8 text. Save it as UTF-8.`);
  }
}

/**
 * Reads the bytes of a file, or of standard input for `-`.
 * @throws {Unusable} when there is no such file, or it has more than `most` bytes.
 */
export function readBytes(path: string, most: number): Uint8Array {
  const shown = path === '-' ? 'Standard input' : escapeText(path);
  const tooLarge = () => new Unusable(`${shown}: is larger than ${most / 1e6} MB, the most that is read. Split it.`);
  let descriptor: number | undefined;
  try {
    descriptor = path === '-' ? 0 : openSync(path, 'r');
    const stat = fstatSync(descriptor);
    if (stat.isDirectory()) throw new Unusable(`${shown}: is a folder. Name a file in it.`);
    if (path !== '-' && !stat.isFile() && !stat.isFIFO()) throw new Unusable(`${shown}: is no file.`);
    // The size is asked before anything is read; a pipe has none, so what arrives is counted as well.
    if (stat.size > most) throw tooLarge();
    const chunks: Uint8Array[] = [];
    let size = 0;
    for (;;) {
      const chunk = new Uint8Array(Math.max(65_536, stat.size - size + 1));
      const count = readChunk(descriptor, chunk);
      if (count === 0) break;
      size += count;
      if (size > most) throw tooLarge();
      chunks.push(chunk.subarray(0, count));
    }
    return chunks.length === 1 && chunks[0] !== undefined ? chunks[0] : Buffer.concat(chunks);
  } catch (error) {
    if (error instanceof Unusable) throw error;
    throw new Unusable(`${shown}: ${describeSystemError(error)}.`);
  } finally {
    if (descriptor !== undefined && descriptor !== 0) closeSync(descriptor);
  }
}

/** Bytes read, 0 at the end. A pipe that nobody has written to yet says EAGAIN: it is asked again a little later. */
function readChunk(descriptor: number, chunk: Uint8Array): number {
  for (;;) {
    try {
      return readSync(descriptor, chunk);
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? error.code : '';
      if (code === 'EOF') return 0;
      if (code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10);
    }
  }
}

/**
 * Writes a file whole or not at all: under another name beside it, then renamed. A link keeps pointing where it points.
 * @throws {Unusable} when it cannot be written.
 */
export function writeWhole(path: string, content: string | Uint8Array): void {
  const shown = escapeText(path);
  let draft: string | undefined;
  try {
    const target = findTarget(path, shown);
    draft = join(dirname(target), `.${basename(target)}.${process.pid}.part`);
    writeFileSync(draft, content, { flag: 'wx' });
    renameSync(draft, target);
  } catch (error) {
    if (draft !== undefined) rmSync(draft, { force: true });
    if (error instanceof Unusable) throw error;
    const code = error instanceof Error && 'code' in error ? error.code : '';
    const folder = escapeText(dirname(path));
    if (code === 'ENOENT' || code === 'ENOTDIR')
      throw new Unusable(`${shown}: cannot be written: ${folder} is no folder. Make it first.`);
    if (code === 'EACCES' || code === 'EPERM')
      throw new Unusable(`${shown}: cannot be written: no permission to write in ${folder}.`);
    throw new Unusable(`${shown}: cannot be written: it ${describeSystemError(error)}.`);
  }
}

/** The file that is to be replaced: where a link leads, or the path itself when nothing is there yet. */
function findTarget(path: string, shown: string): string {
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) return path;
  if (stat.isDirectory()) throw new Unusable(`${shown}: is a folder. Name a file in it.`);
  if (!stat.isFile()) throw new Unusable(`${shown}: is no file, so it cannot be replaced.`);
  return realpathSync(path);
}
