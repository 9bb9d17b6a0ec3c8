import { describe, expect, test } from 'vitest';
import { createCoverage } from '../../../../src/core/coverage/index.ts';
import { estimateEnergy } from '../../../../src/core/planning/settings/energy-estimate.ts';
import { differsFromProposal, proposeSettings } from '../../../../src/core/planning/settings/propose-settings.ts';
import { findUse, USES } from '../../../../src/core/planning/settings/uses.ts';
import { STANDING_WORDS } from '../../../../src/core/planning/sourced.ts';
import { type Change, type File, soundFile } from '../../coverage/finding-cases.ts';
import { readFloor } from '../../sight/build-floor.ts';

function coverageOf(...changes: readonly Change[]) {
  const file = soundFile();
  for (const change of changes) change(file);
  return createCoverage(readFloor(file));
}
const use =
  (words: string): Change =>
  (file) => {
    file.rooms[0]!.use = words;
  };
const luminaire = (rest: Partial<NonNullable<File['luminaires']>[number]> = {}): Change => {
  return (file) => {
    file.luminaires = [
      { id: 'L', name: 'Panel', at: [1, 1], size: [0.6, 0.6], base: 2.78, top: 2.8, group: 'G', watts: 100, ...rest },
    ] as NonNullable<File['luminaires']>;
  };
};

describe('uses of rooms', () => {
  test('every value carries a source and its standing', () => {
    for (const { name, level, absence, hours, switchOn, delay, ventilationDelay, background } of USES) {
      for (const each of [level, absence, hours, switchOn, delay, background, ventilationDelay]) {
        if (each === null) continue;
        expect(each.source, name).not.toBe('');
        expect(Object.keys(STANDING_WORDS), name).toContain(each.standing);
      }
      expect(delay.value, `${name}: no code lets light burn longer than 20 min`).toBeLessThanOrEqual(20);
    }
  });

  test('the values that were found in texts are those', () => {
    const level = (words: string) => findUse(words)?.use.level.value;
    expect(['corridor', 'stair', 'canteen', 'office', 'meeting', 'archive'].map(level)).toEqual([
      100, 150, 200, 500, 500, 200,
    ]);
    const absence = (words: string) => findUse(words)?.use.absence.value;
    expect(['toilet', 'meeting', 'plant'].map(absence)).toEqual([0.9, 0.5, 0.98]);
  });

  test('no two uses share a word', () => {
    const words = USES.flatMap((each) => [each.name, ...each.words]);
    expect(new Set(words).size).toBe(words.length);
  });

  test('words are read as they stand, in the plural, and as the longest within', () => {
    expect(findUse('Office')).toMatchObject({ use: { name: 'office' }, isGuess: false });
    expect(findUse('offices')).toMatchObject({ use: { name: 'office' }, isGuess: false });
    expect(findUse('Open-plan office')).toMatchObject({ use: { name: 'open-plan office' }, isGuess: false });
    expect(findUse('WC, step-free')).toMatchObject({ use: { name: 'toilet' }, isGuess: true });
    expect(findUse('an open plan office, south')).toMatchObject({ use: { name: 'open-plan office' }, isGuess: true });
    expect(findUse('aviary')).toBeUndefined();
    expect(findUse('  ')).toBeUndefined();
    // Part of a word is not the word.
    expect(findUse('labyrinth')).toBeUndefined();
  });
});

describe('settings of a group', () => {
  test('follow the use, each with its reason, and say what the file has', () => {
    const [proposal] = proposeSettings(
      coverageOf(use('office'), (file) => {
        file.groups![0]!.settings = { level: 500, delay: 5 };
      }),
    );
    const read = (name: string) => proposal!.settings.find((each) => each.name === name)!;
    expect(read('level')).toMatchObject({ now: 500, proposed: { value: 500 }, use: 'office' });
    expect(differsFromProposal(read('level'))).toBe(false);
    expect(read('delay')).toMatchObject({ now: 5, proposed: { value: 15, standing: 'practice' } });
    expect(differsFromProposal(read('delay'))).toBe(true);
    expect(read('switchOn')).toMatchObject({ now: undefined, proposed: { value: 'manual' } });
    expect(differsFromProposal(read('background'))).toBe(false);
    expect(proposal!.remarks).toEqual([]);
  });

  test('an unknown use and a missing one propose nothing, and say so', () => {
    expect(proposeSettings(coverageOf(use('aviary')))[0]).toMatchObject({
      settings: [],
      remarks: ['The use “aviary” of Office is not in the table. Nothing is proposed from it.'],
    });
    expect(proposeSettings(coverageOf())[0]).toMatchObject({
      settings: [],
      remarks: ['Office states no use. Give it one, such as office, meeting or corridor.'],
    });
  });

  test('a guess is named as one', () => {
    const [proposal] = proposeSettings(coverageOf(use('office, north side')));
    expect(proposal!.remarks).toEqual(['The use “office, north side” of Office is read as office.']);
  });

  test('of several uses the one that asks for most is taken, and that is said', () => {
    const [proposal] = proposeSettings(
      coverageOf(use('corridor'), (file) => {
        file.rooms.push({
          id: 'R2',
          name: 'Desk',
          use: 'office',
          outline: [
            [8, 0],
            [12, 0],
            [12, 6],
            [8, 6],
          ],
          ceiling: 2.8,
        });
        file.groups![0]!.serves = ['R', 'R2'];
      }),
    );
    const value = (name: string) => proposal!.settings.find((each) => each.name === name)!.proposed.value;
    expect([value('level'), value('delay'), value('switchOn'), value('background')]).toEqual([
      500,
      15,
      'automatic',
      10,
    ]);
    expect(proposal!.remarks.join()).toContain('several uses (corridor, office)');
  });
});

describe('the energy estimate', () => {
  test('counts a group with power and use, by its own control', () => {
    const small: Change = (file) => {
      file.rooms[0]!.outline = [
        [0, 0],
        [5, 0],
        [5, 6],
        [0, 6],
      ];
    };
    const energy = estimateEnergy(
      coverageOf(small, use('office'), luminaire(), (file) => {
        file.groups![0]!.settings = { switchOn: 'manual' };
      }),
    );
    const [group] = energy.groups;
    // Absence 0.3: F_O 0.7 by manual on and automatic off, 0.9 by hand.
    expect(group).toMatchObject({
      watts: 100,
      areaM2: 30,
      withDetectors: { controlFactor: 0.8, occupancyFactor: 0.7 },
      byHand: { controlFactor: 1, occupancyFactor: expect.closeTo(0.9, 12) },
    });
    expect(energy.withDetectorsKwh).toBeCloseTo(100 * 0.7 * 2.75, 9);
    expect(energy.saving).toBeCloseTo(1 - 0.7 / 0.9, 9);
    expect(energy.leniWithDetectors).toBeCloseTo(energy.withDetectorsKwh / 30 + 2.5, 9);
    expect(energy.assumptions.join(' ')).toContain('estimate');
  });

  test('a group over 30 m² gets no credit, a meeting room does', () => {
    expect(estimateEnergy(coverageOf(use('office'), luminaire())).saving).toBe(0);
    expect(estimateEnergy(coverageOf(use('meeting'), luminaire())).saving).toBeGreaterThan(0.05);
  });

  test.each([
    ['no luminaire', use('office'), 'No luminaire names this group.'],
    [
      'no power',
      (file: File) => {
        luminaire()(file);
        delete file.luminaires![0]!.watts;
      },
      'Its luminaires state no power.',
    ],
    ['no use', luminaire(), 'The use of a room it serves is not said, or not in the table.'],
    ['emergency light only', luminaire({ emergency: true }), 'No luminaire names this group.'],
  ])('with %s it counts nothing and says why', (_, change, why) => {
    const energy = estimateEnergy(coverageOf(change));
    expect(energy).toMatchObject({ groups: [], left: [{ id: 'G', why }], saving: null, leniWithDetectors: null });
  });
});
