/** Reading a drawing of 100,000 lines to a storey, against the `dxf` package's parsing and flattening of the same text. */
import { parseString, toPolylines } from 'dxf';
import { readDxf } from '../../src/importers/dxf/read.ts';
import type { Clock } from './clock.ts';
import { takeTurns } from './timing.ts';

export interface DrawingRecord {
  readonly case: string;
  readonly entities: number;
  readonly bytes: number;
  readonly rounds: number;
  /** Bytes to a storey: units, layers, walls, doors, rooms, furniture. Milliseconds, like the other. */
  readonly lacunaMs: number;
  /** Text to entities and polylines. */
  readonly libraryMs: number;
  readonly ratio: number;
  readonly wallRatio: number;
  readonly goalRatio: number;
}

const GOAL_RATIO = 2;
const ROWS = 100;

/** A hundred rows of rooms: walls, a door each, desks, names; 100,000 entities in all. */
function writeDrawing(): { readonly text: string; readonly entities: number } {
  const out: string[] = [
    '0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n',
  ];
  let entities = 0;
  const add = (text: string): void => {
    out.push(text);
    entities++;
  };
  const line = (layer: string, x0: number, y0: number, x1: number, y1: number): void =>
    add(
      `0\nLINE\n5\n${(entities + 256).toString(16).toUpperCase()}\n8\n${layer}\n10\n${x0}\n20\n${y0}\n30\n0.0\n11\n${x1}\n21\n${y1}\n31\n0.0\n`,
    );
  for (let row = 0; row < ROWS; row++) {
    for (let column = 0; column < 50; column++) {
      const [x, y] = [column * 4200.123456789, row * 5300.987654321];
      line('A-WALL', x, y, x + 4000, y);
      line('A-WALL', x, y, x, y + 5000);
      line('A-WALL', x + 4000, y, x + 4000, y + 5000);
      line('A-WALL', x, y + 5000, x + 1000, y + 5000);
      line('A-WALL', x + 1900, y + 5000, x + 4000, y + 5000);
      line('A-DOOR', x + 1000, y + 5000, x + 1000, y + 5900);
      add(`0\nARC\n8\nA-DOOR\n10\n${x + 1000}\n20\n${y + 5000}\n30\n0.0\n40\n900.0\n50\n0.0\n51\n90.0\n`);
      add(`0\nTEXT\n8\nA-AREA-IDEN\n10\n${x + 1500}\n20\n${y + 2000}\n30\n0.0\n40\n200.0\n1\nRoom ${row}-${column}\n`);
      for (let piece = 0; piece < 12; piece++) {
        const [px, py] = [x + 300 + (piece % 2) * 1900, y + 300 + (piece >> 1) * 780];
        add(
          `0\nLWPOLYLINE\n8\nI-FURN\n90\n4\n70\n1\n10\n${px}\n20\n${py}\n10\n${px + 1600}\n20\n${py}\n10\n${px + 1600}\n20\n${py + 700}\n10\n${px}\n20\n${py + 700}\n`,
        );
      }
    }
  }
  out.push('0\nENDSEC\n0\nEOF\n');
  return { text: out.join(''), entities };
}

/** @throws when the drawing is not read as it was written */
export function runDrawingCase(clock: Clock, tell: (what: string) => void): DrawingRecord {
  tell('a drawing');
  const { text, entities } = writeDrawing();
  const bytes = Uint8Array.from(text, (character) => character.charCodeAt(0));
  const timings = takeTurns(
    [
      { name: 'lacuna', run: () => readAll(bytes) },
      { name: 'library', run: () => (toPolylines(parseString(text)).polylines.length > 0 ? 1 : 0) },
    ],
    { clock, rounds: 9, sampleMs: 0, warmMs: 0 },
  );
  const [lacuna, library] = [timings.get('lacuna')!, timings.get('library')!];
  return {
    case: 'a drawing of 100,000 entities',
    entities,
    bytes: bytes.length,
    rounds: lacuna.rounds,
    lacunaMs: lacuna.median / 1e6,
    libraryMs: library.median / 1e6,
    ratio: lacuna.median / library.median,
    wallRatio: lacuna.wall / library.wall,
    goalRatio: GOAL_RATIO,
  };
}

function readAll(bytes: Uint8Array): number {
  const source = readDxf(bytes, {}, () => {});
  const storey = source.ok ? source.storeys[0] : undefined;
  if (storey?.walls.length !== 25_000 || storey.openings.length !== 5_000 || storey.pieces.length !== 60_000)
    throw new Error('the drawing was not read as it was written');
  return 1;
}
