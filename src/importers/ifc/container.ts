/** What a file is by its first bytes, and the model in a zipped one. */
import { Unzip, UnzipInflate, unzipSync } from 'fflate';
import type { Refusal } from '../storey.ts';

/** A model larger than this (bytes) is not read: the engine's memory ends before. */
const MAX_MODEL = 700_000_000;
/** A zip may swell by this factor and no more. */
const MAX_RATIO = 200;
/** A small zip may swell to this many bytes whatever the factor. */
const FREE_SIZE = 20_000_000;
const MAX_ENTRIES = 10_000;
/** The words a STEP file starts with lie within so many bytes. */
const HEAD = 4_096;

export interface Contained {
  readonly ok: true;
  readonly bytes: Uint8Array;
  /** The name of the model in a zipped file. */
  readonly entry: string | undefined;
}

const refuse = (reason: string, remedy: string): Refusal => ({ ok: false, reason, remedy });

/** The bytes of the model itself, or why there are none. */
export function openContainer(bytes: Uint8Array): Contained | Refusal {
  if (bytes.length === 0) return refuse('The file is empty.', 'Export the model again.');
  if (startsWith(bytes, 'PK')) {
    const inner = unzipModel(bytes);
    return inner.ok ? checkStep(inner.bytes, inner.entry) : inner;
  }
  return checkStep(bytes, undefined);
}

function checkStep(bytes: Uint8Array, entry: string | undefined): Contained | Refusal {
  const where = entry === undefined ? 'The file' : `"${entry}" in the zipped file`;
  if (bytes.length > MAX_MODEL)
    return refuse(
      `${where} is ${megabytes(bytes.length)} large; models up to ${megabytes(MAX_MODEL)} are read.`,
      'Export one storey or the architecture alone.',
    );
  const head = latin(bytes, HEAD);
  if (head.includes('ISO-10303-21')) return { ok: true, bytes, entry };
  return refuse(
    `${where} is no IFC file in STEP form: ${describeHead(bytes, head)}.`,
    'Export the model as .ifc (STEP, begins with "ISO-10303-21") or .ifczip.',
  );
}

function describeHead(bytes: Uint8Array, head: string): string {
  const text = head.replaceAll('\0', '').trimStart();
  if (bytes.every((byte) => byte === 0)) return 'it holds nothing but zero bytes';
  if (head.replaceAll('\0', '').includes('ISO-10303-21')) return 'it is written in UTF-16';
  if (startsWith(bytes, 'PK')) return 'it is a zip within a zip';
  if (startsWith(bytes, '%PDF')) return 'it is a PDF';
  if (/^AC10\d\d/u.test(text)) return 'it is a DWG drawing';
  if (/^0\s+SECTION/u.test(text)) return 'it is a DXF drawing';
  if (text.startsWith('<'))
    return /ifcXML|<ifc/iu.test(text) ? 'it is IFC in XML form, which is not read' : 'it is XML or HTML';
  if (text.startsWith('{') || text.startsWith('[')) return 'it is JSON';
  return 'it does not begin with "ISO-10303-21"';
}

interface ZipEntry {
  readonly name: string;
  readonly size: number;
  readonly original: number;
}

function unzipModel(bytes: Uint8Array): { ok: true; bytes: Uint8Array; entry: string } | Refusal {
  const entries: ZipEntry[] = [];
  const limit = Math.min(MAX_MODEL, Math.max(FREE_SIZE, bytes.length * MAX_RATIO));
  try {
    // The list of contents alone: nothing is unpacked.
    unzipSync(bytes, {
      filter: ({ name, size, originalSize }) => {
        if (entries.length < MAX_ENTRIES) entries.push({ name, size, original: originalSize });
        return false;
      },
    });
  } catch {
    return refuse('The zipped file is damaged: its list of contents cannot be read.', 'Fetch or export it again.');
  }
  const models = entries.filter(({ name }) => /\.ifc$/iu.test(name) && !/(^|\/)(__MACOSX\/|\.)/u.test(name));
  const [model] = models;
  if (model === undefined) {
    const named = entries.slice(0, 5).map(({ name }) => `"${name}"`);
    return refuse(
      `The zipped file holds no .ifc${named.length > 0 ? `, only ${named.join(', ')}${entries.length > 5 ? ' and more' : ''}` : ': it is empty'}.`,
      'Zip the .ifc file itself.',
    );
  }
  if (models.length > 1) {
    const named = models.slice(0, 5).map(({ name }) => `"${name}"`);
    return refuse(
      `The zipped file holds ${models.length} models: ${named.join(', ')}${models.length > 5 ? ' and more' : ''}.`,
      'Unzip it and open one of them.',
    );
  }
  if (model.original > limit) {
    return refuse(
      `"${model.name}" in the zipped file says it unpacks to ${megabytes(model.original)}, more than ${megabytes(limit)} from ${megabytes(bytes.length)}.`,
      'Unzip it yourself if you trust it.',
    );
  }
  try {
    const unpacked = unpack(bytes, model);
    if (unpacked === undefined) {
      return refuse(
        `"${model.name}" in the zipped file unpacks to another size than the ${megabytes(model.original)} it declares.`,
        'The zipped file is damaged or made to mislead: export it again.',
      );
    }
    return { ok: true, bytes: unpacked, entry: model.name };
  } catch {
    return refuse(
      `"${model.name}" in the zipped file cannot be unpacked: it is damaged or locked by a password.`,
      'Unzip it and open the .ifc.',
    );
  }
}

/** Packed bytes handed over at once: what they swell to is counted in between. */
const PUSH = 16_384;

/** Unpacks piece by piece, so that more than is declared never comes into memory; undefined when it is more or less. */
function unpack(bytes: Uint8Array, { name, original }: ZipEntry): Uint8Array | undefined {
  const whole = new Uint8Array(original);
  let length = 0;
  let isMore = false;
  let found = false;
  const unzip = new Unzip((file) => {
    if (file.name !== name || found) return;
    found = true;
    file.ondata = (error, part) => {
      if (error) throw error;
      if (length + part.length > original) {
        isMore = true;
        file.terminate();
        return;
      }
      whole.set(part, length);
      length += part.length;
    };
    file.start();
  });
  unzip.register(UnzipInflate);
  for (let from = 0; from < bytes.length && !isMore; from += PUSH) {
    unzip.push(bytes.subarray(from, from + PUSH), from + PUSH >= bytes.length);
  }
  return isMore || length !== original ? undefined : whole;
}

function startsWith(bytes: Uint8Array, word: string): boolean {
  return latin(bytes, word.length) === word;
}

function latin(bytes: Uint8Array, count: number): string {
  return String.fromCharCode(...bytes.subarray(0, count));
}

function megabytes(size: number): string {
  return size < 1e6 ? `${Math.max(1, Math.round(size / 1e3))} kB` : `${(size / 1e6).toFixed(size < 1e7 ? 1 : 0)} MB`;
}
