import { judgeFloor } from '../core/planning/judge.ts';
import type { Change, Turn } from '../core/planning/question/change.ts';
import type { CompareResult, Judged } from '../core/planning/question/compare.ts';
import { compareFloors } from '../core/planning/question/compare.ts';
import { readArguments, seeHelp } from './arguments.ts';
import { readFloor } from './files.ts';
import { escapeJson, escapeText, wrapText } from './text.ts';
import { Unusable } from './unusable.ts';
import type { ExitCode, Output } from './verb.ts';

/** @throws {Unusable} for words and floors that cannot be used. */
export function runCompare(words: readonly string[], output: Output): ExitCode {
  const { values, positionals } = readArguments('compare', words, { json: 'boolean' });
  const [old, now, ...more] = positionals;
  if (old === undefined || now === undefined || more.length > 0) {
    throw new Unusable(`compare: two floors are needed and ${positionals.length} are named.`, seeHelp('compare'));
  }
  if (old === '-' && now === '-') {
    throw new Unusable('compare: both floors are to come from standard input.', 'Name a file for one of them.');
  }
  const result = compareFloors(judge(old), judge(now));
  if (values.json === true) output.write(`${escapeJson(JSON.stringify(result, null, 2))}\n`);
  else output.write(`${writeChanges(result, output)}\n`);
  return result.worse ? 1 : 0;
}

function judge(path: string): Judged {
  const { floor } = readFloor(path, undefined);
  return { floor, result: judgeFloor(floor) };
}

const TITLES: Readonly<Record<Turn, string>> = { worse: 'Worse', better: 'Better', same: 'Changed' };

function writeChanges({ old, new: now, workplacesMet, changes }: CompareResult, style: Output): string {
  const bold = (text: string) => (style.colour ? `\u001b[1m${text}\u001b[22m` : text);
  const [was, is] = [workplacesMet.old, workplacesMet.new];
  const names = old === now ? escapeText(now) : `${escapeText(old)} and ${escapeText(now)}`;
  const headline =
    changes.length === 0
      ? 'Nothing changed.'
      : `${is[0]} of ${is[1]} workplaces are met; before it was ${was[0]} of ${was[1]}.`;
  const lines = [bold(names), ...wrapText(headline, style.width)];
  for (const turn of ['worse', 'better', 'same'] as const) {
    const those = changes.filter((change) => change.turn === turn);
    if (those.length > 0) lines.push('', bold(TITLES[turn]), ...those.flatMap((change) => writeChange(change, style)));
  }
  return lines.join('\n');
}

function writeChange({ text }: Change, style: Output): string[] {
  const [first, ...rest] = wrapText(escapeText(text), Math.max(40, style.width - 2));
  return [`  ${first ?? ''}`, ...rest.map((line) => `    ${line}`)];
}
