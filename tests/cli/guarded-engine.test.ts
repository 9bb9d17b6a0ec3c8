import { expect, test } from 'vitest';
import { spawnThread } from '../../src/cli/guarded-engine.ts';
import { guardEngine } from '../../src/workers/guarded-engine.ts';
import { createFolder } from './terminal.ts';

const put = createFolder();

/** Runs a thread of these lines behind the guard; answers what came of it and how far it said it was. */
async function run(name: string, lines: string, patience: number) {
  const script = put(`${name}.cjs`, `const { parentPort, workerData } = require('node:worker_threads');\n${lines}`);
  const shares: number[] = [];
  const meshed = await guardEngine(spawnThread(script), patience).mesh(Uint8Array.of(1, 2, 3), [7, 8], (share) =>
    shares.push(share),
  );
  return { meshed, shares };
}

test('what the thread has made comes through, from the bytes and the products it was handed', async () => {
  const { meshed, shares } = await run(
    'good',
    `const { bytes, ids } = workerData;
    ids.forEach((id, n) => parentPort.postMessage({ share: (n + 1) / 2, meshes: new Map([[id, [bytes.length]]]) }));
    parentPort.postMessage({ isDone: true, failure: 'one was empty' });`,
    20_000,
  );
  expect(shares).toEqual([0.5, 1]);
  expect(meshed).toEqual({
    meshes: new Map([
      [7, [3]],
      [8, [3]],
    ]),
    failure: 'one was empty',
  });
});

test.each([
  ['never comes back', 'for (;;);', 300, [], 'the geometry engine did not come back within 0.3 s'],
  [
    'stops after a batch',
    'parentPort.postMessage({ share: 0.1, meshes: new Map([[7, []]]) }); for (;;);',
    4_000,
    [7],
    'the geometry engine did not come back within 4 s',
  ],
  ['throws', "throw new Error('no wasm')", 20_000, [], 'the geometry engine failed (no wasm)'],
  ['ends without a word', 'process.exit(3)', 20_000, [], 'the geometry engine ended before it was done'],
])(
  'a thread that %s is given up and said so; what it had finished is kept',
  async (name, lines, patience, kept, failure) => {
    const { meshed } = await run(name.replaceAll(' ', '-'), lines, patience);
    expect([...meshed.meshes.keys()]).toEqual(kept);
    expect(meshed.failure).toBe(failure);
  },
);
