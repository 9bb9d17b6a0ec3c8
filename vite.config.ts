import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

const fromRoot = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** The command line: a launcher, the program as CommonJS (it starts sooner), and what only some verbs load. */
const cliBuild = {
  ssr: true,
  outDir: fromRoot('dist/cli'),
  emptyOutDir: true,
  target: 'node20',
  minify: true,
  rolldownOptions: {
    input: { lacuna: fromRoot('src/cli/launch.ts'), program: fromRoot('src/cli/main.ts') },
    output: { format: 'cjs' as const, entryFileNames: '[name].js', chunkFileNames: '[name].js' },
  },
};

/** Marks the folder as CommonJS, and runs the program once so that it leaves its compiled code beside it. */
const leaveCompiledCode = (): Plugin => ({
  name: 'leave-compiled-code',
  writeBundle({ dir = '' }) {
    writeFileSync(join(dir, 'package.json'), '{ "type": "commonjs" }\n');
    const run = spawnSync(
      process.execPath,
      [join(dir, 'lacuna.js'), 'check', fromRoot('models/floors/small-rooms.json')],
      {
        env: { ...process.env, LACUNA_WRITE_CODE_CACHE: '1' },
        encoding: 'utf8',
      },
    );
    if (run.stderr !== '') throw new Error(`The command line was built and does not run: ${run.stderr}`);
  },
});

/** The speed table, a program for Node in one file. */
const benchBuild = {
  ssr: fromRoot('tests/bench/bench.ts'),
  outDir: fromRoot('dist/bench'),
  emptyOutDir: true,
  target: 'node20',
  minify: false,
  rolldownOptions: { output: { entryFileNames: 'bench.js', codeSplitting: false } },
};

/** What the first heat map needs in any case, in one piece: many small ones are compressed worse. */
const START = {
  name: 'start',
  test: /src\/(core\/(floor|geometry|sight|coverage)|editor\/(store|locks|history|view|things|recipes|nudges|findings|tool-run|quantity)\.ts|ui\/panels\/(words|format|focus|commands|context|dialog-state|rule-marks|tool-words|Ledger|NoteHead|actions)\.tsx?)|node_modules\/(mutative|react|scheduler|zustand)\//u,
};

export default defineConfig(({ mode }) => {
  if (mode === 'cli') {
    return {
      build: cliBuild,
      plugins: [leaveCompiledCode()],
      // Every package goes in, except the rasteriser, the solver and the reader of shapes (their wasm is looked up beside
      // them, and only when it is asked for) and the printer of PDF, which is one large file already.
      ssr: { noExternal: true, external: ['@resvg/resvg-wasm', 'pdfmake', 'highs', 'web-ifc'] },
    };
  }
  if (mode === 'bench') {
    return { build: benchBuild };
  }
  return {
    root: fromRoot('src/app'),
    base: './',
    plugins: [react()],
    worker: { format: 'es' as const },
    server: { fs: { allow: [fromRoot('.')] } },
    build: {
      outDir: fromRoot('dist/app'),
      emptyOutDir: true,
      target: 'es2023',
      rolldownOptions: { output: { codeSplitting: { groups: [START] } } },
    },
    test: {
      root: fromRoot('.'),
      maxWorkers: 2,
      projects: [
        {
          extends: true as const,
          test: {
            name: 'unit',
            environment: 'node',
            // A busy machine takes its time; no unit test measures it.
            testTimeout: 120_000,
            include: ['tests/**/*.test.{ts,tsx}'],
            exclude: ['tests/browser/**'],
          },
        },
        {
          extends: true as const,
          test: {
            name: 'browser',
            environment: 'node',
            include: ['tests/browser/**/*.test.ts'],
            globalSetup: ['tests/browser/serve-app.ts'],
            fileParallelism: false,
            testTimeout: 60_000,
            hookTimeout: 60_000,
          },
        },
      ],
    },
  };
});
