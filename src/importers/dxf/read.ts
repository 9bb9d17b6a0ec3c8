/** Reads a DXF drawing: asks what its layers and blocks hold (`surveyDxf`), and takes one storey out of it (`readDxf`). */
import type { DrawnStorey, OnProgress, ReadSource, Refusal, Remark } from '../storey.ts';
import { DEFAULT_DXF_GAP, type DxfAnswers } from './answers.ts';
import { readDrawing } from './document.ts';
import type { Drawing } from './drawing.ts';
import { type Expanded, expand } from './expand.ts';
import {
  type BlockFigures,
  type Guess,
  guessBlocks,
  guessLayers,
  type LayerFigures,
  measureBlocks,
  measureLayers,
} from './guess.ts';
import { findOpenings } from './openings.ts';
import { findPieces } from './pieces.ts';
import { createRemarks, type Remarks } from './remarks.ts';
import { findRooms } from './rooms.ts';
import { refuse } from './sniff.ts';
import { sortShapes } from './sorted.ts';
import { guessUnit, METRES, robustBox, type UnitGuess } from './units.ts';
import { findWalls } from './walls.ts';

/** A drawing with everything that is known about it before anybody answers. */
interface Studied {
  readonly drawing: Drawing;
  readonly expanded: Expanded;
  readonly unit: UnitGuess;
  readonly metres: number;
  readonly layers: ReadonlyMap<string, LayerFigures>;
  readonly layerGuesses: ReadonlyMap<string, Guess>;
  readonly blocks: ReadonlyMap<string, BlockFigures>;
  readonly blockGuesses: ReadonlyMap<string, Guess>;
  readonly remarks: Remarks;
}

/**
 * The storey drawn in a DXF file (R12 to 2018, text or binary), in metres. What nobody answered is guessed and told. Never
 * throws for what is in the bytes; what cannot be used at all is refused with the reason.
 */
export function readDxf(bytes: Uint8Array, answers: Partial<DxfAnswers>, onProgress: OnProgress): ReadSource | Refusal {
  const studied = studyDxf(bytes, answers, onProgress);
  if ('ok' in studied) return studied;
  const { drawing, expanded, metres, layerGuesses, blockGuesses, unit, remarks } = studied;
  onProgress(0.7, 'Sorting what is drawn');
  const told = createRemarks();
  const gap = answers.gapM ?? DEFAULT_DXF_GAP;
  const sorted = sortShapes(expanded, layerGuesses, blockGuesses, metres, robustBox(expanded.shapes), told);
  const { walls, segments } = findWalls(sorted.items.get('wall') ?? []);
  onProgress(0.8, 'Finding doors and windows');
  const openings = findOpenings(sorted, segments, told);
  const rooms = findRooms(sorted, gap, answers.ceiling ?? null, isAnswered(answers), told);
  const pieces = findPieces(sorted, gap, answers.heights ?? {}, told);
  onProgress(0.95, 'Listing what was left out');
  const storey: DrawnStorey = {
    name: '',
    elevation: null,
    north: null,
    rooms: rooms.rooms,
    walls: [...walls, ...rooms.walls],
    openings,
    ...pieces,
    labels: rooms.labels,
    remarks: told.list(),
  };
  const isEmpty = walls.length === 0 && rooms.rooms.length === 0;
  if (isEmpty && pieces.pieces.length === 0 && openings.length === 0)
    return refuse(
      `Nothing in this drawing was taken for a wall, a room or furniture. Its layers: ${layerWords(studied)}. ${unit.reason}`,
      'Say what the layers hold, for example which one is the walls, and how long a drawing unit is.',
    );
  return {
    ok: true,
    format: formatWords(drawing),
    name: '',
    origin: sorted.origin,
    storeys: [storey],
    remarks: [...remarks.list(), ...concernAll(studied, answers, unit)],
  };
}

function isAnswered(answers: Partial<DxfAnswers>): (layer: string) => boolean {
  const named = new Set(Object.keys(answers.layers ?? {}).map((name) => name.toUpperCase()));
  return (layer) => named.has(layer.toUpperCase());
}

/** Reads the bytes and guesses; shared by survey and reading. */
export function studyDxf(bytes: Uint8Array, answers: Partial<DxfAnswers>, onProgress: OnProgress): Studied | Refusal {
  const drawing = readDrawing(bytes, onProgress);
  if ('ok' in drawing) return drawing;
  const remarks = createRemarks();
  const expanded = expand(drawing, remarks);
  if (!expanded.shapes.some(({ drawn }) => drawn.kind === 'path')) return refuseEmpty(drawing);
  onProgress(0.65, 'Comparing layers');
  const unit = guessUnit(drawing, expanded.shapes);
  const metres = METRES[answers.unit ?? unit.taken];
  const layers = measureLayers(drawing, expanded.shapes, metres);
  const layerGuesses = guessLayers(layers, answers);
  const blocks = measureBlocks(expanded, metres);
  const blockGuesses = guessBlocks(blocks, layerGuesses, answers);
  return { drawing, expanded, unit, metres, layers, layerGuesses, blocks, blockGuesses, remarks };
}

function refuseEmpty(drawing: Drawing): Refusal {
  const kinds = [...drawing.counts].map(([kind, count]) => `${count} ${kind}`).slice(0, 8);
  const cut = drawing.remarks.find(({ what }) => what === 'the end of the file');
  const found = kinds.length === 0 ? 'It holds no entities at all' : `It holds ${kinds.join(', ')}`;
  return refuse(
    `There are no lines in this drawing's model space. ${found}.${cut === undefined ? '' : ` It is cut off: ${cut.reason}.`}`,
    'Choose the drawing that holds the floor plan itself, with its references bound in, and save it as DXF again.',
  );
}

export function formatWords(drawing: Drawing): string {
  const version = VERSIONS[drawing.version] ?? drawing.version;
  return version === '' ? 'DXF' : `DXF ${version}`;
}

const VERSIONS: Readonly<Record<string, string>> = {
  AC1009: 'R12',
  AC1012: 'R13',
  AC1014: 'R14',
  AC1015: '2000',
  AC1018: '2004',
  AC1021: '2007',
  AC1024: '2010',
  AC1027: '2013',
  AC1032: '2018',
};

function layerWords({ layers }: Studied): string {
  const names = [...layers.values()].map(({ name }) => JSON.stringify(name));
  return names.length > 12 ? `${names.slice(0, 12).join(', ')} and ${names.length - 12} more` : names.join(', ');
}

/** What was not taken, and how unit and layers were understood. */
function concernAll(
  { drawing, layers, layerGuesses }: Studied,
  answers: Partial<DxfAnswers>,
  unit: UnitGuess,
): readonly Remark[] {
  const remarks = createRemarks();
  for (const remark of drawing.remarks)
    for (const place of remark.places.length > 0 ? remark.places : [undefined])
      remarks.add(remark.fate, remark.what, remark.reason, place, place === undefined ? remark.count : 1);
  if (answers.unit === undefined)
    remarks.add(unit.standing === 'read' ? 'taken' : 'guessed', 'the drawing unit', unit.reason);
  for (const [kind, count] of drawing.counts) {
    const reason =
      NOT_TAKEN[kind] ??
      (SILENT.has(kind) ? undefined : 'this kind of entity is not understood; turn it into lines before saving');
    if (reason !== undefined) remarks.add('left out', `entities of type ${kind}`, reason, undefined, count);
  }
  for (const [key, guess] of layerGuesses) {
    const figures = layers.get(key);
    if (figures === undefined || guess.because === 'answer' || guess.because === 'hidden') continue;
    const count = figures.paths + figures.hatches + figures.words;
    if (guess.class === 'ignore')
      remarks.add(
        'left out',
        `things on layer ${JSON.stringify(figures.name)}`,
        guess.because === 'nothing'
          ? 'its name does not say what it holds'
          : 'by its name it holds no part of the floor',
        undefined,
        count,
      );
    else
      remarks.add(
        'guessed',
        `things on layer ${JSON.stringify(figures.name)}`,
        `taken for: ${guess.class}, by ${guess.because === 'name' ? 'its name' : 'what is drawn on it'}`,
        undefined,
        count,
      );
  }
  return remarks.list();
}

/** Kinds that are read, or that carry nothing of their own. */
const SILENT = new Set(
  'LINE LWPOLYLINE POLYLINE ARC CIRCLE ELLIPSE SPLINE HATCH SOLID TRACE 3DFACE MLINE TEXT ATTRIB MTEXT INSERT VERTEX SEQEND VIEWPORT ATTDEF POINT ENDBLK BLOCK'.split(
    ' ',
  ),
);

const NOT_TAKEN: Readonly<Record<string, string>> = {
  DIMENSION: 'dimensions are no part of the floor',
  LEADER: 'leaders are no part of the floor',
  MULTILEADER: 'leaders are no part of the floor',
  IMAGE: 'pictures lie in files of their own, which a DXF file only names',
  WIPEOUT: 'covers are no part of the floor',
  OLE2FRAME: 'embedded documents are no part of the floor',
  RAY: 'endless lines are no part of the floor',
  XLINE: 'endless lines are no part of the floor',
  '3DSOLID': 'solids are no lines of a plan; draw them as lines seen from above before saving',
  BODY: 'solids are no lines of a plan; draw them as lines seen from above before saving',
  REGION: 'explode regions into lines before saving',
  ACAD_PROXY_ENTITY: 'made by an add-on; explode them into lines before saving',
  ACAD_TABLE: 'tables are no part of the floor',
};
