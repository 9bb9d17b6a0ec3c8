import type { Verb } from './verb.ts';

/** `handover` without what it takes to make documents: that is loaded when it is asked for. */
export const handoverVerb: Verb = {
  usage: 'handover FLOOR --out DIR [--only PART,…] [--paper a4|a3] [--scale 50|100|200|500]',
  purpose: 'Makes the folder for the fitter: report, plans, mask templates, schedule, settings, walk test.',
  help: `Options
  --out DIR      The folder to write to; it is made when it is not there. Files of the same name are replaced.
  --only PARTS   Some parts, parted by commas: report, plan, drawing, scene, page, masks, schedule,
                 groups, settings, walk-test, verdicts. Left out: all of them.
  --paper SIZE   a4 (the default) or a3.
  --scale N      Plans at 1:N; left out, the largest of 1:50, 1:100 and 1:200 that suits the paper. A floor
                 too large for one sheet is split over several.

The same floor gives the same bytes. Ends with 0 when every need is met, 1 when one is not (the folder is
whole all the same), 2 when the floor cannot be read, a part cannot be made, or the folder cannot be written.

Examples
  lacuna handover office.json --out handover
  lacuna handover office.json --out handover --only report --paper a3
  lacuna handover office.json --out site --only schedule,masks`,
  async run(words, output) {
    const { runHandover } = await import('./handover.ts');
    return runHandover(words, output);
  },
};
