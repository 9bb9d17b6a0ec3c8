/** The whole command, from its start to its exit by the wall clock, against a Node that does nothing and the reading of the file. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { parseFloor } from '../../src/core/floor/index.ts';
import { OFFICE, readOfficeText } from './bench-floors.ts';
import { wallClock } from './clock.ts';
import { takeTurns } from './timing.ts';

export interface ProcessRecord {
  readonly case: string;
  readonly rounds: number;
  /** `lacuna check FLOOR --json`, milliseconds. */
  readonly checkMs: number;
  /** `node -e 0`. */
  readonly emptyMs: number;
  /** The text of the file to a floor, in process: JSON alone, and with every check of the format. */
  readonly jsonMs: number;
  readonly parseMs: number;
  /** checkMs / (emptyMs + jsonMs). */
  readonly ratio: number;
  /** checkMs / (emptyMs + parseMs). */
  readonly ratioChecked: number;
  /** checkMs / (emptyMs + jsonMs), each the fastest of its rounds: what a busy machine disturbs least. */
  readonly ratioFastest: number;
  readonly goalRatio: number;
}

const COMMAND = 'dist/cli/lacuna.js';
const TURNS = { clock: wallClock, rounds: 15, sampleMs: 0, warmMs: 0 };
const GOAL_RATIO = 2.5;

/** @throws when the command is not built, or does not answer as it should */
export function runProcessCase(tell: (what: string) => void): ProcessRecord {
  tell('the command');
  if (!existsSync(COMMAND)) throw new Error(`${COMMAND} is not there. Build it: npm run build:cli`);
  const words = [COMMAND, 'check', OFFICE, '--json'];
  const answer = JSON.parse(runNode(words, 'pipe')) as { readonly format?: unknown };
  if (answer.format !== 'lacuna-check/1') throw new Error(`${words.join(' ')}: answers no lacuna-check/1`);
  const text = readOfficeText();
  const timings = takeTurns(
    [
      { name: 'check', run: () => runNode(words, 'ignore').length + 1 },
      { name: 'empty', run: () => runNode(['-e', '0'], 'ignore').length + 1 },
      { name: 'json', run: () => (JSON.parse(text) === null ? 0 : 1) },
      { name: 'parse', run: () => (parseFloor(text).ok ? 1 : 0) },
    ],
    TURNS,
  );
  const milliseconds = (name: string) => timings.get(name)!.median / 1e6;
  const fastest = (name: string) => timings.get(name)!.wallFastest;
  const [checkMs, emptyMs, jsonMs, parseMs] = ['check', 'empty', 'json', 'parse'].map(milliseconds) as [
    number,
    number,
    number,
    number,
  ];
  return {
    case: `process check, ${OFFICE}`,
    rounds: TURNS.rounds,
    checkMs,
    emptyMs,
    jsonMs,
    parseMs,
    ratio: checkMs / (emptyMs + jsonMs),
    ratioChecked: checkMs / (emptyMs + parseMs),
    ratioFastest: fastest('check') / (fastest('empty') + fastest('json')),
    goalRatio: GOAL_RATIO,
  };
}

/** Runs Node to its end. @returns what it writes, empty when that is ignored */
function runNode(words: readonly string[], stdout: 'pipe' | 'ignore'): string {
  const {
    status,
    error,
    stdout: written,
  } = spawnSync(process.execPath, words, {
    stdio: ['ignore', stdout, 'inherit'],
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  if (error) throw error;
  // 1: a need of the floor is not met.
  if (status !== 0 && status !== 1) throw new Error(`node ${words.join(' ')}: ended with ${status}`);
  return written ?? '';
}
