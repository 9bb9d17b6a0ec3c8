/** What all tools have in common: cancelling, judging what they commit, and telling what is seen. */
import { original, rawReturn } from 'mutative';
import type { FloorFile } from '../../core/floor/index.ts';
import { applyEdit, type Edit, type Planned } from '../edits/edit.ts';
import { type Intent, planIntent } from './intent.ts';
import { rememberJudged } from './judged.ts';
import type { Commit, Shown, Step, Tool, ToolContext, ToolEvent, ToolId } from './tool.ts';

/** A tool's answer to an event it has a use for. */
export interface Reply<State> {
  readonly state: State;
  readonly says?: string | undefined;
  /** `says` tells why something was not done. */
  readonly refused?: boolean;
  /** What to change; where the floor would be faulty `otherwise` is the state instead, and the reason is said. */
  readonly commit?: { readonly intent: Intent; readonly otherwise: State };
  readonly select?: readonly string[];
}

export interface ToolSpec<State> {
  readonly id: ToolId;
  start(context: ToolContext): State;
  /** Null: no use for it. `Escape` and `cancel` do not come here. */
  on(state: State, event: ToolEvent, context: ToolContext): Reply<State> | null;
  /** Whether nothing would be lost by putting the tool away. */
  isAtRest(state: State, context: ToolContext): boolean;
  show(state: State, context: ToolContext): Omit<Shown, 'preview'> & { readonly preview?: Intent | null };
}

/** A recipe that gives the file that was judged, and on another file makes the edit. */
function recall(before: FloorFile, after: FloorFile, edit: Planned): Planned['recipe'] {
  return (draft) => (original(draft) === before ? rawReturn(after) : edit.recipe(draft));
}

export function defineTool<State>(spec: ToolSpec<State>): Tool<State> {
  const show = (state: State, context: ToolContext): Shown => {
    const { preview, ...shown } = spec.show(state, context);
    const planned = preview ? planIntent(context.file, preview) : null;
    return { ...shown, preview: planned?.ok ? planned : null };
  };
  const step = (state: State, context: ToolContext, more: Partial<Step<State>>): Step<State> => ({
    ...show(state, context),
    state,
    commit: null,
    select: null,
    says: null,
    refused: false,
    used: true,
    leave: false,
    ...more,
  });
  return {
    id: spec.id,
    start: spec.start,
    show,
    on(state, event, context) {
      if (event.type === 'cancel' || (event.type === 'key' && event.key === 'Escape')) {
        const leave = spec.isAtRest(state, context);
        return step(spec.start(context), context, leave ? { leave } : { says: 'Cancelled.' });
      }
      const reply = spec.on(state, event, context);
      if (reply === null) return step(state, context, { used: false });
      const { commit, says = null, refused = false, select = null } = reply;
      if (commit === undefined) return step(reply.state, context, { says, refused, select });
      const edit: Edit = planIntent(context.file, commit.intent);
      const applied = applyEdit(context.file, edit);
      if (!edit.ok || !applied.ok) {
        const { what, remedy } = applied.ok ? { what: '', remedy: '' } : applied;
        return step(commit.otherwise, context, { says: `${what}. ${remedy}`.trim(), refused: true });
      }
      rememberJudged(applied.file);
      const made: Commit = { ...edit, recipe: recall(context.file, applied.file, edit), intent: commit.intent };
      // What is seen is of the floor as it was until the host has made the edit, and then asks anew.
      return step(reply.state, context, { commit: made, select: select ?? edit.ids, says: says ?? `${edit.name}.` });
    },
  };
}
