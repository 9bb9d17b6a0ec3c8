/** The faces of the documents, and which letters each of them has. */
import { cleanText } from '../plan/svg.ts';

/** Faces by the names under which drawings and documents ask for them. */
export const FACES = { working: 'Source Sans 3', reading: 'Source Serif 4', more: 'DejaVu Sans' } as const;
export type Face = keyof typeof FACES;

/** TrueType files: the working face in two weights, the reading face, and one with more letters for names. */
export interface FontFiles {
  readonly working: Uint8Array;
  readonly workingBold: Uint8Array;
  readonly reading: Uint8Array;
  readonly more: Uint8Array;
  readonly moreBold: Uint8Array;
}

/** A stretch of text in one face. */
export interface Run {
  readonly text: string;
  readonly face: Face;
}

/** Splits text by the faces that have its letters. A letter that none has becomes `□`: nothing is dropped unseen. */
export type SplitRuns = (text: string, face: Exclude<Face, 'more'>) => readonly Run[];

const MISSING = '□';
/** Marks that steer the direction of writing: a run of its own face is turned by the shaper. */
const ISOLATES = /[\u2068\u2069]/g;
/** Joins, selectors and what colours emoji: no letter of their own. */
const INVISIBLE = /\u200b|\u200c|\u200d|[\ufe00-\ufe0f]|[\u{1f3fb}-\u{1f3ff}]/gu;
const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/;

export function createSplitRuns(fonts: FontFiles): SplitRuns {
  const has: Readonly<Record<Face, (code: number) => boolean>> = {
    working: readLetters(fonts.working),
    reading: readLetters(fonts.reading),
    more: readLetters(fonts.more),
  };
  const faceOf = (letter: string, wanted: Exclude<Face, 'more'>): Face | null => {
    const code = letter.codePointAt(0) ?? 0;
    // The shaper of a face with right-to-left letters also turns what stands between them.
    if (RIGHT_TO_LEFT.test(letter)) return has.more(code) ? 'more' : null;
    if (has[wanted](code)) return wanted;
    if (wanted === 'reading' && has.working(code)) return 'working';
    return has.more(code) ? 'more' : null;
  };
  return (text, wanted) => {
    const runs: { text: string; face: Face }[] = [];
    // Words written right to left stay together in one run, so that their order is turned with their letters.
    const joined = cleanText(text)
      .replace(ISOLATES, '')
      .replace(INVISIBLE, '')
      .replace(
        /(?<=[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]) (?=[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc])/g,
        '\u00a0',
      );
    for (const letter of joined) {
      const last = runs.at(-1);
      const isBetween = letter === '\u00a0' && last !== undefined && RIGHT_TO_LEFT.test(last.text.at(-1) ?? '');
      const face = isBetween ? last.face : faceOf(letter, wanted);
      const shown = face === null ? MISSING : letter;
      const of = face ?? 'more';
      if (last?.face === of) last.text += shown;
      else runs.push({ text: shown, face: of });
    }
    return runs;
  };
}

/** Reads which letters a TrueType or OpenType font has: formats 4 and 12 of its `cmap` table (OpenType 1.9, cmap). */
function readLetters(font: Uint8Array): (code: number) => boolean {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const cmap = findTable(view, 'cmap');
  const codes = new Set<number>();
  const count = view.getUint16(cmap + 2);
  for (let k = 0; k < count; k++) {
    const at = cmap + view.getUint32(cmap + 4 + 8 * k + 4);
    const format = view.getUint16(at);
    if (format === 4) readSegments(view, at, codes);
    else if (format === 12) readGroups(view, at, codes);
  }
  return (code) => codes.has(code);
}

function findTable(view: DataView, name: string): number {
  const count = view.getUint16(4);
  for (let k = 0; k < count; k++) {
    const at = 12 + 16 * k;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map((byte) => view.getUint8(at + byte)));
    if (tag === name) return view.getUint32(at + 8);
  }
  throw new Error(`The font has no table ${name}.`);
}

function readSegments(view: DataView, at: number, codes: Set<number>): void {
  const twice = view.getUint16(at + 6);
  for (let k = 0; k < twice; k += 2) {
    const end = view.getUint16(at + 14 + k);
    const start = view.getUint16(at + 16 + twice + k);
    const delta = view.getUint16(at + 16 + 2 * twice + k);
    const offsetAt = at + 16 + 3 * twice + k;
    const offset = view.getUint16(offsetAt);
    for (let code = start; code <= end && code < 0xffff; code++) {
      const glyph = offset === 0 ? (code + delta) & 0xffff : view.getUint16(offsetAt + offset + 2 * (code - start));
      if (glyph !== 0) codes.add(code);
    }
  }
}

function readGroups(view: DataView, at: number, codes: Set<number>): void {
  const count = view.getUint32(at + 12);
  for (let k = 0; k < count; k++) {
    const group = at + 16 + 12 * k;
    const start = view.getUint32(group);
    const end = view.getUint32(group + 4);
    for (let code = start; code <= end; code++) codes.add(code);
  }
}
