/** The select tool in words and guides. */
import { distance, SAME } from '../edits/plane.ts';
import { findThing } from '../things.ts';
import type { Guide } from './guide.ts';
import type { Hand } from './hand.ts';
import type { Act } from './select-acts.ts';
import { type Handle, sayHandle } from './select-handles.ts';
import type { ToolContext } from './tool.ts';
import { guideToWalls } from './wall-distances.ts';
import { joinHints, sayLength } from './words.ts';

/** Sentences one after another; empty ones are left out. */
export function joinSentences(...sentences: readonly string[]): string {
  return sentences.filter(Boolean).join(' ');
}

/** What a thing is called where a sentence begins with it. */
export function nameOf(id: string, { floor }: ToolContext): string {
  const thing = findThing(floor, id);
  if (thing === undefined) return id;
  if (thing.kind === 'opening') return `The ${thing.value.kind}`;
  if (thing.kind === 'workplace') return `Workplace ${thing.value.name}`;
  return thing.value.name === '' ? id : thing.value.name;
}

/** What is drawn of an act: the way it has gone, what holds it, how far the walls are. */
export function guideAct(act: Act, hand: Hand | null, context: ToolContext): readonly Guide[] {
  const { floor, units } = context;
  if (act.kind === 'frame') return [];
  const from = act.kind === 'move' ? act.from : act.handle.at;
  const guides: Guide[] = [];
  if (distance(from, act.to) >= SAME && (act.kind === 'move' || act.handle.part !== 'turn')) {
    guides.push({ kind: 'line', style: 'path', from, to: act.to });
    guides.push({ kind: 'length', from, to: act.to, text: sayLength(distance(from, act.to), units) });
  }
  if (act.kind === 'handle')
    guides.push({ kind: 'mark', mark: act.handle.part === 'turn' ? 'turning' : 'held', at: act.to });
  else if (act.ids.length === 1) guides.push(...guideToWalls(floor, act.to, units));
  return [...guides, ...(hand?.guides ?? [])];
}

/** For the foot, with nothing in hand. */
export function hintAtRest(handles: readonly Handle[], { selection }: ToolContext): string {
  if (selection.length === 0) return 'Click selects · Shift adds · drag a frame on empty floor';
  return joinHints('Drag, or Enter picks it up', handles.length > 0 && 'H takes a handle', 'Shift click adds');
}

/** For the foot, with an act in hand. */
export function hintForAct(act: Act, context: ToolContext): string {
  if (act.kind === 'move')
    return joinHints(
      `Moving ${act.ids.length === 1 ? nameOf(act.lead, context) : `${act.ids.length} things`}`,
      'type how far, such as 1.2 or 1.2 @90',
      'Shift: along one axis',
      'Ctrl: no snapping',
      'Esc puts it back',
    );
  if (act.kind === 'frame') return '';
  const what = sayHandle(context.floor, act.handle, nameOf(act.handle.id, context));
  const isRoom = findThing(context.floor, act.handle.id)?.kind === 'room';
  return joinHints(
    what,
    'type a number',
    isRoom && (act.alone ? 'only this room changes' : 'Alt, or A: only this room'),
    'H: next handle',
    'Esc puts it back',
  );
}
