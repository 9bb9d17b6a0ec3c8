import type { Verb } from './verb.ts';

/** `compare` without what it takes to compare: that is loaded when it is asked for. */
export const compareVerb: Verb = {
  usage: 'compare OLD NEW [--json]',
  purpose: 'Says what changed between two states of a floor, in words and numbers.',
  help: `Options
  --json     One JSON document (lacuna-compare/1).

Verdicts come first, what got worse before what got better; then findings, then the things on the
floor. Things are the same when their ids are.

Ends with 0 when nothing got worse, 1 when a verdict did or a finding of level fail or warn is new,
2 when a floor cannot be read.

Examples
  lacuna compare office.json office-with-shelves.json
  lacuna compare before.json after.json --json > changes.json`,
  async run(words, output) {
    const { runCompare } = await import('./compare.ts');
    return runCompare(words, output);
  },
};
