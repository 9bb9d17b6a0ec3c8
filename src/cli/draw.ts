import { extname } from 'node:path';
import { createCoverage } from '../core/coverage/index.ts';
import { judgeWithPlan } from '../core/planning/judge.ts';
import { drawPlan, SCALES, SHOWS } from '../handover/plan/plan.ts';
import { readArguments, readChoice, readNumber, seeHelp } from './arguments.ts';
import { readFloor, writeWhole } from './files.ts';
import { rasterise } from './raster.ts';
import { escapeText } from './text.ts';
import { Unusable } from './unusable.ts';
import type { ExitCode, Output } from './verb.ts';

const MOST_PIXELS = 16_000;

/** The verb `draw`. In a module of its own: nothing of it is loaded by the other verbs. */
export async function runDraw(words: readonly string[], output: Output): Promise<ExitCode> {
  const { values, positionals } = readArguments('draw', words, {
    out: 'string',
    plane: 'string',
    show: 'string',
    scale: 'string',
    width: 'string',
    ranges: 'boolean',
  });
  const [path, ...others] = positionals;
  if (path === undefined) throw new Unusable('draw: no floor is named.', seeHelp('draw'));
  if (others.length > 0) throw new Unusable('draw: more than one floor is named.', seeHelp('draw'));
  if (values.out === undefined)
    throw new Unusable('draw: no file to draw to. Name one with --out FILE.svg or --out FILE.png.', seeHelp('draw'));
  const kind = extname(values.out).toLowerCase();
  if (kind !== '.svg' && kind !== '.png') {
    throw new Unusable(`draw: --out is ${escapeText(values.out)}. Its name must end in .svg or .png.`, seeHelp('draw'));
  }
  const show = readChoice('draw', 'show', values.show, SHOWS) ?? 'blind';
  const plane =
    readChoice('draw', 'plane', values.plane, ['seated', 'walking'] as const) ??
    (show === 'headings' ? 'walking' : 'seated');
  if (show === 'headings' && plane === 'seated') {
    throw new Unusable(
      'draw: --show headings is about walking people. Leave out --plane, or say --plane walking.',
      seeHelp('draw'),
    );
  }
  const scale = readChoice('draw', 'scale', values.scale, SCALES);
  const width = readNumber('draw', 'width', values.width, 100, MOST_PIXELS, 'pixels');
  if (width !== undefined && kind === '.svg')
    throw new Unusable('draw: --width is for .png; an .svg is drawn to scale in millimetres.', seeHelp('draw'));

  const { floor } = readFloor(path, undefined);
  output.progress('Judging the floor.');
  const coverage = createCoverage(floor);
  const result = judgeWithPlan(coverage);
  output.progress('Drawing.');
  const plan = drawPlan(coverage, result, {
    plane,
    show,
    ranges: values.ranges === true ? 'all' : [],
    ...(scale === undefined ? {} : { scale: Number(scale) }),
  });
  const content =
    kind === '.svg' ? plan.svg : await rasterise(plan, width === undefined ? undefined : Math.round(width));
  output.progress('');
  writeWhole(values.out, content);
  return 0;
}
