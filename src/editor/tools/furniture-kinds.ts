/** The kinds of furniture by their letters, and the piece in hand of each. */
import type { Furniture } from '../../core/floor/index.ts';
import type { CatalogueEntry } from '../edits/furniture-pieces.ts';
import type { ToolContext } from './tool.ts';

type Kind = Furniture['kind'];

/** The letter of each kind; it stands in the kind's own word. */
const KIND_LETTERS: Readonly<Record<Kind, string>> = {
  desk: 'd',
  screen: 's',
  partition: 'p',
  shelving: 'v',
  cabinet: 'c',
  column: 'u',
  hanging: 'h',
  other: 'o',
};

const KINDS = Object.keys(KIND_LETTERS) as Kind[];

/** Sizes while there is no catalogue, metres: common ones, own choice. */
const PLAIN: Readonly<Record<Kind, CatalogueEntry>> = {
  desk: { kind: 'desk', name: 'Desk', length: 1.6, width: 0.8, base: 0.7, top: 0.74 },
  screen: { kind: 'screen', name: 'Screen', length: 1.6, width: 0.04, base: 0.7, top: 1.4 },
  partition: { kind: 'partition', name: 'Partition', length: 3, width: 0.06, base: 0, top: 2.8 },
  shelving: { kind: 'shelving', name: 'Shelving', length: 1, width: 0.4, base: 0, top: 2.2 },
  cabinet: { kind: 'cabinet', name: 'Cabinet', length: 1, width: 0.45, base: 0, top: 1.1 },
  column: { kind: 'column', name: 'Column', length: 0.4, width: 0.4, base: 0, top: 2.8 },
  hanging: { kind: 'hanging', name: 'Hanging', length: 2.4, width: 0.06, base: 2.3, top: 2.7 },
  other: { kind: 'other', name: 'Piece', length: 1, width: 0.6, base: 0, top: 0.9 },
};

/** Kinds that are as long as the line they are drawn along; the others keep their size and take only its direction. */
const DRAWN_LONG: ReadonlySet<Kind> = new Set<Kind>(['screen', 'partition', 'shelving', 'hanging']);

export function isDrawnLong(kind: Kind): boolean {
  return DRAWN_LONG.has(kind);
}

export function kindOfLetter(letter: string | null): Kind | undefined {
  return KINDS.find((kind) => KIND_LETTERS[kind] === letter);
}

/** The first piece of a kind; of the kind already in hand the next one in the catalogue. */
export function chooseEntry({ catalogue }: ToolContext, kind: Kind, held: CatalogueEntry | null): CatalogueEntry {
  const pieces = catalogue.filter((piece) => piece.kind === kind);
  const at = held === null ? -1 : pieces.findIndex((piece) => piece.name === held.name);
  return pieces[(at + 1) % Math.max(1, pieces.length)] ?? PLAIN[kind];
}

/** A screen between the backs of a pair, to a height. */
export function screenBetween(top: number): CatalogueEntry {
  return { ...PLAIN.screen, top };
}

/** `D desk, S screen, …` */
export function listKinds(): string {
  return KINDS.map((kind) => `${KIND_LETTERS[kind].toUpperCase()} ${kind}`).join(', ');
}
