/** W: places workplaces, with the way they face. */
import type { Point } from '../../core/floor/index.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { readTyped, typeInto } from './entry.ts';
import type { Guide } from './guide.ts';
import { describeHand, isEnter, letterOf } from './hand.ts';
import { movePlacing, type Placing, startPlacing } from './placing.ts';
import type { ToolContext } from './tool.ts';
import { joinHints } from './words.ts';

export interface WorkplaceState {
  /** Its turn is the way the workplace faces. */
  readonly placing: Placing;
  readonly posture: 'seated' | 'standing';
  readonly entry: string;
}

/** Metres of the disc a person takes. */
const RADIUS = 0.5;

export const workplaceTool = defineTool<WorkplaceState>({
  id: 'workplace',
  start: (context) => ({ placing: startPlacing(context, 90), posture: 'seated', entry: '' }),
  isAtRest: ({ placing, posture, entry }) =>
    !placing.isPressed && placing.turn === 90 && posture === 'seated' && entry === '',
  on(state, event, context) {
    if (state.entry === '' && letterOf(event) === 't') {
      const posture = state.posture === 'seated' ? 'standing' : 'seated';
      return { state: { ...state, posture }, says: `The workplace is for a ${posture} person.` };
    }
    const typed = typeInto(state.entry, event);
    if (typed !== null) return { state: { ...state, entry: typed } };
    if (isEnter(event) && state.entry !== '') return readEntry(state, context);
    const reply = movePlacing(state.placing, event, context);
    if (reply === null) return null;
    const next = { ...state, placing: reply.placing };
    return reply.set === undefined ? { state: next, says: reply.says } : set(next, reply.set);
  },
  show(state, _context) {
    const { placing, posture, entry } = state;
    const { hand, turn } = placing;
    const hints =
      entry !== ''
        ? `${entry} · Enter sets it there`
        : joinHints(
            `${posture === 'seated' ? 'Seated' : 'Standing'}, facing ${turn}°`,
            'click or Enter sets it',
            '[ ] turn',
            posture === 'seated' ? 'T: standing' : 'T: seated',
            'type its place, such as 3.2 4.5, with @90 for the way it faces',
          );
    if (hand === null) return { hints, guides: [], cursor: null };
    const guides: Guide[] = [
      ...hand.guides,
      { kind: 'circle', style: 'drawn', at: hand.at, radius: RADIUS },
      { kind: 'arrow', at: hand.at, direction: turn },
    ];
    return { hints, guides, cursor: hand.at, preview: intentOf(state, hand.at) };
  },
});

function intentOf({ placing, posture }: WorkplaceState, at: Point) {
  return { kind: 'workplace', at, facing: placing.turn, posture } as const;
}

function set(state: WorkplaceState, at: Point): Reply<WorkplaceState> {
  return { state: { ...state, entry: '' }, commit: { intent: intentOf(state, at), otherwise: state } };
}

function readEntry(state: WorkplaceState, context: ToolContext): Reply<WorkplaceState> {
  const read = readTyped(state.entry, context.units);
  if (!read.ok) return { state, says: read.remedy, refused: true };
  const [x, y, more] = read.numbers;
  if (x === undefined || y === undefined || more !== undefined)
    return { state, says: 'Write x and y of the place, such as 3.2 4.5.', refused: true };
  const hand = describeHand([x, y], context);
  const turn = read.angle === null ? state.placing.turn : ((read.angle % 360) + 360) % 360;
  return set({ ...state, placing: { ...state.placing, hand, turn } }, [x, y]);
}
