/** G: makes a group of detectors: the main first, then its extensions. */
import type { Detector, Floor, Point } from '../../core/floor/index.ts';
import { distance } from '../edits/plane.ts';
import { indexOfId } from '../things.ts';
import { defineTool, type Reply } from './define-tool.ts';
import type { Guide } from './guide.ts';
import { ARROWS, isEnter, isPointer, letterOf } from './hand.ts';
import { pickDetectorAt } from './pick.ts';
import type { PointerToolEvent, ToolContext } from './tool.ts';
import { joinHints } from './words.ts';

export interface GroupState {
  /** The detector under the hand; null: none. */
  readonly over: string | null;
  readonly main: string | null;
  readonly extensions: readonly string[];
  readonly isPressed: boolean;
}

export const groupTool = defineTool<GroupState>({
  id: 'group',
  start: ({ floor, pointer, metresPerPixel, snapping }) => ({
    over: pointer === null ? null : pickDetectorAt(floor, pointer, { metresPerPixel, hidden: snapping.hidden }),
    main: null,
    extensions: [],
    isPressed: false,
  }),
  isAtRest: ({ main, isPressed }) => main === null && !isPressed,
  on(state, event, context) {
    const { floor } = context;
    if (isPointer(event)) return byPointer(state, event, context);
    const direction = event.type === 'key' ? ARROWS[event.key] : undefined;
    if (direction !== undefined) {
      const next = findDetectorTowards(floor, placeOf(floor, state.over) ?? context.pointer, direction);
      return next === null
        ? { state, says: 'No detector hangs that way.' }
        : { state: { ...state, over: next.id }, says: sayDetector(state, floor, next) };
    }
    if (isEnter(event)) return take(state, state.over, floor);
    if (letterOf(event) === 'c' && state.main !== null) return finish(state);
    if (event.type === 'key' && event.key === 'Backspace' && state.main !== null) return takeBack(state, floor);
    return null;
  },
  show(state, { floor }) {
    const main = placeOf(floor, state.main);
    const over = placeOf(floor, state.over);
    const guides: Guide[] = [];
    for (const id of state.extensions) {
      const at = placeOf(floor, id);
      if (at === null || main === null) continue;
      guides.push({ kind: 'line', style: 'drawn', from: main, to: at }, { kind: 'mark', mark: 'handle', at });
    }
    if (main !== null) guides.push({ kind: 'mark', mark: 'held', at: main });
    if (over !== null) guides.push({ kind: 'mark', mark: 'centre', at: over });
    return { hints: hintFor(state, floor), guides, cursor: over };
  },
});

function byPointer(state: GroupState, event: PointerToolEvent, context: ToolContext): Reply<GroupState> {
  const { floor, snapping } = context;
  const { metresPerPixel } = event;
  const picked = event.over === undefined ? undefined : findDetector(floor, event.over)?.id;
  const over =
    event.over === undefined
      ? pickDetectorAt(floor, event.at, { metresPerPixel, hidden: snapping.hidden })
      : (picked ?? null);
  switch (event.type) {
    case 'pointer-down':
      return { state: { ...state, over, isPressed: true } };
    case 'pointer-move':
      return { state: { ...state, over } };
    case 'pointer-cancel':
      return { state: { ...state, isPressed: false } };
    case 'pointer-up': {
      const free = { ...state, over, isPressed: false };
      return state.isPressed && over !== null ? take(free, over, floor) : { state: free };
    }
  }
}

/** The first detector leads; the next ones extend, and taken again they do not; the main taken again ends it. */
function take(state: GroupState, id: string | null, floor: Floor): Reply<GroupState> {
  const detector = findDetector(floor, id);
  if (detector === undefined) return { state, says: 'No detector is here. Move to one.', refused: true };
  const { main, extensions } = state;
  if (main === null) {
    const group = floor.groups.find((each) => each.main === detector.id);
    const has = group === undefined ? [] : group.extensions;
    const more = has.length === 0 ? '' : `, with ${has.length} ${has.length === 1 ? 'extension' : 'extensions'}`;
    return {
      state: { ...state, main: detector.id, extensions: has },
      says: `${detector.name} leads${more}. Choose its extensions.`,
    };
  }
  if (main === detector.id) return finish(state);
  if (extensions.includes(detector.id))
    return {
      state: { ...state, extensions: extensions.filter((each) => each !== detector.id) },
      says: `${detector.name} is no extension.`,
    };
  const other = floor.groups.find(
    (each) => each.main === detector.id || each.extensions.some((ext) => ext === detector.id),
  );
  const leaves = other === undefined || other.main === main ? '' : ` It leaves ${other.name}.`;
  return {
    state: { ...state, extensions: [...extensions, detector.id] },
    says: `${detector.name} is extension ${extensions.length + 1}.${leaves}`,
  };
}

function finish(state: GroupState): Reply<GroupState> {
  const { main, extensions } = state;
  if (main === null) return { state };
  return {
    state: { ...state, main: null, extensions: [] },
    commit: { intent: { kind: 'group', main, extensions }, otherwise: state },
  };
}

function takeBack(state: GroupState, floor: Floor): Reply<GroupState> {
  const last = state.extensions.at(-1);
  if (last === undefined) return { state: { ...state, main: null }, says: 'No detector leads.' };
  return {
    state: { ...state, extensions: state.extensions.slice(0, -1) },
    says: `${findDetector(floor, last)?.name ?? last} is no extension.`,
  };
}

function findDetector(floor: Floor, id: string | null): Detector | undefined {
  return id === null ? undefined : floor.detectors[indexOfId(floor.detectors, id)];
}

function placeOf(floor: Floor, id: string | null): Point | null {
  return findDetector(floor, id)?.at ?? null;
}

/** The nearest detector within 45° of a direction; without a place to start from the first of the floor. */
function findDetectorTowards(floor: Floor, from: Point | null, [dx, dy]: Point): Detector | null {
  if (from === null) return floor.detectors[0] ?? null;
  let best: Detector | null = null;
  let least = Infinity;
  for (const detector of floor.detectors) {
    const [x, y] = [detector.at[0] - from[0], detector.at[1] - from[1]];
    const ahead = x * dx + y * dy;
    const far = distance(detector.at, from);
    if (far < 1e-6 || Math.abs(x * dy - y * dx) > ahead || far >= least) continue;
    least = far;
    best = detector;
  }
  return best;
}

function sayDetector({ main, extensions }: GroupState, floor: Floor, { id, name }: Detector): string {
  if (id === main) return `${name}, the main.`;
  if (extensions.includes(id)) return `${name}, extension ${extensions.indexOf(id) + 1}.`;
  const group = floor.groups.find((each) => each.main === id || each.extensions.some((ext) => ext === id));
  return group === undefined ? `${name}.` : `${name}, of ${group.name}.`;
}

function hintFor({ main, extensions }: GroupState, floor: Floor): string {
  if (main === null) return joinHints('Click or Enter at the detector that leads', 'arrows go from one to the next');
  const name = findDetector(floor, main)?.name ?? main;
  const count = `${extensions.length} ${extensions.length === 1 ? 'extension' : 'extensions'}`;
  return joinHints(
    `${name} leads, ${count}`,
    'click or Enter at the extensions',
    `C, or ${name} again, sets the group`,
    'Backspace takes one back',
  );
}
