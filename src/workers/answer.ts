import {
  type CheckResult,
  type Coverage,
  createCoverage,
  sendCoverage,
  updateCoverage,
} from '../core/coverage/index.ts';
import type { Floor } from '../core/floor/index.ts';
import { judgeWithPlan } from '../core/planning/judge.ts';
import { planMasks } from '../core/planning/masks/plan-masks.ts';
import { computeBodies } from '../core/planning/question/bodies.ts';
import { compareFloors } from '../core/planning/question/compare.ts';
import { computeDifference } from '../core/planning/question/difference.ts';
import { findMoveRoom } from '../core/planning/question/move-room.ts';
import { stressFloor } from '../core/planning/question/stress.ts';
import { sweepHeights } from '../core/planning/question/sweep.ts';
import type { ArrangeRequest, JobKind, JobOutput, Reply, Request } from './protocol.ts';

/** Arranging has a worker of its own. */
type PlainRequest = Exclude<Request, ArrangeRequest>;

/** Sends a reply and hands the listed buffers over with it. */
export type PostReply = (reply: Reply, transfer: ArrayBuffer[]) => void;

/**
 * Does one job and posts its replies: the whole of a worker but its wiring. Never throws: what goes wrong is posted as
 * `failed`, after which the worker should not be used again.
 */
export function answer(request: PlainRequest, post: PostReply): void {
  const { jobId } = request;
  try {
    let told = 0;
    const onProgress = (share: number): void => {
      // A hundredth is as fine as anybody looks.
      if (share < told + 0.01) return;
      told = share;
      post({ type: 'progress', jobId, share }, []);
    };
    post({ type: 'progress', jobId, share: 0 }, []);
    const output = runJob(request, onProgress);
    post({ type: 'done', jobId, output }, listBuffers(output));
  } catch (error) {
    post({ type: 'failed', jobId, message: error instanceof Error ? error.message : String(error) }, []);
  }
}

function runJob(request: PlainRequest, onProgress: (share: number) => void): JobOutput<JobKind> {
  switch (request.type) {
    case 'check':
      return checkAgain(request.input);
    case 'cover':
      return sendCoverage(createCoverage(request.input));
    case 'stress':
      return stressFloor(request.input, onProgress);
    case 'moveRoom':
      return findMoveRoom(request.input, {}, onProgress);
    case 'sweep':
      return sweepHeights(request.input.floor, request.input.pieces);
    case 'compare':
      return compareStates(request.input.old, request.input.now);
    case 'masks':
      return planMasks(request.input.floor, request.input.subject, onProgress);
    case 'bodies':
      return computeBodies(request.input.floor, request.input.posture);
  }
}

/** The coverage of the last check: most of the next floor is the same. Null while it is not whole. */
let kept: Coverage | null = null;

/** What `judgeFloor` says, working out anew only what differs from the floor checked before. */
function checkAgain(floor: Floor): CheckResult {
  const coverage = kept;
  kept = null;
  let now: Coverage;
  if (coverage === null) now = createCoverage(floor);
  else {
    updateCoverage(coverage, floor);
    now = coverage;
  }
  const result = judgeWithPlan(now);
  kept = now;
  return result;
}

function compareStates(old: Floor, now: Floor): JobOutput<'compare'> {
  const [was, is] = [createCoverage(old), createCoverage(now)];
  return {
    compared: compareFloors({ floor: old, result: judgeWithPlan(was) }, { floor: now, result: judgeWithPlan(is) }),
    differences: [computeDifference(was, is, 'seated'), computeDifference(was, is, 'walking')],
  };
}

/** Buffers smaller than this are copied: handing over thousands of small ones takes longer. */
const SMALL_BUFFER = 16_384;

/** Every large buffer under the typed arrays of plain data, once each. */
function listBuffers(value: unknown): ArrayBuffer[] {
  const buffers = new Set<ArrayBuffer>();
  const visited = new Set<object>();
  const visit = (each: unknown): void => {
    if (typeof each !== 'object' || each === null || visited.has(each)) return;
    visited.add(each);
    if (ArrayBuffer.isView(each)) {
      if (each.buffer instanceof ArrayBuffer && each.buffer.byteLength >= SMALL_BUFFER) buffers.add(each.buffer);
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
