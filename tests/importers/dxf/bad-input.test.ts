/** Files that are broken, cut off, or none at all: always an answer, never an exception, in bounded time. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readDxf } from '../../../src/importers/dxf/read.ts';
import { createRandom } from '../../models/random.ts';
import { findOutsideFolder } from '../../outside/visibility-files.ts';
import {
  arc,
  binaryOf,
  bytesOfText,
  fileOf,
  type Group,
  groupsOf,
  insert,
  line,
  rectangle,
  text,
  textOf,
} from './write-dxf.ts';

const attempt = (bytes: Uint8Array) => readDxf(bytes, {}, () => {});
const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(join(findOutsideFolder('dxf'), name)));
const parts = {
  blocks: { DESK: rectangle('0', 0, 0, 1.6, 0.8) },
  entities: [
    ...rectangle('ROOM', 0, 0, 8, 6),
    ...insert('FURN', 'DESK', 1, 1),
    ...arc('DOOR', 1, 0, 0.9, 0, 90),
    ...text('NOTES', 'Office', 3, 3),
    ...line('WALL', 0, 0, 8, 0),
  ],
};

test.each([
  ['nothing', new Uint8Array(0), /0 bytes/],
  ['a web page', bytesOfText('<!DOCTYPE html><html><body>404</body></html>'), /web page/],
  ['a DWG drawing', bytesOfText('AC1032\u0000\u0000\u0000\u0000'), /DWG/],
  ['a PDF document', bytesOfText('%PDF-1.7\n%....'), /PDF/],
  ['a packed archive', bytesOfText('PK\u0003\u0004....'), /packed archive/],
  ['an IFC model', bytesOfText('ISO-10303-21;\nHEADER;'), /IFC/],
  ['prose', bytesOfText('Dear all, the plan is attached.\n'), /first line is no group code/],
  ['numbers alone', bytesOfText('1\n2\n3\n4\n'), /no section/],
  ['UTF-16', Uint8Array.of(0xff, 0xfe, 0x30, 0, 10, 0), /UTF-16/],
])('%s is refused with what it is', (_, bytes, reason) => {
  const answer = attempt(bytes);
  expect(answer.ok).toBe(false);
  if (!answer.ok) expect(answer.reason).toMatch(reason);
  if (!answer.ok) expect(answer.remedy).toMatch(/DXF/);
});

test('a drawing without lines says what it holds', () => {
  const answer = attempt(fileOf({ entities: text('A', 'nothing else', 0, 0) }));
  expect(answer).toMatchObject({ ok: false, reason: expect.stringContaining('1 TEXT') });
});

test('cut at every twentieth, every file is read as far as it goes, and says so, or is refused', () => {
  const files = [
    fileOf(parts),
    binaryOf(groupsOf(parts), true),
    bytesOf('floorplan.dxf'),
    bytesOf('ISO-Office.dxf'),
    bytesOf('trimesh_uc.r12b.dxf'),
  ];
  let read = 0;
  for (const file of files) {
    for (let i = 1; i < 20; i++) {
      const answer = attempt(file.slice(0, Math.floor((file.length * i) / 20)));
      if (answer.ok) {
        read++;
        expect(answer.remarks.find(({ what }) => what === 'the end of the file')?.reason).toMatch(/line \d+|byte \d+/);
      } else expect(answer.reason.length).toBeGreaterThan(20);
    }
  }
  expect(read).toBeGreaterThan(10);
});

test('bytes changed at random never throw', () => {
  const random = createRandom(20_261);
  const sound = [fileOf(parts), binaryOf(groupsOf(parts), true), binaryOf(groupsOf(parts), false)];
  for (let round = 0; round < 600; round++) {
    const bytes = (sound[round % 3] ?? new Uint8Array()).slice();
    for (let i = 0; i < 1 + (round % 7); i++)
      bytes[Math.floor(random.next() * bytes.length)] = Math.floor(random.next() * 256);
    expect(typeof attempt(bytes).ok).toBe('boolean');
  }
});

test('numbers of any size in any place never throw', () => {
  const values = ['1e300', '-1e300', '1e12', 'NaN', 'Infinity', '', '0', '-1', '1e-300', '99999999999999999999'];
  const groups = groupsOf(parts);
  for (const [i, [code]] of groups.entries()) {
    if (code < 10 || code > 80) continue;
    for (const value of values) {
      const changed: Group[] = groups.map((group, j) => (i === j ? [code, value] : group));
      expect(typeof attempt(bytesOfText(textOf(changed))).ok).toBe('boolean');
    }
  }
});

test('a fault in the middle is told with its line', () => {
  const source = textOf(groupsOf(parts)).split('\r\n');
  const at = source.indexOf('NOTES') - 1;
  source[at] = 'eight';
  const answer = attempt(bytesOfText(source.join('\r\n')));
  if (!answer.ok) throw new Error(answer.reason);
  expect(answer.remarks.find(({ what }) => what === 'the end of the file')?.reason).toContain(
    `line ${at + 1} reads "eight"`,
  );
});

test('names in a file are text: no markup, no formula, no prototype', () => {
  const answer = attempt(
    fileOf({
      ...parts,
      entities: [
        ...parts.entities,
        ...line('__proto__', 0, 0, 1, 1),
        ...line('<b>WALL</b>', 0, 5, 8, 5),
        ...insert('constructor', 'toString', 0, 0),
      ],
    }),
  );
  if (!answer.ok) throw new Error(answer.reason);
  expect(answer.remarks.map(({ what }) => what)).toContain('things on layer "__proto__"');
});
