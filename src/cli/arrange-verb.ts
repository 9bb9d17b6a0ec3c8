import type { Verb } from './verb.ts';

/** `arrange` without what it takes to arrange: that is loaded when it is asked for. */
export const arrangeVerb: Verb = {
  usage: 'arrange FLOOR --type ID… --out FLOOR [--pitch M|tiles] [--keep fixed|all|none] [--time S] [--json] …',
  purpose: 'Hangs the fewest (or cheapest) detectors that meet every need, with a proof or a bound.',
  help: `Options
  --type ID      A detector type of the floor or of models/detectors; several with commas or by
                 naming --type again.
  --out FLOOR    Where the arranged floor is written. The floor that is read stays as it is.
  --pitch M      Candidate places every M metres along each room's axes, from half a step off its
                 corner; or tiles (the default): the centres of ceiling tiles, and every 1.2 m in
                 rooms without tiles.
  --turns A,B    Turns of rectangular ranges from the room's axis in degrees (0,90).
  --keep WHICH   Detectors that stay: fixed (existing and locked ones, the default), all, or none.
                 The others are replaced.
  --price ID=N   Price of a type: the cheapest arrangement is looked for. Types without one cost 1.
  --wall M       From walls and pieces as high as the lens (0.5).
  --outlet M     From air outlets (1).
  --lamp M       From luminaires and lamps that hang lower than the lens (1).
  --avoid ID     Nothing is hung over this zone or in this room; several with commas.
  --needs ID     Only these workplaces and zones count; several with commas. Left out: all.
  --time S       Seconds the search may take (60). What it has found by then is written.
  --off-grid     At the end, tries to save one more by moving detectors off the grid.
  --json         One JSON document (lacuna-arrange/1).

Each new detector is taken to serve the room it hangs in; groups are made one for each room.
Ends with 0 when everything asked for is met, 1 when something is not (the rest is written), 2 when
nothing can be arranged: then nothing is written.

Examples
  lacuna arrange office.json --type wide-9 --out arranged.json
  lacuna arrange office.json --type wide-9,round-6 --price wide-9=2 --price round-6=1 --out cheap.json
  lacuna arrange hall.json --type T1 --pitch 1.2 --wall 0 --time 30 --out hall-arranged.json --json`,
  async run(words, output) {
    const { runArrange } = await import('./arrange.ts');
    return runArrange(words, output);
  },
};
