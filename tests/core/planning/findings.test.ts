/** Findings that follow from the plan of groups: at the edges of their limits, and gone when cured. */
import { describe, expect, test } from 'vitest';
import { check } from '../../../src/core/coverage/index.ts';
import { judgeFloor } from '../../../src/core/planning/judge.ts';
import { spotRadius } from '../../../src/core/planning/light/light-spot.ts';
import { addPiece, type Change, type File, soundFile } from '../coverage/finding-cases.ts';
import { readFloor, rect } from '../sight/build-floor.ts';

function judge(...changes: readonly Change[]) {
  const file = soundFile();
  for (const change of changes) change(file);
  return judgeFloor(readFloor(file));
}
const codes = (...changes: readonly Change[]) =>
  judge(...changes).findings.map(({ level, code }) => `${level} ${code}`);
const ofCode = (code: string, ...changes: readonly Change[]) =>
  judge(...changes).findings.filter((finding) => finding.code === code);

/** A hall with two detectors of one group so far apart, and the limits of their type. */
const apart =
  (planM: number, limits: Partial<File['types'][number]> = { cableLimit: 100 }): Change =>
  (file) => {
    file.rooms[0]!.outline = [
      [0, 0],
      [200, 0],
      [200, 6],
      [0, 6],
    ];
    file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [4 + planM, 3] });
    file.groups![0]!.extensions = ['D2'];
    Object.assign(file.types[0]!, limits);
  };
/** The plan length whose cable, with 1.6 m of drops and a tenth, is so long. */
const planFor = (totalM: number) => Math.round((totalM / 1.1 - 1.6) * 1e12) / 1e12;
const cableFindings = (...changes: readonly Change[]) =>
  ofCode('group-limit', ...changes).filter(({ text }) => text.includes('of cable'));

describe('the limit of cable', () => {
  test('exactly 100.0 m passes, 100.1 m fails', () => {
    expect(cableFindings(apart(planFor(100)))).toEqual([]);
    const [finding, ...others] = cableFindings(apart(planFor(100.1)));
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ level: 'fail', about: ['G', 'D1'] });
    expect(finding!.text).toContain('Group needs 100.1 m of cable');
    expect(finding!.text).toContain('Type T carries 100 m');
    expect(judge(apart(planFor(100.1))).met).toBe(false);
  });

  test('a type that states none is held to none', () => {
    expect(cableFindings(apart(150, {}))).toEqual([]);
  });

  test('a detector to be removed needs no cable', () => {
    const removed: Change = (file) => {
      file.detectors[1]!.status = 'remove';
    };
    expect(cableFindings(apart(planFor(100.1)), removed)).toEqual([]);
  });
});

describe('the limit of extensions', () => {
  const extensions =
    (count: number): Change =>
    (file) => {
      file.types[0]!.extensionLimit = 10;
      for (let k = 0; k < count; k++) {
        file.detectors.push({ id: `E${k}`, name: `E${k}`, type: 'T', at: [0.5 + 0.6 * k, 5] });
      }
      file.groups![0]!.extensions = file.detectors.slice(1).map(({ id }) => id);
    };
  test('ten pass, the eleventh fails', () => {
    expect(codes(extensions(10))).not.toContain('fail group-limit');
    expect(codes(extensions(11))).toContain('fail group-limit');
  });
});

describe('the limits of area', () => {
  const size =
    (width: number, use?: string): Change =>
    (file) => {
      file.rooms[0]!.outline = [
        [0, 0],
        [width, 0],
        [width, 6],
        [0, 6],
      ];
      if (use !== undefined) file.rooms[0]!.use = use;
    };
  test('30 m² keep the energy credit, more lose it; meeting rooms are free', () => {
    expect(codes(size(5))).not.toContain('warn group-limit');
    expect(codes(size(5.1))).toContain('warn group-limit');
    expect(codes(size(5.1, 'meeting'))).not.toContain('warn group-limit');
  });

  test('an open plan over 55.74 m² gets a note, another use none', () => {
    expect(codes(size(9.2, 'open-plan office'))).not.toContain('note group-limit');
    expect(codes(size(9.4, 'open-plan office'))).toContain('note group-limit');
    expect(codes(size(9.4, 'office'))).not.toContain('note group-limit');
  });

  test('groups that share a room each count what is nearest to them', () => {
    const shared: Change = (file) => {
      file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [6, 3] });
      file.detectors[0]!.at = [2, 3];
      file.groups!.push({ id: 'H', name: 'Second', main: 'D2', serves: ['R'] });
    };
    // 48 m², two groups of 24 each.
    expect(codes(shared)).not.toContain('warn group-limit');
    expect(codes()).toContain('warn group-limit');
  });
});

/** Windows along the lower wall of the room. */
const windows: Change = (file) => {
  file.openings!.push({ id: 'N', kind: 'window', from: [1, 0], to: [7, 0], sill: 0.9 });
};
const deep =
  (depth: number): Change =>
  (file) => {
    file.rooms[0]!.outline = [
      [0, 0],
      [8, 0],
      [8, depth],
      [0, depth],
    ];
    file.workplaces!.push({ id: 'W2', name: 'Desk 2', at: [4, depth - 1] });
    file.types[0]!.ranges.forEach((range) => {
      if ('diameter' in range) range.diameter = 40;
    });
  };

describe('daylight', () => {
  test('places on both sides of the daylight line under one main are mixed', () => {
    const [finding, ...others] = ofCode('daylight-mixed', windows, deep(9));
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ level: 'warn', about: ['G', 'D1', 'W2'] });
    expect(finding!.text).toContain('lights 1 place within 6 m of a window and 1 place farther in');
  });

  test('6.0 m in is still daylit, a millimetre more is not', () => {
    expect(ofCode('daylight-mixed', windows, deep(7))).toEqual([]);
    expect(ofCode('daylight-mixed', windows, deep(7.001))).toHaveLength(1);
  });

  test('no windows, an inner window, and a main without a light sensor give none', () => {
    expect(ofCode('daylight-mixed', deep(9))).toEqual([]);
    const inner: Change = (file) => {
      file.rooms.push({
        id: 'R2',
        name: 'Next',
        outline: [
          [0, -5],
          [8, -5],
          [8, 0],
          [0, 0],
        ],
        ceiling: 2.8,
      });
    };
    expect(ofCode('daylight-mixed', windows, deep(9), inner)).toEqual([]);
    const blind: Change = (file) => {
      file.types[0]!.lightSensor = false;
    };
    expect(ofCode('daylight-mixed', windows, deep(9), blind)).toEqual([]);
  });

  test('it is cured by a group for the inner places', () => {
    const divided: Change = (file) => {
      file.detectors[0]!.at = [4, 3];
      file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [4, 7.5] });
      file.groups!.push({ id: 'H', name: 'Inner', main: 'D2', serves: ['R'] });
    };
    expect(ofCode('daylight-mixed', windows, deep(9), divided)).toEqual([]);
  });
});

describe('the light spot', () => {
  test('has the radius (H − 0.8) · tan 30°', () => {
    expect(spotRadius(2.8)).toBeCloseTo(2 / Math.sqrt(3), 12);
    expect(spotRadius(0.8)).toBe(0);
    expect(spotRadius(0.5)).toBe(0);
  });

  const at =
    (x: number, y: number): Change =>
    (file) => {
      file.detectors[0]!.at = [x, y];
    };
  test('a window nearer than that falsifies it', () => {
    const radius = spotRadius(2.8);
    expect(ofCode('daylight-mixed', windows, at(4, radius + 0.001))).toEqual([]);
    const [finding] = ofCode('daylight-mixed', windows, at(4, radius - 0.001));
    expect(finding).toMatchObject({ level: 'warn', about: ['G', 'D1', 'N'] });
    expect(finding!.text).toContain('in a circle of 1.15 m under it; window N (1.15 m away) lies in it');
  });

  test('tall furniture and hanging luminaires falsify it; desks, glass and flush panels do not', () => {
    const stands = (top: number, glass = false) => addPiece({ outline: rect(4.5, 2.5, 5, 3.5), top, glass });
    expect(ofCode('daylight-mixed', stands(1.6))).toHaveLength(1);
    expect(ofCode('daylight-mixed', stands(1.2))).toEqual([]);
    expect(ofCode('daylight-mixed', stands(1.6, true))).toEqual([]);
    const hangs =
      (base: number): Change =>
      (file) => {
        file.luminaires = [{ id: 'L', name: 'Panel', at: [4.6, 3], size: [0.6, 0.6], base, top: 2.8 }];
      };
    expect(ofCode('daylight-mixed', hangs(2))).toHaveLength(1);
    expect(ofCode('daylight-mixed', hangs(2.8 - 1e-10))).toEqual([]);
    // Hung so near the lens that it lies beside the cone.
    expect(ofCode('daylight-mixed', hangs(2.5))).toEqual([]);
  });

  test('what stands in another room is no matter', () => {
    const beyond: Change = (file) => {
      file.rooms.push({
        id: 'R2',
        name: 'Next',
        outline: [
          [8, 0],
          [12, 0],
          [12, 6],
          [8, 6],
        ],
        ceiling: 2.8,
      });
      file.detectors[0]!.at = [7.5, 3];
    };
    expect(ofCode('daylight-mixed', beyond, addPiece({ outline: rect(8.1, 2.5, 8.6, 3.5), top: 2 }))).toEqual([]);
    expect(ofCode('daylight-mixed', beyond, addPiece({ outline: rect(7.9, 2.5, 7.99, 3.5), top: 2 }))).toHaveLength(1);
  });
});

test('the rest of the document is what coverage says, worst findings first', () => {
  const file = soundFile();
  apart(planFor(100.1))(file);
  windows(file);
  const floor = readFloor(file);
  const [whole, bare] = [judgeFloor(floor), check(floor)];
  const { findings, met, ...rest } = whole;
  const { findings: bareFindings, met: _, ...bareRest } = bare;
  expect(rest).toEqual(bareRest);
  expect(met).toBe(false);
  expect(findings.filter((each) => bareFindings.some((other) => other.text === each.text))).toEqual(bareFindings);
  const levels = findings.map(({ level }) => ['fail', 'warn', 'note'].indexOf(level));
  expect(levels).toEqual([...levels].sort((a, b) => a - b));
});
