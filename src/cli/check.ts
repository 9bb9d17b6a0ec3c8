import type { CheckResult } from '../core/coverage/index.ts';
import { LIMITS } from '../core/floor/index.ts';
import { judgeFloor } from '../core/planning/judge.ts';
import { readArguments, readNumber, seeHelp } from './arguments.ts';
import { readFloor } from './files.ts';
import { writeReport } from './report.ts';
import { escapeJson, escapeText } from './text.ts';
import { describeSystemError, Unusable } from './unusable.ts';
import type { ExitCode, Output, Verb } from './verb.ts';

export const checkVerb: Verb = {
  usage:
    'check FLOOR… [--json] [--cell M] [--stress] [--move-room] [--bodies] [--sweep PIECES]\n                [--groups] [--settings] [--energy] [--masks]',
  purpose: 'Judges every need of one floor or more.',
  help: `Options
  --json     One JSON document (lacuna-check/1); of several floors an array, without those that
             cannot be read.
  --cell M   Size of a cell in metres instead of the file's own, ${LIMITS.cell.min} to ${LIMITS.cell.max}.

Further questions; with --json each is a key of the document. They do not change how check ends.
  --stress        Verdicts again with all doors open, each raised desk up, reach 0.8, each assumed
                  height 0.2 m off, each detector 0.6 m off; the worst of each workplace.
  --move-room     Where each detector may hang within 1 m with every need still met.
  --bodies        How much of a small person's body is seen at each workplace.
  --sweep PIECES  What if these pieces were 0.8 to 2.4 m high: ids or kinds of furniture, with commas.
  --groups        Cable, area, daylight and limits of every group, and the groups that would be proposed.
  --settings      Settings of every group from the use of its rooms, each with its source.
  --energy        What detectors save of the lighting energy: an estimate with its assumptions.
  --masks         Masks for sources, nobody zones and spill: what they cost, and what would do instead.

Ends with 0 when every need is met, 1 when one is not, 2 when a floor cannot be read.

Examples
  lacuna check office.json
  lacuna check floors/*.json --json > verdicts.json
  lacuna check office.json --cell 0.05
  lacuna check office.json --stress
  lacuna check office.json --sweep shelving`,
  run: runCheck,
};

/** Options that ask more of a floor than its verdicts. */
const QUESTIONS = ['stress', 'move-room', 'bodies', 'sweep'] as const;
const PLANS = ['groups', 'settings', 'energy', 'masks'] as const;

async function runCheck(words: readonly string[], output: Output): Promise<ExitCode> {
  const { values, positionals } = readArguments('check', words, {
    json: 'boolean',
    cell: 'string',
    stress: 'boolean',
    'move-room': 'boolean',
    bodies: 'boolean',
    sweep: 'string',
    groups: 'boolean',
    settings: 'boolean',
    energy: 'boolean',
    masks: 'boolean',
  });
  const cell = readNumber('check', 'cell', values.cell, LIMITS.cell.min, LIMITS.cell.max, 'metres');
  if (positionals.length === 0) throw new Unusable('check: no floor is named.', seeHelp('check'));

  const results: CheckResult[] = [];
  const reports: string[] = [];
  let isUsable = true;
  for (const [index, path] of positionals.entries()) {
    if (positionals.length > 1) output.progress(`Checking ${index + 1} of ${positionals.length}: ${escapeText(path)}`);
    try {
      const { floor } = readFloor(path, cell);
      const result = judge(path, floor);
      const asked = QUESTIONS.filter((name) => values[name] !== undefined);
      // What answers them is loaded only then: a plain check starts sooner.
      const answers = [
        ...(asked.length > 0 ? (await import('./questions.ts')).answer(floor, values, output) : []),
        ...(PLANS.some((name) => values[name]) ? (await import('./plans.ts')).answerPlans(floor, values, output) : []),
      ];
      results.push({ ...result, ...Object.fromEntries(answers.map(({ key, document }) => [key, document])) });
      if (values.json === true) continue;
      reports.push([writeReport(floor, result, output), ...answers.map(({ text }) => text)].join('\n\n'));
    } catch (error) {
      // One bad file among several does not keep the others from being judged.
      if (!(error instanceof Unusable)) throw error;
      output.progress('');
      for (const line of error.lines) output.complain(line);
      isUsable = false;
    }
  }
  output.progress('');

  if (values.json === true) {
    const document = positionals.length > 1 ? results : results[0];
    if (document !== undefined) output.write(`${escapeJson(JSON.stringify(document, null, 2))}\n`);
  } else if (reports.length > 0) {
    output.write(`${reports.join('\n\n\n')}\n`);
  }
  if (!isUsable) return 2;
  return results.every((result) => result.met) ? 0 : 1;
}

function judge(path: string, floor: Parameters<typeof judgeFloor>[0]): CheckResult {
  try {
    return judgeFloor(floor);
  } catch (error) {
    throw new Unusable(`${escapeText(path)}: cannot be judged: ${escapeText(describeSystemError(error))}`);
  }
}
