import { createCoverage } from '../core/coverage/index.ts';
import { judgeFloor } from '../core/planning/judge.ts';
import type { JobKind, JobOutput, Reply, Request } from './protocol.ts';

/** Sends a reply and hands the listed buffers over with it. */
export type PostReply = (reply: Reply, transfer: ArrayBuffer[]) => void;

/**
 * Does one job and posts its replies: the whole of a worker but its wiring. Never throws: what goes wrong is posted as
 * `failed`, after which the worker should not be used again.
 */
export function answer(request: Request, post: PostReply): void {
  const { jobId } = request;
  try {
    post({ type: 'progress', jobId, share: 0 }, []);
    const output = runJob(request);
    post({ type: 'done', jobId, output }, listBuffers(output));
  } catch (error) {
    post({ type: 'failed', jobId, message: error instanceof Error ? error.message : String(error) }, []);
  }
}

function runJob(request: Request): JobOutput<JobKind> {
  switch (request.type) {
    case 'check':
      return judgeFloor(request.input);
    case 'cover':
      return createCoverage(request.input);
  }
}

/** Every buffer under the typed arrays of plain data, once each. */
function listBuffers(value: unknown): ArrayBuffer[] {
  const buffers = new Set<ArrayBuffer>();
  const visited = new Set<object>();
  const visit = (each: unknown): void => {
    if (typeof each !== 'object' || each === null || visited.has(each)) return;
    visited.add(each);
    if (ArrayBuffer.isView(each)) {
      if (each.buffer instanceof ArrayBuffer) buffers.add(each.buffer);
    } else if (Array.isArray(each)) {
      for (const item of each) visit(item);
    } else if (each instanceof Map) {
      for (const [key, item] of each) {
        visit(key);
        visit(item);
      }
    } else {
      for (const item of Object.values(each)) visit(item);
    }
  };
  visit(value);
  return [...buffers];
}
