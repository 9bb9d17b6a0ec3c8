/** Z: draws a zone and says what is needed there. */
import type { Zone } from '../../core/floor/index.ts';
import { defineTool } from './define-tool.ts';
import { letterOf } from './hand.ts';
import { drawOutline, isOutlineAtRest, type OutlineDraft, showOutline, startOutline } from './outline-draft.ts';
import { joinHints } from './words.ts';

export interface ZoneState {
  readonly draft: OutlineDraft;
  readonly need: Zone['need'];
}

const NEEDS: Readonly<Record<string, Zone['need']>> = { s: 'seated', w: 'walking', n: 'nobody' };
const WORDS: Readonly<Record<Zone['need'], string>> = {
  seated: 'Seated people are to be seen here',
  walking: 'Walking people are to be seen here',
  nobody: 'Nobody is to be seen here',
};

export const zoneTool = defineTool<ZoneState>({
  id: 'zone',
  start: (context) => ({ draft: startOutline(context), need: 'seated' }),
  isAtRest: ({ draft, need }) => isOutlineAtRest(draft) && need === 'seated',
  on(state, event, context) {
    const need = state.draft.entry === '' ? NEEDS[letterOf(event) ?? ''] : undefined;
    if (need !== undefined) return { state: { ...state, need }, says: `${WORDS[need]}.` };
    const reply = drawOutline(state.draft, event, context);
    if (reply === null) return null;
    const next = { ...state, draft: reply.draft };
    if (reply.ring === undefined) return { state: next, says: reply.says, refused: reply.refused ?? false };
    const otherwise = { ...state, draft: { ...state.draft, press: null } };
    return { state: next, commit: { intent: { kind: 'zone', outline: reply.ring, need: state.need }, otherwise } };
  },
  show({ draft, need }, { units }) {
    const { hints, guides } = showOutline(draft, units);
    const others = ['S: seated', 'W: walking', 'N: nobody'].filter((word) => !word.endsWith(need));
    return { hints: joinHints(WORDS[need], hints, ...others), guides, cursor: draft.hand?.at ?? null };
  },
});
