import type { Verb } from './verb.ts';

/** `draw` without what it takes to draw: that is loaded when it is asked for. */
export const drawVerb: Verb = {
  usage: 'draw FLOOR --out FILE.svg|.png [--plane seated|walking] [--show blind|count|headings] [--scale 50|100|200]',
  purpose: 'Draws the plan to scale, with what is seen and what is blind.',
  help: `Options
  --out FILE      Where to draw to; the end of its name says what: .svg or .png.
  --plane PLANE   seated (the default) or walking.
  --show WHAT     blind (the default), count (by how many detectors each place is seen) or
                  headings (walking people: the share of headings seen).
  --scale N       Drawn at 1:N, N being 50, 100 or 200; left out, the one that suits the size.
  --ranges        With the ranges of every detector.
  --width N       Width of a .png in pixels; left out, 150 dots an inch, at most 4000.

Examples
  lacuna draw office.json --out office.svg
  lacuna draw office.json --out walking.png --plane walking --show headings --width 2000`,
  async run(words, output) {
    const { runDraw } = await import('./draw.ts');
    return runDraw(words, output);
  },
};
