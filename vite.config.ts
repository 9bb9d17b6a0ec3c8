import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
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
    input: {
      lacuna: fromRoot('src/cli/launch.ts'),
      program: fromRoot('src/cli/main.ts'),
      'engine-thread': fromRoot('src/cli/engine-thread.ts'),
    },
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

/** The page that carries one floor: script, style and faces in one file, put together by `oneFile`. */
const shareBuild = {
  outDir: fromRoot('dist/share'),
  emptyOutDir: true,
  target: 'es2023',
  assetsInlineLimit: Number.MAX_SAFE_INTEGER,
  cssCodeSplit: false,
  modulePreload: false as const,
  rolldownOptions: { input: fromRoot('src/app/share.html'), output: { codeSplitting: false } },
};

/** Puts the script and the style of a page into it, so that it opens from disk with nothing beside it. */
const oneFile = (): Plugin => ({
  name: 'one-file',
  enforce: 'post',
  generateBundle(_options, bundle) {
    // The worker stands in the script; a copy beside it is for pages of several files.
    const isSpare = (name: string) => /\.worker-[^/]*\.js$/u.test(name);
    for (const name of Object.keys(bundle)) if (isSpare(name)) delete bundle[name];
    const files = Object.values(bundle);
    const page = files.find((file) => file.type === 'asset' && file.fileName.endsWith('.html'));
    const script = files.find((file) => file.type === 'chunk');
    const styles = files.filter((file) => file.type === 'asset' && file.fileName.endsWith('.css'));
    if (page?.type !== 'asset' || script?.type !== 'chunk' || files.length !== styles.length + 2) {
      this.error(`One page and one script were expected, there are: ${files.map((file) => file.fileName).join(', ')}.`);
    }
    const css = styles.map((file) => (file.type === 'asset' ? String(file.source) : '')).join('\n');
    // What stands in a script element ends at the first end tag, wherever it is written.
    // Nothing is preloaded: there is nothing beside the page.
    const alone = script.code.replaceAll('__VITE_PRELOAD__', 'void 0');
    const code = alone.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--');
    const html = String(page.source)
      .replaceAll(/<script type="module"[^>]*><\/script>/gu, '')
      .replaceAll(/<link rel="stylesheet"[^>]*>/gu, () => `<style>${css}</style>`)
      .replace('</body>', () => `<script type="module">${code}</script>\n  </body>`);
    for (const file of files) delete bundle[file.fileName];
    this.emitFile({ type: 'asset', fileName: 'share.html', source: html });
  },
});

const sharePage = fromRoot('dist/share/share.html');

/** Lays the page to be shared beside the app, from where it is fetched. */
const laySharePage = (): Plugin => ({
  name: 'lay-share-page',
  apply: 'build',
  buildStart() {
    if (!existsSync(sharePage)) this.error('The page to be shared is not built: npm run build:share');
    this.emitFile({ type: 'asset', fileName: 'share-page.html', source: readFileSync(sharePage) });
  },
});

/** While developing it is served from where it was built. */
const serveSharePage = (): Plugin => ({
  name: 'serve-share-page',
  apply: 'serve',
  configureServer(server) {
    server.middlewares.use('/share-page.html', (_request, response) => {
      response.setHeader('Content-Type', 'text/html; charset=utf-8');
      if (existsSync(sharePage)) response.end(readFileSync(sharePage));
      else response.writeHead(404).end();
    });
  },
});

/** Makes the app one that can be installed and works without a network: its manifest, its icon, and who keeps its files. */
const workOffline = (): Plugin => ({
  name: 'work-offline',
  apply: 'build',
  enforce: 'post',
  generateBundle(_options, bundle) {
    const icon = readFileSync(fromRoot('src/app/icon.svg'));
    const manifest = {
      name: 'Lacuna',
      short_name: 'Lacuna',
      description: 'Finds the blind spots under a ceiling.',
      start_url: './index.html',
      scope: './',
      display: 'standalone',
      background_color: '#e9ecee',
      theme_color: '#e9ecee',
      icons: [{ src: './icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' }],
    };
    this.emitFile({ type: 'asset', fileName: 'icon.svg', source: icon });
    this.emitFile({ type: 'asset', fileName: 'manifest.webmanifest', source: JSON.stringify(manifest) });
    const files = [...Object.keys(bundle), 'icon.svg', 'manifest.webmanifest'].sort();
    const kept = ['./', ...files.map((name) => `./${name}`)];
    const build = createHash('sha256');
    for (const name of files) {
      const file = bundle[name];
      build.update(name).update(file?.type === 'chunk' ? file.code : (file?.source ?? ''));
    }
    const source = readFileSync(fromRoot('src/app/offline.js'), 'utf8')
      .replace("['__FILES__']", () => JSON.stringify(kept))
      .replace('__BUILD__', () => build.digest('hex').slice(0, 16));
    this.emitFile({ type: 'asset', fileName: 'offline.js', source });
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
  test: /src\/(core\/(floor|geometry|sight|coverage)|editor\/(store|locks|history|view|things|recipes|nudges|findings|tool-run|quantity|storage\/kept-floor)\.ts|app\/new-floor\.ts|workers\/(pool|floor-wire)\.ts|ui\/tokens\.ts|ui\/scene\/lens-height\.ts|ui\/panels\/(kept-news|page-keys|pasted-workplaces|fault-text|FloorNote|Dialog|words|format|focus|commands|context|dialog-state|rule-marks|tool-words|Ledger|NoteHead|actions)\.tsx?)|node_modules\/(mutative|react|scheduler|zustand)\//u,
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
  if (mode === 'share') {
    return {
      root: fromRoot('src/app'),
      base: './',
      plugins: [react(), oneFile()],
      worker: { format: 'iife' as const },
      build: shareBuild,
    };
  }
  return {
    root: fromRoot('src/app'),
    base: './',
    plugins: [react(), laySharePage(), serveSharePage(), workOffline()],
    worker: { format: 'es' as const },
    server: { fs: { allow: [fromRoot('.')] } },
    build: {
      outDir: fromRoot('dist/app'),
      emptyOutDir: true,
      target: 'es2023',
      // Every browser that runs the rest preloads by itself.
      modulePreload: { polyfill: false },
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
