import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

const fromRoot = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** A program for Node in one file: `--mode cli` is the command line, `--mode bench` the speed table. */
const nodeBuild = (entry: string, outDir: string, name: string, minify: boolean) => ({
  ssr: fromRoot(entry),
  outDir: fromRoot(outDir),
  emptyOutDir: true,
  target: 'node20',
  minify,
  rolldownOptions: { output: { entryFileNames: `${name}.js`, codeSplitting: false } },
});

export default defineConfig(({ mode }) => {
  if (mode === 'cli') {
    return {
      build: nodeBuild('src/cli/main.ts', 'dist/cli', 'lacuna', true),
      // Everything goes into the one file, except the rasteriser: its wasm is looked up beside it, and only for PNG.
      ssr: { noExternal: true, external: ['@resvg/resvg-wasm'] },
    };
  }
  if (mode === 'bench') {
    return { build: nodeBuild('tests/bench/bench.ts', 'dist/bench', 'bench', false) };
  }
  return {
    root: fromRoot('src/app'),
    base: './',
    plugins: [react()],
    worker: { format: 'es' as const },
    server: { fs: { allow: [fromRoot('.')] } },
    build: { outDir: fromRoot('dist/app'), emptyOutDir: true, target: 'es2023' },
    test: {
      root: fromRoot('.'),
      maxWorkers: 2,
      projects: [
        {
          extends: true as const,
          test: {
            name: 'unit',
            environment: 'node',
            include: ['tests/**/*.test.{ts,tsx}'],
            exclude: ['tests/browser/**', 'tests/bench/**'],
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
