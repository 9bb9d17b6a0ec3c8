import { describe, expect, test } from 'vitest';
import { listFiles, listTop, readText } from './tree.ts';

const TOP_LEVEL = [
  'DEVELOPERS.md',
  'LICENSE',
  'README.md',
  'models',
  'package-lock.json',
  'package.json',
  'src',
  'tests',
  'tsconfig.json',
  'vite.config.ts',
];

const MAX_LINES = 400;
/** Files of `src` that may be longer, each with its reason. */
const LONGER: Readonly<Record<string, string>> = {};

/** A home, scratch or system folder of somebody's machine, or a registry's own address. */
const OF_ONE_MACHINE = [
  /(?<![\w.~\-/])\/(?:home|Users|root|work|tmp|private|mnt|workspace)\/[\w.-]+/,
  /\b[A-Z]:\\+Users\\/,
  /\bregistry\.[a-z0-9.-]+\.[a-z]{2,}\b/,
];

const UNFINISHED = /\b(?:TODO|FIXME|XXX|HACK)\b|@ts-(?:ignore|nocheck)\b/;

const folders = ['src', 'tests', 'models', '.ci'].flatMap(listFiles);
const dotfiles = ['.biome.json', '.gitignore', '.npmrc'];
const files = [...folders, ...listTop().filter((name) => /\.(md|json|ts)$/.test(name)), 'LICENSE', ...dotfiles];
const source = files.filter((path) => path.startsWith('src/'));

/** Text by path; what holds a zero byte is no text. */
const texts = [...new Set(files)]
  .map((path) => [path, readText(path)] as const)
  .filter(([, text]) => !text.includes('\0'));

const linesLike = (pattern: RegExp): string[] =>
  texts.flatMap(([path, text]) =>
    text
      .split('\n')
      .flatMap((line, index) => (pattern.test(line) ? [`${path}:${index + 1}: ${line.trim().slice(0, 120)}`] : [])),
  );

describe('the layout', () => {
  test('has nothing else on the top level', () => {
    expect(
      listTop()
        .filter((name) => !name.startsWith('.'))
        .sort(),
    ).toEqual(TOP_LEVEL);
  });

  test(`has no source file over ${MAX_LINES} lines without a reason`, () => {
    const lineCount = (path: string): number => readText(path).trimEnd().split('\n').length;
    const long = source.filter((path) => /\.(tsx?|css)$/.test(path) && lineCount(path) > MAX_LINES);
    expect(source.length).toBeGreaterThan(0);
    expect(long).toEqual(Object.keys(LONGER).sort());
  });

  test('names files in kebab-case, and a component as itself', () => {
    const word = '[a-z0-9]+(-[a-z0-9]+)*';
    const named = new RegExp(
      `/(${word}(\\.[a-z]+)*\\.(tsx?|css|html|json|svg|glsl)|([A-Z][a-z0-9]*)+\\.(tsx|module\\.css))$`,
    );
    // It runs in the browser as it is written: nothing builds a service worker.
    const asWritten = ['src/app/offline.js'];
    expect(source.filter((path) => !named.test(path) && !asWritten.includes(path))).toEqual([]);
    expect(source.filter((path) => /\/(utils?|helpers?|misc|common)[./]/.test(path))).toEqual([]);
  });

  test.each(OF_ONE_MACHINE)('names no place of one machine: %s', (pattern) => {
    expect(linesLike(pattern)).toEqual([]);
  });

  test('leaves nothing marked unfinished', () => {
    const written = linesLike(UNFINISHED).filter((line) => /^(src|tests)\//.test(line));
    expect(written.filter((line) => !line.startsWith('tests/house/layout.test.ts'))).toEqual([]);
  });

  test('pins every package to one version', () => {
    const { dependencies, devDependencies } = JSON.parse(readText('package.json')) as Record<
      string,
      Record<string, string>
    >;
    const loose = Object.entries({ ...dependencies, ...devDependencies }).filter(
      ([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version),
    );
    expect(loose).toEqual([]);
  });
});

describe('the places of one machine', () => {
  const found = (line: string): boolean => OF_ONE_MACHINE.some((pattern) => pattern.test(line));
  test.each(['home/ada/x', 'Users/ada', 'tmp/run-1'])('catches /%s', (path) => {
    expect(found(`"${'/'}${path}"`)).toBe(true);
  });
  test.each(['../shared/data', 'src/work/home', 'https://example.org/home/page', '</root>', '/usr/bin/chromium'])(
    'passes %s',
    (path) => {
      expect(found(path)).toBe(false);
    },
  );
});
