/** Random hands on every tool: nothing throws, nothing faulty is committed, and cancelling gives the start back. */
import { create } from 'mutative';
import { describe, expect, test } from 'vitest';
import { createCoverage } from '../../../src/core/coverage/index.ts';
import { type FloorFile, type Point, resolveFloor, validateFloor } from '../../../src/core/floor/index.ts';
import { computeBox } from '../../../src/core/geometry/polygon.ts';
import { detectorTool } from '../../../src/editor/tools/detector.ts';
import { furnitureTool } from '../../../src/editor/tools/furniture.ts';
import { groupTool } from '../../../src/editor/tools/group.ts';
import { luminaireTool } from '../../../src/editor/tools/luminaire.ts';
import { measureTool } from '../../../src/editor/tools/measure.ts';
import { openingTool } from '../../../src/editor/tools/opening.ts';
import { TOOLS } from '../../../src/editor/tools/registry.ts';
import { roomTool } from '../../../src/editor/tools/room.ts';
import { selectTool } from '../../../src/editor/tools/select.ts';
import { sourceTool } from '../../../src/editor/tools/source.ts';
import { splitTool } from '../../../src/editor/tools/split.ts';
import type { Tool, ToolContext, ToolEvent } from '../../../src/editor/tools/tool.ts';
import { workplaceTool } from '../../../src/editor/tools/workplace.ts';
import { zoneTool } from '../../../src/editor/tools/zone.ts';
import { randomFloor } from '../../models/generate-floor.ts';
import { createRandom, type Random } from '../../models/random.ts';
import { createToolContext } from './drive-tool.ts';
import { MIXED_FLOOR } from './mixed-floor.ts';

const EVENTS = 20_000;
const NOTHING: Partial<FloorFile> = {
  openings: [],
  furniture: [],
  luminaires: [],
  workplaces: [],
  zones: [],
  sources: [],
  detectors: [],
  groups: [],
};
/** A floor that has grown beyond this, or was changed so often, begins anew: a step stays quick, and there is room for more. */
const MOST_THINGS = 120;
const MOST_CHANGES = 8;

const ALL: readonly Tool<unknown>[] = [
  selectTool,
  roomTool,
  splitTool,
  openingTool,
  furnitureTool,
  detectorTool,
  groupTool,
  zoneTool,
  sourceTool,
  workplaceTool,
  luminaireTool,
  measureTool,
];

const KEYS = [
  ...[
    'Enter',
    'Enter',
    'Enter',
    'Enter',
    'Backspace',
    'Escape',
    'Tab',
    'Delete',
    'F2',
    ' ',
    '@',
    '.',
    '[',
    ']',
    '{',
    '}',
  ],
  ...['ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowRight'],
  ...'abcccdefghlmnoprstuvwx0123456789',
];
const OVER = [null, 'F1', 'D1', 'D2', 'D3', 'D4', 'hall', 'O1', 'gone'];
const TEXTS = [
  '5.4',
  '5.4 8.1',
  '5.4 @30',
  '@90',
  '3 -2',
  'row 4 1.6',
  'row 3',
  'row 2 1.6 2 3',
  'x2',
  'x2 1.4',
  'fill',
  'fill 2.5',
  'at 14 3',
  '0.3 0.9',
  '0',
  '-1',
  '1e9',
  '99999999999',
  '8\' 2 1/2"',
  '245 cm',
  '😀 ‮',
  '5.4 @@ 3',
];

/** Where the hand goes on a floor. */
interface Field {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly depth: number;
}

const MIXED_FIELD: Field = { x: 0, y: 0, width: 19, depth: 10 };

function randomEvent(random: Random, field: Field): ToolEvent {
  const modifiers = { shift: random.chance(0.15), alt: random.chance(0.1), ctrl: random.chance(0.1) };
  const kind = random.next();
  if (kind < 0.6) {
    const type = random.pick(['pointer-move', 'pointer-move', 'pointer-down', 'pointer-up', 'pointer-up'] as const);
    const near = random.chance(0.7);
    // Beside the rooms there is room for more.
    const right = random.chance(0.3) ? field.width + 1 : 0;
    const coordinate = (most: number): number =>
      near ? random.whole(-4, Math.round(most * 2)) / 2 + random.between(-0.1, 0.1) : random.between(-3, most + 3);
    return {
      type: random.chance(0.02) ? 'pointer-cancel' : type,
      at: [field.x + coordinate(field.width) + right, field.y + coordinate(field.depth)],
      metresPerPixel: random.pick([0.002, 0.02, 0.02, 0.1]),
      modifiers,
      pointerType: random.pick(['mouse', 'pen', 'touch']),
      ...(random.chance(0.2) ? { over: random.pick(OVER) } : {}),
    };
  }
  if (kind < 0.95) return { type: 'key', key: random.pick(KEYS), modifiers };
  if (kind < 0.995) return { type: 'text', text: random.pick(TEXTS) };
  return { type: 'cancel' };
}

/** Mostly one event after another, now and then a whole drag after everything was put back. */
function* randomEvents(random: Random, field: Field): Generator<ToolEvent, never> {
  for (;;) {
    if (!random.chance(0.01)) {
      yield randomEvent(random, field);
      continue;
    }
    const modifiers = { shift: false, alt: false, ctrl: false };
    const x = field.x + random.whole(-2, Math.round(field.width * 2) + 2);
    const y = field.y + random.whole(-2, Math.round(field.depth) + 1);
    const to: Point = [x + random.between(-4, 4), y + random.between(-4, 4)];
    const rest = { metresPerPixel: 0.02, modifiers, pointerType: 'mouse' } as const;
    yield { type: 'cancel' };
    yield { type: 'pointer-down', at: [x, y], ...rest };
    yield { type: 'pointer-move', at: to, ...rest };
    yield { type: 'pointer-up', at: to, ...rest };
  }
}

function countThings(file: FloorFile): number {
  const lists = [file.rooms, file.openings, file.furniture, file.luminaires, file.workplaces, file.zones, file.sources];
  return [...lists, file.detectors, file.groups].reduce((sum, list) => sum + (list?.length ?? 0), 0);
}

interface Run {
  readonly commits: number;
  readonly refusals: number;
  readonly cancels: number;
  readonly file: FloorFile;
}

/** Sends events; every claim is checked after each one of them. */
function run(tool: Tool<unknown>, seed: number, events: number, start = MIXED_FLOOR, field = MIXED_FIELD): Run {
  const random = createRandom(seed);
  const hand = randomEvents(random, field);
  let context: ToolContext = createToolContext(start);
  let state = tool.start(context);
  let [commits, refusals, cancels] = [0, 0, 0];
  for (let i = 0; i < events; i += 1) {
    const event = hand.next().value;
    const step = tool.on(state, event, context);
    const isCancel = event.type === 'cancel' || (event.type === 'key' && event.key === 'Escape');
    state = step.state;
    context = { ...context, pointer: step.cursor, selection: step.select ?? context.selection };
    if (step.refused) {
      refusals += 1;
      expect(step.says, 'a refusal says why').toBeTruthy();
      expect(step.commit).toBeNull();
    }
    if (isCancel) {
      cancels += 1;
      expect(step.commit).toBeNull();
      expect(state).toEqual(tool.start(context));
    }
    if (step.commit !== null) {
      commits += 1;
      const file = create(context.file, step.commit.recipe);
      const parsed = validateFloor(file);
      if (!parsed.ok) throw new Error(`${JSON.stringify(step.commit.intent)}: ${JSON.stringify(parsed.faults)}`);
      const isFull = countThings(file) > MOST_THINGS || commits % MOST_CHANGES === 0;
      const next = isFull ? start : file;
      context = { ...context, file: next, floor: resolveFloor(next) };
      if (next === start) state = tool.start({ ...context, selection: [] });
    } else if (step.preview !== null && i % 7 === 0) {
      // A preview need not be a sound floor, but it can always be shown.
      const preview = resolveFloor(create(context.file, step.preview.recipe));
      if (random.chance(0.02)) createCoverage(preview);
    }
    if (random.chance(0.05))
      context = {
        ...context,
        selection: random.pick([[], ['F1'], ['F3'], ['hall'], ['O1'], ['D2'], ['L1'], ['W1', 'F2'], ['G1']]),
      };
  }
  return { commits, refusals, cancels, file: context.file };
}

describe.each(ALL.map((tool) => [tool.id, tool] as const))('random events on the %s tool', (id, tool) => {
  test(`never commit a faulty floor, seed 7, ${EVENTS} events`, { timeout: 120_000 }, () => {
    const { commits, refusals, cancels } = run(tool, 7, EVENTS);
    expect(cancels).toBeGreaterThan(100);
    if (id === 'measure') expect(commits).toBe(0);
    else {
      expect(commits).toBeGreaterThan(20);
      expect(refusals).toBeGreaterThan(20);
    }
  });

  test('give the same floor twice, seed 8', () => {
    expect(run(tool, 8, 600)).toEqual(run(tool, 8, 600));
  });
});

/** Odd outlines everywhere, and a floor whose coordinates are as large as a file may hold. */
test.each([1, 2, 3, 4, 5, 6])('odd floors stay sound under every tool, seed %d', { timeout: 60_000 }, (seed) => {
  const file = randomFloor(seed);
  const box = computeBox(file.rooms.flatMap(({ outline }) => outline));
  const field: Field = { x: box.minX, y: box.minY, width: box.maxX - box.minX, depth: box.maxY - box.minY };
  const commits = ALL.reduce((sum, tool) => sum + run(tool, seed, 250, file, field).commits, 0);
  expect(commits).toBeGreaterThan(10);
});

test('a floor at the bounds of the plan stays sound', { timeout: 60_000 }, () => {
  const far: Point = [9_980, -9_998];
  const room = {
    id: 'R1',
    name: 'Room',
    ceiling: 3,
    outline: [far, [9_990, -9_998], [9_990, -9_990], [9_980, -9_990]],
  };
  const file: FloorFile = { ...MIXED_FLOOR, rooms: [room as FloorFile['rooms'][number]], ...NOTHING };
  const commits = ALL.reduce(
    (sum, tool) => sum + run(tool, 3, 400, file, { x: 9_980, y: -9_998, width: 10, depth: 8 }).commits,
    0,
  );
  expect(commits).toBeGreaterThan(10);
});

test('every tool of the registry is tried', () => {
  expect(ALL.map((tool) => tool.id).sort()).toEqual(TOOLS.map((tool) => tool.id).sort());
});
