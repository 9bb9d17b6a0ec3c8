import type { BlockerId, DetectorId, Doors, Floor, Motion } from '../core/floor/index.ts';
import { compileScene, traceSight } from '../core/sight/index.ts';
import { readArguments, readChoice, seeHelp } from './arguments.ts';
import { readFloor, readText } from './files.ts';
import { escapeJson, escapeText, formatMetres, formatTable } from './text.ts';
import { Unusable } from './unusable.ts';
import type { ExitCode, Output, Verb } from './verb.ts';

const MOTIONS: readonly Motion[] = ['minor', 'tangential', 'radial'];
const MOST_FAULTS = 50;

export const probeVerb: Verb = {
  usage: 'probe FLOOR --points FILE|- [--doors open] [--json]',
  purpose: 'Says for single places which detectors see them, and why the others do not.',
  help: `Options
  --points FILE   The places, as JSON; - reads standard input:
                  [{ "at": [x, y], "height": h, "motion": "minor|tangential|radial" }, …]
  --doors open    Every door open, whatever its state (stated: as the file states, the default).
  --json          One JSON document.

Groups are left aside: every detector answers for every place.

Examples
  lacuna probe office.json --points places.json
  echo '[{"at":[6,5.3],"height":0.8,"motion":"minor"}]' | lacuna probe office.json --points - --json`,
  run: runProbe,
};

interface ProbePoint {
  readonly at: readonly [number, number];
  readonly height: number;
  readonly motion: Motion;
}

interface ProbeAnswer extends ProbePoint {
  readonly seenBy: readonly DetectorId[];
  readonly missed: readonly {
    readonly detector: DetectorId;
    readonly why: 'range' | 'masked' | 'hidden';
    readonly by: BlockerId | null;
  }[];
}

function runProbe(words: readonly string[], output: Output): ExitCode {
  const { values, positionals } = readArguments('probe', words, {
    points: 'string',
    doors: 'string',
    json: 'boolean',
  });
  const doors = readChoice('probe', 'doors', values.doors, ['open', 'stated'] as const) ?? 'stated';
  const [path, ...others] = positionals;
  if (path === undefined) throw new Unusable('probe: no floor is named.', seeHelp('probe'));
  if (others.length > 0) throw new Unusable('probe: more than one floor is named.', seeHelp('probe'));
  if (values.points === undefined)
    throw new Unusable('probe: no places are given. Name a file with --points FILE.', seeHelp('probe'));
  if (path === '-' && values.points === '-')
    throw new Unusable('probe: floor and places cannot both come from standard input.');

  const { floor } = readFloor(path, undefined);
  const points = readPoints(values.points);
  const answers = probe(floor, points, doors);
  if (values.json === true) {
    output.write(`${escapeJson(JSON.stringify({ points: answers }, null, 2))}\n`);
  } else {
    output.write(`${writeAnswers(answers).join('\n')}\n`);
  }
  return 0;
}

function probe(floor: Floor, points: readonly ProbePoint[], doors: Doors): ProbeAnswer[] {
  const scene = compileScene(floor);
  return points.map(({ at, height, motion }) => {
    const seenBy: DetectorId[] = [];
    const missed: ProbeAnswer['missed'][number][] = [];
    for (const [index, { id }] of floor.detectors.entries()) {
      const sight = traceSight(scene, index, { x: at[0], y: at[1], h: height }, motion, doors);
      if (sight.seen) seenBy.push(id);
      else missed.push({ detector: id, why: sight.why, by: sight.by });
    }
    return { at, height, motion, seenBy, missed };
  });
}

/** Reads the places. Only what is asked of a place is read; what else stands beside it is left alone. */
function readPoints(path: string): ProbePoint[] {
  const text = readText(path);
  const shown = path === '-' ? 'Standard input' : escapeText(path);
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    throw new Unusable(`${shown}: is no JSON: ${escapeText(error instanceof Error ? error.message : String(error))}.`);
  }
  if (!Array.isArray(value)) {
    throw new Unusable(
      `${shown}: is no list. It must be [{ "at": [x, y], "height": h, "motion": "minor|tangential|radial" }, …].`,
    );
  }
  const faults: string[] = [];
  const points = value.map((each: unknown, index) => readPoint(each, `points[${index}]`, faults));
  if (faults.length > 0) {
    const left = faults.length - MOST_FAULTS;
    throw new Unusable(
      ...faults.slice(0, MOST_FAULTS).map((fault) => `${shown}: ${fault}`),
      ...(left > 0 ? [`${shown}: and ${left} more faults.`] : []),
    );
  }
  return points;
}

function readPoint(value: unknown, path: string, faults: string[]): ProbePoint {
  const fault = (key: string, found: unknown, remedy: string): void => {
    const shown = found === undefined ? 'is missing' : `is ${cutShort(escapeText(JSON.stringify(found)))}`;
    faults.push(`${path}${key}: ${shown}. ${remedy}`);
  };
  const point: ProbePoint = { at: [0, 0], height: 0, motion: 'minor' };
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    fault('', value, 'It must be an object with "at", "height" and "motion".');
    return point;
  }
  const { at, height, motion } = value as Readonly<Record<string, unknown>>;
  const isPlace = Array.isArray(at) && at.length === 2 && at.every(Number.isFinite);
  if (!isPlace) fault('.at', at, 'It must be [x, y], two numbers in metres.');
  if (!Number.isFinite(height)) fault('.height', height, 'It must be a number, metres above the floor.');
  const known = MOTIONS.find((each) => each === motion);
  if (known === undefined) fault('.motion', motion, 'It must be minor, tangential or radial.');
  return isPlace && typeof height === 'number' && known !== undefined
    ? { at: [Number(at[0]), Number(at[1])], height, motion: known }
    : point;
}

function cutShort(text: string): string {
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}

function writeAnswers(answers: readonly ProbeAnswer[]): string[] {
  if (answers.length === 0) return ['No places are given.'];
  return formatTable(
    [
      { title: 'x m', flush: 'right' },
      { title: 'y m', flush: 'right' },
      { title: 'height m', flush: 'right' },
      { title: 'motion' },
      { title: 'seen by' },
      { title: 'missed by' },
    ],
    answers.map(({ at, height, motion, seenBy, missed }) => {
      const hidden = missed
        .filter(({ why }) => why === 'hidden')
        .map(({ detector, by }) => `${detector} hidden by ${by}`);
      const masked = missed.filter(({ why }) => why === 'masked').map(({ detector }) => `${detector} masked`);
      const far = missed.filter(({ why }) => why === 'range').map(({ detector }) => detector);
      const outOfRange =
        far.length > 4 ? [`${far.length} out of range`] : far.map((detector) => `${detector} out of range`);
      return [
        formatMetres(at[0]),
        formatMetres(at[1]),
        formatMetres(height),
        motion,
        seenBy.join(', ') || 'nobody',
        [...hidden, ...masked, ...outOfRange].join(', '),
      ];
    }),
  );
}
