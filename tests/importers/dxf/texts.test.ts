/** Forms of the file and of its texts: small drawings, and what must be read from them. */
import { describe, expect, test } from 'vitest';
import type { Ring } from '../../../src/core/floor/index.ts';
import {
  arc,
  binaryOf,
  bytesOfText,
  fileOf,
  type Group,
  groupsOf,
  insert,
  line,
  readSource,
  readStorey,
  rectangle,
  text,
  textOf,
} from './write-dxf.ts';

const boxOf = (ring: Ring) => {
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].map(
    (value) => Math.round(value * 1000) / 1000,
  );
};
const room = rectangle('ROOM', 0, 0, 8, 6);

describe('forms of the file', () => {
  const parts = {
    entities: [
      ...room,
      ...arc('DOOR', 1, 0, 0.9, 0, 90),
      ...line('DOOR', 1, 0, 1, 0.9),
      ...text('ROOM-TEXT', 'Archive', 3, 3),
    ],
  };
  const plain = readSource(fileOf(parts));

  test('binary with codes of one byte and of two says the same as text', () => {
    expect(plain.storeys[0]?.rooms[0]?.name).toBe('Archive');
    for (const wide of [false, true])
      expect(readSource(binaryOf(groupsOf(parts), wide)).storeys).toEqual(plain.storeys);
  });

  test('any line ends, comments, a byte order mark and missing blanks change nothing', () => {
    const source = textOf(groupsOf(parts));
    const variants = [
      source.replaceAll('\r\n', '\n'),
      source.replaceAll('\r\n', '\r'),
      `\u00ef\u00bb\u00bf${source.replaceAll(/^ +/gm, '')}`,
      `999\r\nwritten by hand\r\n${source}`,
      source.replace(/\r\n$/, ''),
      `${source}\r\n\u001a`,
    ];
    for (const variant of variants) expect(readSource(bytesOfText(variant))).toEqual(plain);
  });

  test('a file of entities alone, without header and tables, is read', () => {
    const bare: Group[] = [[0, 'SECTION'], [2, 'ENTITIES'], ...room, [0, 'ENDSEC'], [0, 'EOF']];
    expect(boxOf(readSource(bytesOfText(textOf(bare)), { unit: 'm' }).storeys[0]?.rooms[0]?.outline ?? [])).toEqual([
      0, 0, 8, 6,
    ]);
  });

  test('old polylines with vertices, and with bulges, are outlines', () => {
    const vertex = (x: number, y: number, bulge = 0): Group[] => [
      [0, 'VERTEX'],
      [8, 'ROOM'],
      [10, x],
      [20, y],
      [42, bulge],
    ];
    const old: Group[] = [
      [0, 'POLYLINE'],
      [8, 'ROOM'],
      [66, 1],
      [70, 1],
      ...vertex(0, 0),
      ...vertex(8, 0, 1),
      ...vertex(8, 6),
      ...vertex(0, 6),
      [0, 'SEQEND'],
      [8, 'ROOM'],
    ];
    // A bulge of 1 is half a circle to the right of the way from (8, 0) to (8, 6).
    expect(boxOf(readStorey({ entities: old }).rooms[0]?.outline ?? [])).toEqual([0, 0, 11, 6]);
  });
});

describe('texts', () => {
  const named = (value: string, version = 'AC1015', page = 'ANSI_1252') =>
    readStorey({ version, page, entities: [...room, ...text('ROOM-TEXT', value, 3, 3)] }).rooms[0]?.name;
  const utf8 = (value: string) => String.fromCharCode(...Buffer.from(value, 'utf8'));

  test('escapes, signs and underlines are read as what they stand for', () => {
    expect(named('B\\U+00FCro')).toBe('Büro');
    expect(named('%%uHALL%%u 2')).toBe('HALL 2');
    expect(named('Archiv \\M+18ABA')).toBe(
      'Archiv 漢'.replace('漢', new TextDecoder('shift_jis').decode(Uint8Array.of(0x8a, 0xba))),
    );
  });

  test('code pages: Windows 1252, Shift-JIS, and UTF-8 from 2007 on', () => {
    expect(named('B\u00fcro')).toBe('Büro');
    // 会議室 in Shift-JIS; the second byte of the second letter is no sign of its own.
    expect(named(String.fromCharCode(0x89, 0xef, 0x8b, 0x63, 0x8e, 0xba), 'AC1015', 'ANSI_932')).toBe('会議室');
    expect(named(utf8('会議室'), 'AC1021', 'ANSI_932')).toBe('会議室');
    // Written by a program that forgot to say so.
    expect(named(utf8('Küche'), 'AC1009')).toBe('Küche');
  });

  test('layer names in Shift-JIS are understood', () => {
    const kabe = String.fromCharCode(0x95, 0xc7);
    const storey = readStorey({ page: 'ANSI_932', entities: [...line(kabe, 0, 0, 8, 0), ...line(kabe, 0, 0, 0, 6)] });
    expect(storey.walls).toHaveLength(2);
  });

  test('paragraphs lose their formatting, and pieces of one are joined', () => {
    const paragraph: Group[] = [
      [0, 'MTEXT'],
      [8, 'ROOM-TEXT'],
      [10, 3],
      [20, 3],
      [40, 0.2],
      [71, 5],
      [3, '{\\fArial|b0|i0;\\H0.25x;Con'],
      [1, 'ference\\P\\C1;12}\\P24,5 m\u00b2'],
    ];
    expect(readStorey({ entities: [...room, ...paragraph] }).rooms[0]?.name).toBe('Conference 12');
  });

  test('areas and lengths are no names; words of a room stamp are', () => {
    const words = [
      ...text('ROOM-TEXT', '24.50 m\u00b2', 3, 2),
      ...text('ROOM-TEXT', 'Office', 3, 3),
      ...text('NOTES', "13'8 x 14'", 5, 3),
    ];
    expect(readStorey({ entities: [...room, ...words] }).rooms[0]?.name).toBe('Office');
  });

  test('attributes of a block name the room', () => {
    const stamp: Group[] = [
      ...insert('ROOM-TEXT', 'STAMP', 3, 3, [[66, 1]]),
      [0, 'ATTRIB'],
      [8, 'ROOM-TEXT'],
      [10, 3],
      [20, 3],
      [40, 0.2],
      [1, 'Library'],
      [2, 'NAME'],
      [70, 0],
      [0, 'SEQEND'],
      [8, '0'],
    ];
    const blocks = { STAMP: line('0', 0, 0, 1, 0) };
    expect(readStorey({ blocks, entities: [...room, ...stamp] }).rooms[0]?.name).toBe('Library');
  });
});
