/** Pictures to lie under the plan: what they are and how large, read from their first bytes. */
import type { Refusal } from '../storey.ts';

export interface PictureInfo {
  readonly ok: true;
  readonly kind: 'png' | 'jpeg' | 'pdf';
  /** Pixels as stored; null for a PDF document, whose pages are told by its reader. */
  readonly size: readonly [number, number] | null;
}

/** Bytes of a picture or document at most. */
const MOST_BYTES = 60_000_000;
/** Pixels along a side, and in all: what a browser can decode beside everything else. */
const LONGEST_SIDE = 20_000;
const MOST_PIXELS = 80_000_000;

const REMEDY = 'Choose a PNG or JPEG picture, or a PDF document.';

/** Judges a picture before it is decoded. */
export function inspectPicture(bytes: Uint8Array): PictureInfo | Refusal {
  if (bytes.length === 0) return refuse('The file is empty: 0 bytes.', REMEDY);
  if (bytes.length > MOST_BYTES)
    return refuse(
      `The file has ${Math.ceil(bytes.length / 1e6)} MB.`,
      `A picture under the plan has at most ${MOST_BYTES / 1e6} MB. Scan it coarser, or save one page alone.`,
    );
  if (startsWith(bytes, [0x25, 0x50, 0x44, 0x46, 0x2d])) return { ok: true, kind: 'pdf', size: null };
  const isPng = startsWith(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const isJpeg = startsWith(bytes, [0xff, 0xd8, 0xff]);
  if (!isPng && !isJpeg) return refuse('The file is neither a PNG nor a JPEG picture, nor a PDF document.', REMEDY);
  const kind = isPng ? 'png' : 'jpeg';
  const size = isPng ? readPngSize(bytes) : readJpegSize(bytes);
  if (size === null) return refuse(`The ${kind.toUpperCase()} picture is cut off before it says its size.`, REMEDY);
  const [width, height] = size;
  if (width === 0 || height === 0) return refuse(`The picture is ${width} × ${height} pixels large.`, REMEDY);
  if (width > LONGEST_SIDE || height > LONGEST_SIDE || width * height > MOST_PIXELS)
    return refuse(
      `The picture has ${width} × ${height} pixels.`,
      `It may have ${LONGEST_SIDE} along a side and ${MOST_PIXELS / 1e6} million in all. Make it smaller.`,
    );
  return { ok: true, kind, size };
}

/** The first chunk, IHDR, holds width and height, big-endian (PNG specification, 11.2.2). */
function readPngSize(bytes: Uint8Array): [number, number] | null {
  if (bytes.length < 24 || !startsWith(bytes.subarray(12), [0x49, 0x48, 0x44, 0x52])) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  return [view.getUint32(16), view.getUint32(20)];
}

/** Segment after segment up to a frame header, SOF0 to SOF15 without DHT, JPG and DAC (ITU-T T.81, B.2.2). */
function readJpegSize(bytes: Uint8Array): [number, number] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) return null;
    const marker = bytes[at + 1] as number;
    // Fill bytes, and marks that stand alone.
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += 2;
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
    if (isFrame) return [view.getUint16(at + 7), view.getUint16(at + 5)];
    if (marker === 0xd9 || marker === 0xda) return null;
    at += 2 + Math.max(2, view.getUint16(at + 2));
  }
  return null;
}

function startsWith(bytes: Uint8Array, signs: readonly number[]): boolean {
  return signs.every((sign, i) => bytes[i] === sign);
}

function refuse(reason: string, remedy: string): Refusal {
  return { ok: false, reason, remedy };
}
