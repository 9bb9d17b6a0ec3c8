/** What kind of file some bytes are, before anybody tries to read them as a drawing. */
import type { Refusal } from '../storey.ts';

export type DxfForm = 'text' | 'binary';

/** The first bytes of a binary DXF file, up to its two closing control characters. */
const BINARY_SIGN = 'AutoCAD Binary DXF';
export const BINARY_START = 22;

const AS_DXF = 'Save the drawing as DXF (any version from R12 to 2018, text or binary) and choose that file.';

/** The form of a DXF file, or why the bytes are none. */
export function sniffDxf(bytes: Uint8Array): DxfForm | Refusal {
  if (bytes.length === 0) return refuse('The file is empty: 0 bytes.', AS_DXF);
  const head = latin(bytes, 0, 600);
  if (head.startsWith(BINARY_SIGN)) return 'binary';
  if (/^AC10\d\d/.test(head) || /^(AC1\.|AC2\.|MC0\.)/.test(head))
    return refuse('This is a DWG drawing, not a DXF file.', `Lacuna reads no DWG. ${AS_DXF}`);
  const kind = KINDS.find(([sign]) => sign.test(head));
  if (kind !== undefined) return refuse(`This is ${kind[1]}, not a DXF drawing.`, AS_DXF);
  if (head.startsWith('\xff\xfe') || head.startsWith('\xfe\xff'))
    return refuse('This text is written in UTF-16, which DXF files never are.', AS_DXF);
  // A DXF text begins with a group code, a whole number alone on its line, mostly 0 or 999.
  if (!/^(\xef\xbb\xbf)?\s*\d{1,4}[ \t]*(\r\n|\r|\n)/.test(head))
    return refuse(
      'This is not a DXF drawing: its first line is no group code (a whole number alone on a line, mostly 0).',
      AS_DXF,
    );
  return 'text';
}

const KINDS: readonly (readonly [RegExp, string])[] = [
  [/^PK\p{Cc}{2}/u, 'a packed archive (zip) or an office document'],
  [/^%PDF-/, 'a PDF document'],
  [/^\x89PNG/, 'a PNG picture'],
  [/^\xff\xd8\xff/, 'a JPEG picture'],
  [/^ISO-10303-21/, 'a STEP or IFC model'],
  [/^\s*(\xef\xbb\xbf)?\s*(<!doctype html|<html)/i, 'a web page (HTML)'],
  [/^\s*(\xef\xbb\xbf)?\s*<\?xml/i, 'an XML document'],
  [/^\s*(\xef\xbb\xbf)?\s*<svg/i, 'an SVG drawing'],
  [/^\s*(\xef\xbb\xbf)?\s*[{[]/, 'a JSON text'],
  [/^\p{Cc}\x8b/u, 'a packed file (gzip)'],
];

/** Bytes as text, a character a byte. */
export function latin(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  const end = Math.min(to, bytes.length);
  for (let i = from; i < end; i++) text += String.fromCharCode(bytes[i] as number);
  return text;
}

export function refuse(reason: string, remedy: string): Refusal {
  return { ok: false, reason, remedy };
}
