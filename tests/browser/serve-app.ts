import { execSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { preview } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the app under test is served, ending in a slash. */
    appUrl: string;
  }
}

/** Builds the app as a user gets it and serves it on a free port for the browser tests. */
export default async function serveApp(project: TestProject): Promise<() => Promise<void>> {
  const top = fileURLToPath(new URL('../..', import.meta.url));
  // In a process of its own: under a test run's NODE_ENV Vite would build React's development version.
  const env = { ...process.env, NODE_ENV: 'production' };
  execSync('npm run --silent build -- --logLevel warn', { cwd: top, env, stdio: 'inherit' });
  const server = await preview({
    root: top,
    configFile: false,
    logLevel: 'warn',
    build: { outDir: 'dist/app' },
    preview: { host: '127.0.0.1', port: 0 },
  });
  const address = server.httpServer.address();
  if (address === null || typeof address === 'string') throw new Error('The preview server has no port.');
  project.provide('appUrl', `http://127.0.0.1:${address.port}/`);
  return () => server.close();
}
