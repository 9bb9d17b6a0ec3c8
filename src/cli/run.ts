import { arrangeVerb } from './arrange-verb.ts';
import { checkVerb } from './check.ts';
import { compareVerb } from './compare-verb.ts';
import { drawVerb } from './draw-verb.ts';
import { handoverVerb } from './handover-verb.ts';
import { importVerb } from './import-verb.ts';
import { probeVerb } from './probe.ts';
import { escapeText } from './text.ts';
import { Unusable } from './unusable.ts';
import type { ExitCode, Output, Verb } from './verb.ts';

const VERBS: ReadonlyMap<string, Verb> = new Map([
  ['check', checkVerb],
  ['probe', probeVerb],
  ['import', importVerb],
  ['compare', compareVerb],
  ['arrange', arrangeVerb],
  ['draw', drawVerb],
  ['handover', handoverVerb],
]);

/** Does what the words ask for. Never throws for unusable input: it complains and answers 2. */
export async function run(words: readonly string[], output: Output): Promise<ExitCode> {
  const [name = '', ...rest] = words;
  try {
    if (name === '--help' || name === '-h' || name === 'help') {
      output.write(writeHelp());
      return 0;
    }
    const verb = VERBS.get(name);
    if (verb === undefined) {
      const known = [...VERBS.keys()].join(', ');
      throw new Unusable(
        name === ''
          ? `No verb is given. It must be one of: ${known}.`
          : `There is no verb ${escapeText(name)}. It must be one of: ${known}.`,
        'See: lacuna --help',
      );
    }
    const end = rest.indexOf('--');
    const options = end === -1 ? rest : rest.slice(0, end);
    if (options.includes('--help') || options.includes('-h')) {
      output.write(`Usage: lacuna ${verb.usage}\n\n${verb.purpose}\n\n${verb.help}\n`);
      return 0;
    }
    return await verb.run(rest, output);
  } catch (error) {
    if (!(error instanceof Unusable)) throw error;
    output.progress('');
    for (const line of error.lines) output.complain(line);
    return 2;
  }
}

function writeHelp(): string {
  const verbs = [...VERBS.values()].map(({ usage, purpose }) => `  lacuna ${usage}\n      ${purpose}`);
  return `Lacuna finds the blind spots under a ceiling: which presence detectors see whom.

${verbs.join('\n')}

  lacuna VERB --help says more. A floor is a file in the format lacuna/1, or - for standard input.
  Ends with 0: done, and every need is met; 1: a need is not met; 2: unusable input or words.
`;
}
