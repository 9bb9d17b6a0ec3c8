import { expect, test } from 'vitest';
import { guardEngine } from '../../src/cli/guarded-engine.ts';
import { createFolder } from './terminal.ts';

const put = createFolder();

/** Runs a thread of these lines behind the guard; answers what came of it and how far it said it was. */
async function run(name: string, lines: string, patience: number) {
  const script = put(`${name}.cjs`, `const { parentPort, workerData } = require('node:worker_threads');\n${lines}`);
  const shares: number[] = [];
  const meshed = await guardEngine(script, patience).mesh(Uint8Array.of(1, 2, 3), [7, 8], (share) =>
    shares.push(share),
  );
  return { meshed, shares };
}

test('what the thread has made comes through, from the bytes and the products it was handed', async () => {
  const { meshed, shares } = await run(
    'good',
    `const { bytes, ids } = workerData;
    parentPort.postMessage({ share: 0.5 });
    parentPort.postMessage({ meshed: { meshes: new Map(ids.map((id) => [id, [bytes.length]])), failure: undefined } });`,
    20_000,
  );
  expect(shares).toEqual([0.5]);
  expect(meshed).toEqual({
    meshes: new Map([
      [7, [3]],
      [8, [3]],
    ]),
    failure: undefined,
  });
});

test.each([
  ['never comes back', 'for (;;);', 300, 'the geometry engine did not come back within 0.3 s'],
  [
    'stops after a batch',
    'parentPort.postMessage({ share: 0.1 }); for (;;);',
    300,
    'the geometry engine did not come back within 0.3 s',
  ],
  ['throws', "throw new Error('no wasm')", 20_000, 'the geometry engine failed (no wasm)'],
  ['ends without a word', 'process.exit(3)', 20_000, 'the geometry engine ended before it was done'],
])('a thread that %s is given up and said so', async (name, lines, patience, failure) => {
  const { meshed } = await run(name.replaceAll(' ', '-'), lines, patience);
  expect(meshed).toEqual({ meshes: new Map(), failure });
});
