/** The command line as a process of its own, built as it is shipped. */
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { draftIfc, rectangle } from '../importers/ifc/write-ifc.ts';
import { createFolder, lacuna as lacunaHere, readScenario } from './terminal.ts';

// Generous: a busy machine is no fault.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const top = fileURLToPath(new URL('../..', import.meta.url));
const program = `${top}/dist/cli/lacuna.js`;
const file = createFolder();
const floor = file('floor.json', readScenario('a'));

beforeAll(() => {
  // What is tested is what the sources say, not what was built some time ago.
  const { VITEST: _, ...env } = process.env;
  execFileSync(process.execPath, ['node_modules/vite/bin/vite.js', 'build', '--mode', 'cli', '--logLevel', 'warn'], {
    cwd: top,
    env: { ...env, NODE_ENV: 'production' },
    stdio: 'inherit',
  });
});

const lacuna = (words: readonly string[], input = '') => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], {
    input,
    encoding: 'utf8',
    cwd: file('.'),
  });
  return { status, stdout, stderr };
};

describe('the process', () => {
  test('ends with 0, 1 or 2', () => {
    expect(lacuna(['--help']).status).toBe(0);
    expect(lacuna(['check', floor]).status).toBe(1);
    expect(lacuna(['check', 'gone.json']).status).toBe(2);
    expect(lacuna([]).status).toBe(2);
  });

  test('--json prints one document on standard output and nothing else anywhere', () => {
    const { stdout, stderr } = lacuna(['check', floor, '--json']);
    expect(JSON.parse(stdout).format).toBe('lacuna-check/1');
    expect(stderr).toBe('');
  });

  test('a reason goes to stderr, and standard output stays empty', () => {
    const { stdout, stderr } = lacuna(['check', 'gone.json', '--json']);
    expect(stdout).toBe('');
    expect(stderr).toBe('gone.json: does not exist.\n');
  });

  test('a curved body of a model is meshed on a thread of its own, as it is in process', async () => {
    const draft = draftIfc();
    const profile = draft.add('IFCRECTANGLEPROFILEDEF(.AREA.,$,$,2.,3.)');
    const axis = draft.add(`IFCAXIS1PLACEMENT(#${draft.point([5, 0, 0])},#${draft.direction([0, 1, 0])})`);
    const turned = draft.add(`IFCREVOLVEDAREASOLID(#${profile},#${draft.axes([0, 0, 0])},#${axis},1.)`);
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 9, 8), 0, 2.7)]);
    draft.element('IFCFURNISHINGELEMENT', 'Curved', [turned]);
    const model = file('curved.ifc', draft.text());
    const { status, stderr } = lacuna(['import', model, '--out', 'meshed.json', '--report', 'meshed.txt']);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect((await lacunaHere('import', model, '--out', file('alone.json'))).code).toBe(0);
    const written = readFileSync(file('meshed.json'), 'utf8');
    expect(JSON.parse(written).furniture).toHaveLength(1);
    expect(written).toBe(readFileSync(file('alone.json'), 'utf8'));
  });

  test('places come from standard input, floors too', () => {
    const places = JSON.stringify([{ at: [6, 5.4], height: 0.8, motion: 'minor' }]);
    expect(JSON.parse(lacuna(['probe', floor, '--points', '-', '--json'], places).stdout).points[0].seenBy).toEqual([
      'D1',
    ]);
    expect(JSON.parse(lacuna(['check', '-', '--json'], readFileSync(floor, 'utf8')).stdout).workplacesMet).toEqual([
      2, 5,
    ]);
  });

  test('nobody reading its output is no fault', async () => {
    const many = Array.from({ length: 60 }, () => floor);
    const child = spawn(process.execPath, [program, 'check', ...many], { stdio: ['ignore', 'pipe', 'pipe'] });
    child.stdout.destroy();
    let err = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      err += text;
    });
    const code = await new Promise((resolve) => child.on('close', resolve));
    expect(err).toBe('');
    expect(code).toBe(1);
  });

  test('what is loaded later finds the program that runs, and does not run it again', () => {
    const { status, stderr } = lacuna(['draw', floor, '--out', 'none/plan.svg']);
    expect(status).toBe(2);
    expect(stderr.match(/is no folder/g)).toHaveLength(1);
  });

  test('without compiled code, or with that of another version, it compiles and runs', () => {
    const folder = file('built');
    cpSync(dirname(program), folder, { recursive: true });
    for (const prepare of [
      () => rmSync(`${folder}/program.cache`),
      () => writeFileSync(`${folder}/program.cache`, 'of another version'),
    ]) {
      prepare();
      const { status, stdout, stderr } = spawnSync(
        process.execPath,
        [`${folder}/lacuna.js`, 'check', floor, '--json'],
        { encoding: 'utf8' },
      );
      expect([status, stderr]).toEqual([1, '']);
      expect(JSON.parse(stdout).workplacesMet).toEqual([2, 5]);
    }
  });

  test('it draws both kinds', () => {
    for (const name of ['plan.svg', 'plan.png']) {
      const path = file(name);
      expect(lacuna(['draw', floor, '--out', path])).toEqual({ status: 0, stdout: '', stderr: '' });
      expect(readFileSync(path).subarray(0, 4).toString('latin1')).toBe(name.endsWith('.svg') ? '<svg' : '\u0089PNG');
    }
  });
});
