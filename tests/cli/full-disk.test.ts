import { readdirSync } from 'node:fs';
import { expect, test, vi } from 'vitest';
import { createFolder, lacuna, readScenario } from './terminal.ts';

/** A disk on which only so many bytes more find room: what goes beyond is cut, and the system says so. */
const disk = vi.hoisted(() => ({ room: Number.POSITIVE_INFINITY }));
vi.mock('node:fs', async (importOriginal) => {
  const actual = await importOriginal<typeof import('node:fs')>();
  return {
    ...actual,
    writeFileSync: ((path: string, content: string | Uint8Array, options?: { flag?: string }) => {
      const bytes = Buffer.from(content as string);
      actual.writeFileSync(path, bytes.subarray(0, Math.min(bytes.length, disk.room)), options);
      if (bytes.length > disk.room) throw Object.assign(new Error('ENOSPC'), { code: 'ENOSPC' });
      disk.room -= bytes.length;
    }) as typeof actual.writeFileSync,
  };
});

const path = createFolder();

test('on a full disk the reason is given, and nothing half written stays', async () => {
  const floor = path('a.json', readScenario('a'));
  disk.room = 2_000;
  const { code, out, err } = await lacuna('handover', floor, '--out', path('out'), '--only', 'schedule,groups');
  expect([code, out]).toEqual([2, '']);
  expect(err).toContain('the disk is full');
  const written = readdirSync(path('out'));
  expect(written.filter((name) => name.endsWith('.part'))).toEqual([]);
  expect(written).not.toContain('schedule.xlsx');
});
