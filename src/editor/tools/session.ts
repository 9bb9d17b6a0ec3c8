/** A tool in hand, its state kept inside: what hosts hold. */
import type { Shown, Step, Tool, ToolContext, ToolEvent, ToolId } from './tool.ts';

export interface ToolSession {
  readonly id: ToolId;
  send(event: ToolEvent, context: ToolContext): Step<unknown>;
  /** What is to be seen now: for a tool just taken up, and when the floor or the view has changed. */
  show(context: ToolContext): Shown;
}

export function openSession<State>(tool: Tool<State>, context: ToolContext): ToolSession {
  let state = tool.start(context);
  return {
    id: tool.id,
    send(event, now) {
      const step = tool.on(state, event, now);
      state = step.state;
      return step;
    },
    show: (now) => tool.show(state, now),
  };
}
