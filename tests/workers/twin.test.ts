import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { build } from 'vite';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { adoptCoverage, type Coverage, createCoverage } from '../../src/core/coverage/index.ts';
import { type Floor, parseFloor } from '../../src/core/floor/index.ts';
import { createPool, JobFailed, JobSuperseded, type Pool } from '../../src/workers/pool.ts';
import type { Reply } from '../../src/workers/protocol.ts';
import { createTwin } from '../../src/workers/twin.ts';

// Generous: a busy machine is no fault.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

let folder: string;
let threads: Pool;
const twin = createTwin();

/** Makes a thread look like a browser's worker from within: `self`, `onmessage` and `postMessage`. */
const ADAPTER = `
const { parentPort, workerData } = require('node:worker_threads');
globalThis.self = globalThis;
globalThis.postMessage = (message, transfer) => parentPort.postMessage(message, transfer);
const waiting = [];
parentPort.on('message', (data) => (globalThis.onmessage ? globalThis.onmessage({ data }) : waiting.push(data)));
import(workerData).then(() => waiting.splice(0).forEach((data) => globalThis.onmessage({ data })));
`;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lacuna-worker-'));
  const entry = fileURLToPath(new URL('../../src/workers/check.worker.ts', import.meta.url));
  await build({
    configFile: false,
    logLevel: 'warn',
    build: { outDir: folder, emptyOutDir: true, lib: { entry, formats: ['es'], fileName: () => 'check.worker.mjs' } },
  });
  threads = createPool((_kind, onReply, onDeath) => {
    const worker = new Worker(ADAPTER, { eval: true, workerData: `file://${folder}/check.worker.mjs` });
    worker.on('message', (reply: Reply) => onReply(reply));
    worker.on('error', (error) => onDeath(error.message));
    return { post: (request) => worker.postMessage(request), end: () => void worker.terminate() };
  });
});

afterAll(async () => {
  threads.close();
  twin.close();
  await rm(folder, { recursive: true, force: true });
});

function readFloor(name: string): Floor {
  const parsed = parseFloor(readFileSync(new URL(`../models/${name}`, import.meta.url), 'utf8'));
  if (!parsed.ok) throw new Error(`${name} is no floor: ${JSON.stringify(parsed.faults)}`);
  return parsed.floor;
}

/** Every path into the data with what stands there; typed arrays by kind and by a digest of their bytes. */
function listValues(value: unknown, path = ''): string[] {
  if (ArrayBuffer.isView(value)) {
    const bytes = new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
    return [`${path}: ${value.constructor.name} ${createHash('sha256').update(bytes).digest('hex')}`];
  }
  if (typeof value !== 'object' || value === null) return [`${path}: ${Object.is(value, -0) ? '-0' : String(value)}`];
  const entries = value instanceof Map ? [...value] : Object.entries(value);
  return [
    `${path}: ${value.constructor.name} of ${entries.length}`,
    ...entries.flatMap(([key, each]) => listValues(each, `${path}/${String(key)}`)),
  ];
}

test.each(['scenario-a.json', 'scenario-b.json'])('%s: a worker and its twin give identical bytes', async (name) => {
  const floor = readFloor(name);
  const [ofThread, ofTwin] = await Promise.all([threads.run('check', floor), twin.run('check', floor)]);
  expect(ofThread.format).toBe('lacuna-check/1');
  expect(JSON.stringify(ofThread)).toBe(JSON.stringify(ofTwin));

  const [fieldsOfThread, fieldsOfTwin] = await Promise.all([threads.run('cover', floor), twin.run('cover', floor)]);
  expect(
    fieldsOfThread.seated.count.some((count) => count > 0) || fieldsOfThread.walking.count.some((count) => count > 0),
  ).toBe(true);
  const [ofThreads, ofTwins] = [listValues(fieldsOfThread), listValues(fieldsOfTwin)];
  expect(ofThreads.length).toBeGreaterThan(200);
  expect(ofThreads).toEqual(ofTwins);
});

test('a thread that is called off in the middle is replaced, and the next job is answered', async () => {
  const floor = readFloor('scenario-a.json');
  const older = threads.run('check', floor);
  const newer = threads.run('check', floor);
  await expect(older).rejects.toBeInstanceOf(JobSuperseded);
  expect((await newer).workplaces).toHaveLength(5);
});

test.each([
  ['thread', () => threads],
  ['twin', () => twin],
])('what goes wrong in a %s is said, and the next job is answered', async (_where, pool) => {
  const broken = { ...readFloor('scenario-a.json'), rooms: null } as unknown as Floor;
  await expect(pool().run('check', broken)).rejects.toBeInstanceOf(JobFailed);
  expect((await pool().run('check', readFloor('scenario-a.json'))).workplaces).toHaveLength(5);
});

test('the twin keeps neither side able to change the other’s data', async () => {
  const floor = readFloor('scenario-a.json');
  const coverage = adoptCoverage(await twin.run('cover', floor), floor);
  expect(coverage.floor).toBe(floor);
  // Bins keep count of what they were asked.
  const list = (each: Coverage) => listValues({ ...each, scene: { ...each.scene, bins: null } }).sort();
  expect(list(coverage)).toEqual(list(createCoverage(floor)));
  coverage.seated.count.fill(99);
  coverage.grid.room.fill(-1);
  const again = adoptCoverage(await twin.run('cover', floor), floor);
  expect(list(again)).toEqual(list(createCoverage(floor)));
});
