/** A tool driven by hand: events in, and each commit made on the floor, as a host does it. */
import { create } from 'mutative';
import { type FloorFile, type Point, resolveFloor, validateFloor } from '../../../src/core/floor/index.ts';
import { SNAP_DEFAULTS } from '../../../src/editor/snapping/snap-kinds.ts';
import type { Intent } from '../../../src/editor/tools/intent.ts';
import type { Modifiers, Step, Tool, ToolContext, ToolEvent } from '../../../src/editor/tools/tool.ts';

const NONE: Modifiers = { shift: false, alt: false, ctrl: false };

/** What a tool may know of a valid file; what is left out is as a fresh editor has it. */
export function createToolContext(
  file: FloorFile,
  rest: Partial<Omit<ToolContext, 'file' | 'floor'>> = {},
): ToolContext {
  return {
    file,
    floor: resolveFloor(file),
    selection: [],
    pointer: null,
    metresPerPixel: 0.02,
    snapping: SNAP_DEFAULTS,
    step: 0.1,
    units: 'metres',
    catalogue: [],
    locked: new Set(),
    ...rest,
  };
}

export class ToolTrial<State> {
  readonly intents: Intent[] = [];
  readonly names: string[] = [];
  /** What was said, the newest last. */
  readonly said: string[] = [];
  private readonly tool: Tool<State>;
  state: State;
  context: ToolContext;
  last: Step<State> | null = null;

  constructor(tool: Tool<State>, file: FloorFile, rest: Partial<ToolContext> = {}) {
    this.tool = tool;
    this.context = createToolContext(file, rest);
    this.state = tool.start(this.context);
  }

  get file(): FloorFile {
    return this.context.file;
  }

  send(event: ToolEvent): Step<State> {
    const step = this.tool.on(this.state, event, this.context);
    this.state = step.state;
    this.last = step;
    if (step.says !== null) this.said.push(step.says);
    const { commit, cursor, select } = step;
    if (commit !== null) {
      const file = create(this.context.file, commit.recipe);
      const parsed = validateFloor(file);
      if (!parsed.ok) throw new Error(`A faulty floor was committed: ${JSON.stringify(parsed.faults)}`);
      this.intents.push(commit.intent);
      this.names.push(commit.name);
      this.context = createToolContext(file, this.rest());
    }
    this.context = { ...this.context, pointer: cursor, selection: select ?? this.context.selection };
    return step;
  }

  private rest(): Partial<ToolContext> {
    const { file: _file, floor: _floor, ...rest } = this.context;
    return rest;
  }

  pointer(type: 'down' | 'move' | 'up' | 'cancel', at: Point, modifiers: Partial<Modifiers> = {}): Step<State> {
    return this.send({
      type: `pointer-${type}`,
      at,
      metresPerPixel: this.context.metresPerPixel,
      modifiers: { ...NONE, ...modifiers },
      pointerType: 'mouse',
    });
  }

  click(x: number, y: number, modifiers: Partial<Modifiers> = {}): Step<State> {
    this.pointer('move', [x, y], modifiers);
    this.pointer('down', [x, y], modifiers);
    return this.pointer('up', [x, y], modifiers);
  }

  /** Presses at the first place, goes by way of the others, and lets go at the last. */
  drag(places: readonly Point[], modifiers: Partial<Modifiers> = {}): Step<State> {
    const [first = [0, 0], ...others] = places;
    this.pointer('move', first, modifiers);
    this.pointer('down', first, modifiers);
    for (const place of others) this.pointer('move', place, modifiers);
    return this.pointer('up', others.at(-1) ?? first, modifiers);
  }

  key(key: string, modifiers: Partial<Modifiers> = {}): Step<State> {
    return this.send({ type: 'key', key, modifiers: { ...NONE, ...modifiers } });
  }

  /** Presses a key so many times. */
  keys(key: string, times: number, modifiers: Partial<Modifiers> = {}): void {
    for (let i = 0; i < times; i += 1) this.key(key, modifiers);
  }

  /** Types the characters one by one. */
  type(text: string): void {
    for (const character of text) this.key(character);
  }

  /** Types a text and presses Enter. */
  enter(text: string): Step<State> {
    this.type(text);
    return this.key('Enter');
  }

  cancel(): Step<State> {
    return this.key('Escape');
  }
}

/** A file with nothing on it. */
export const EMPTY_FLOOR: FloorFile = { format: 'lacuna/1', name: 'Empty', rooms: [], types: [], detectors: [] };
