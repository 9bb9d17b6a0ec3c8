/** Names out of a stranger's file in the parts that other programs open: whatever they are, they stay text. */
import { validateBytes } from 'gltf-validator';
import { describe, expect, test } from 'vitest';
import { PARTS } from '../../src/handover/parts.ts';
import { jobOf, PLATFORM, readFloorFile } from './paper-platform.ts';

const NAMES = [
  '</text><script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '=HYPERLINK("http://x")',
  '+1',
  '@cmd',
  'שלום <b>',
  'مرحبا',
  '🪑 chair',
  'a\r\n0\r\nEOF',
  '\u202eturned',
] as const;

const job = jobOf(
  readFloorFile('models/floors/small-rooms.json', (floor) => {
    floor.name = NAMES.join(' ');
    for (const list of [
      floor.rooms,
      floor.types,
      floor.detectors,
      floor.groups!,
      floor.workplaces!,
      floor.furniture!,
      floor.zones!,
      floor.sources!,
    ])
      list.forEach((each, k) => {
        each.name = NAMES[k % NAMES.length]!;
      });
  }),
);

const filesOf = async (name: string) => {
  const part = PARTS.find((each) => each.name === name);
  if (part === undefined) throw new Error(`No part ${name}.`);
  return (await part.produce(job, PLATFORM, () => {})).files;
};

describe('odd names', () => {
  test.each(['plan', 'masks'])('open no element in the drawings of %s, and turn no line', async (name) => {
    const drawings = (await filesOf(name)).filter((file) => file.name.endsWith('.svg'));
    expect(drawings.length).toBeGreaterThan(0);
    for (const { content } of drawings) {
      const text = String(content);
      expect(text).not.toMatch(/<(?:script|img|b)\b|\u202e/u);
      // Every opened element is closed, so no name has closed one.
      const opened = text.match(/<[a-zA-Z][^>]*[^/]>|<[a-zA-Z]>/gu)?.length ?? 0;
      expect(text.match(/<\/[a-zA-Z]+>/gu)?.length ?? 0).toBe(opened);
    }
    if (name === 'plan') expect(String(drawings[0]!.content)).toContain('&lt;');
  });

  test('end no drawing of the exchange format before its end', async () => {
    const [file] = await filesOf('drawing');
    const lines = String(file!.content).split(/\r?\n/u);
    // Codes and values take turns: an EOF that is a value stands once, as the last pair.
    const ends = lines.flatMap((line, k) => (k % 2 === 1 && line.trim() === 'EOF' ? [k] : []));
    expect(ends).toHaveLength(1);
    expect(lines.slice(ends[0]! + 1).join('')).toBe('');
  });

  test('leave the scene sound', async () => {
    const [file] = await filesOf('scene');
    const { issues } = await validateBytes(file!.content as Uint8Array);
    expect(issues.messages.filter(({ severity }) => severity <= 1)).toEqual([]);
    expect(issues.numErrors).toBe(0);
  });

  test('begin no formula in any text for a spreadsheet', async () => {
    let cells = 0;
    for (const part of ['schedule', 'groups', 'settings', 'walk-test']) {
      for (const { name, content } of await filesOf(part)) {
        if (!name.endsWith('.csv')) continue;
        for (const cell of String(content)
          .slice(1)
          .split(/;|\r\n/u)) {
          cells++;
          // A number may be less than nothing; nothing else begins with what a formula begins with.
          if (!/^-?\d+(?:\.\d+)?$/u.test(cell)) expect(cell, name).not.toMatch(/^"?[\s\p{Cf}]*[=+\-@]/u);
        }
      }
    }
    expect(cells).toBeGreaterThan(500);
  });
});
