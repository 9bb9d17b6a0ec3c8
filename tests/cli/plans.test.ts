/** Groups, settings, energy and masks as `check` tells them when asked. */
import { readFileSync } from 'node:fs';
import { describe, expect, test, vi } from 'vitest';
import { createFolder, lacuna } from './terminal.ts';

vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const file = createFolder();
const island = new URL('../../models/floors/desk-island.json', import.meta.url);
const floor = (name: string, change: (floor: Record<string, unknown>) => void = () => {}) => {
  const content = JSON.parse(readFileSync(island, 'utf8'));
  change(content);
  return file(name, content);
};
const ALL = ['--groups', '--settings', '--energy', '--masks'];

describe('check asked for plans', () => {
  test('each is a key of the document, and the verdicts stay as they are', async () => {
    const path = floor('island.json');
    const plain = JSON.parse((await lacuna('check', path, '--json')).out);
    const { out, code, err } = await lacuna('check', path, '--json', ...ALL);
    const { groupPlans, settings, energy, masks, ...verdicts } = JSON.parse(out);
    expect(err).toBe('');
    expect(verdicts).toEqual(plain);
    expect(Object.keys(plain)).not.toContain('groupPlans');
    expect(code).toBe(plain.met ? 0 : 1);
    expect(groupPlans).toMatchObject({ format: 'lacuna-groups/1', groups: [{ id: 'G1', main: 'D1' }, { id: 'G2' }] });
    expect(settings).toMatchObject({ format: 'lacuna-settings/1', groups: [{ id: 'G1' }, { id: 'G2' }] });
    expect(energy).toMatchObject({ format: 'lacuna-energy/1', left: [] });
    expect(masks.plans.map((plan: { hides: boolean }) => plan.hides)).toEqual([true, true]);
  });

  test('for a reader each is a table, with what it rests on', async () => {
    const { out } = await lacuna('check', floor('island.json'), ...ALL);
    for (const title of ['Groups', 'Groups proposed', 'Settings', 'Energy', 'Masks'])
      expect(out).toContain(`\n${title}\n`);
    expect(out).toMatch(/D1\s+D2\s+\d+\.\d\d\s+1\.60\s+7\.04/);
    expect(out).toContain('Estimate: ');
    expect(out).toContain('(from the text)');
    expect(out).toContain('common practice, no source');
  });

  test('without groups it says so and invents none', async () => {
    const path = floor('bare.json', (content) => {
      content.groups = [];
      content.luminaires = [];
    });
    const { out } = await lacuna('check', path, '--groups', '--settings', '--energy');
    expect(out).toContain('The floor has no groups.');
    expect(out).toContain('Nothing can be estimated');
  });

  test('a name from the file cannot forge output', async () => {
    const path = floor('forged.json', (content) => {
      (content.rooms as { name: string; use: string }[])[0]!.name = 'A\u001b[2JB';
      (content.rooms as { name: string; use: string }[])[0]!.use = 'av\u001b[2Jiary';
    });
    const { out } = await lacuna('check', path, ...ALL);
    expect(out).not.toContain('\u001b');
    expect(out).toContain('A\\u{1b}[2JB');
  });
});
