import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { FloorFile } from '../../src/core/floor/index.ts';

/** What a run of the command line left behind. */
export interface Ending {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs the command line in this process; its output is no terminal. */
export async function lacuna(...words: string[]): Promise<Ending> {
  let out = '';
  let err = '';
  const code = await run(words, {
    write: (text) => {
      out += text;
    },
    complain: (line) => {
      err += `${line}\n`;
    },
    progress: () => {},
    width: 100,
    colour: false,
  });
  return { code, out, err };
}

/** A folder of this test file's own, gone afterwards. */
export function createFolder(): (name: string, content?: unknown) => string {
  const folder = mkdtempSync(join(tmpdir(), 'lacuna-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return (name, content) => {
    const path = join(folder, name);
    if (content !== undefined) {
      const isRaw = typeof content === 'string' || content instanceof Uint8Array;
      writeFileSync(path, isRaw ? content : JSON.stringify(content));
    }
    return path;
  };
}

/** One of the scenarios whose results were derived by hand, changed as a test needs it. */
export function readScenario(name: 'a' | 'b', change: (floor: Changeable<FloorFile>) => void = () => {}): FloorFile {
  const floor = JSON.parse(readFileSync(new URL(`../models/scenario-${name}.json`, import.meta.url), 'utf8'));
  change(floor);
  return floor;
}

export type Changeable<Value> = Value extends object
  ? { -readonly [Key in keyof Value]: Changeable<Value[Key]> }
  : Value;
