/** Arranging as a job: news on the way, the same answer as in process, and an end at once. */
import { readFileSync } from 'node:fs';
import { expect, test, vi } from 'vitest';
import { type FloorFile, parseFloor } from '../../src/core/floor/index.ts';
import { ARRANGE_DEFAULTS, type ArrangeNews } from '../../src/core/planning/arrange/index.ts';
import { answerArrange } from '../../src/workers/answer-arrange.ts';
import { loadSolver } from '../../src/workers/highs-solver.ts';
import type { ArrangeRequest, Reply } from '../../src/workers/protocol.ts';
import { createTwin } from '../../src/workers/twin.ts';

vi.setConfig({ testTimeout: 120_000 });

function readFile(name: string): FloorFile {
  const parsed = parseFloor(readFileSync(new URL(`../../models/floors/${name}`, import.meta.url), 'utf8'));
  if (!parsed.ok) throw new Error(`${name} is no floor`);
  return parsed.file;
}

const file = readFile('desk-island.json');
const options = { ...ARRANGE_DEFAULTS, types: [file.types[0]?.id] as never, seconds: 30 };

test('the twin brings news, then the answer', async () => {
  const news: ArrangeNews[] = [];
  const arranged = await createTwin().run('arrange', { file, options }, { onNews: (each) => news.push(each) });
  expect(arranged.ok && arranged.result.proved).toBe(true);
  expect(news.at(-1)).toMatchObject({ stage: 'checking' });
  const counts = news.flatMap(({ best }) => (best ? [best.count] : []));
  expect(counts.at(-1)).toBe(arranged.ok && arranged.result.count);
  expect([...counts].sort((a, b) => b - a)).toEqual(counts);
});

test('a solver that cannot be loaded is told, and the search goes on without it', async () => {
  const replies: Reply[] = [];
  const request: ArrangeRequest = { type: 'arrange', jobId: 1, input: { file, options: { ...options, seconds: 2 } } };
  await answerArrange(
    request,
    (reply) => replies.push(reply),
    () => Promise.reject(new Error('no memory')),
  );
  const last = replies.at(-1);
  if (last?.type !== 'done') throw new Error(`It ended with ${last?.type}.`);
  expect(JSON.stringify(last.output)).toContain('no memory');
  expect(last.output).toMatchObject({ ok: true });
  const longer = { ...request, input: { file, options } };
  const proved = await new Promise<Reply>((resolve) => {
    void answerArrange(longer, (reply) => reply.type === 'done' && resolve(reply), loadSolver);
  });
  expect(proved).toMatchObject({ type: 'done', output: { ok: true, result: { proved: true } } });
});

test('called off, it ends at once', async () => {
  const controller = new AbortController();
  const running = createTwin().run('arrange', { file, options }, { signal: controller.signal });
  const from = performance.now();
  controller.abort(new Error('called off'));
  await expect(running).rejects.toThrow('called off');
  expect(performance.now() - from).toBeLessThan(1_000);
});
