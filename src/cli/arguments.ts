import { parseArgs } from 'node:util';
import { escapeText } from './text.ts';
import { Unusable } from './unusable.ts';

/** The options of a verb: with a value, with a value that may be given again, or a word that is there or not. */
type Options = Readonly<Record<string, 'string' | 'list' | 'boolean'>>;

interface Values {
  readonly string: string;
  readonly list: readonly string[];
  readonly boolean: boolean;
}

interface Arguments<Asked extends Options> {
  readonly values: { readonly [Name in keyof Asked]?: Values[Asked[Name]] };
  readonly positionals: readonly string[];
}

/**
 * Splits the words after a verb into options and the rest.
 * @throws {Unusable} for an option the verb does not have, one without its value, and one given twice.
 */
export function readArguments<Asked extends Options>(
  verb: string,
  words: readonly string[],
  asked: Asked,
): Arguments<Asked> {
  const options = Object.fromEntries(
    Object.entries(asked).map(([name, type]) => [
      name,
      type === 'list' ? { type: 'string' as const, multiple: true } : { type },
    ]),
  );
  try {
    const { values, positionals, tokens } = parseArgs({
      args: [...words],
      options,
      allowPositionals: true,
      tokens: true,
    });
    const given = new Set<string>();
    for (const token of tokens) {
      if (token.kind !== 'option') continue;
      if (given.has(token.name) && asked[token.name] !== 'list')
        throw new Unusable(`${verb}: --${token.name} is given twice.`, seeHelp(verb));
      given.add(token.name);
    }
    // The parser has held every value against the kind that was asked for.
    return { values: values as Arguments<Asked>['values'], positionals };
  } catch (error) {
    if (error instanceof Unusable) throw error;
    const message = error instanceof Error ? error.message : String(error);
    // The advice after the first sentence is about the library, not about the verb.
    throw new Unusable(`${verb}: ${escapeText(message.split('. ')[0] ?? message).replace(/\.$/, '')}.`, seeHelp(verb));
  }
}

/** One of a few words, or an explanation of which they are. */
export function readChoice<Choice extends string>(
  verb: string,
  option: string,
  word: string | undefined,
  choices: readonly Choice[],
): Choice | undefined {
  if (word === undefined) return undefined;
  const choice = choices.find((each) => each === word);
  if (choice === undefined) {
    throw new Unusable(
      `${verb}: --${option} is ${escapeText(word)}. It must be ${choices.slice(0, -1).join(', ')} or ${choices.at(-1)}.`,
      seeHelp(verb),
    );
  }
  return choice;
}

/** A number above 0, within the bounds when there are any. */
export function readNumber(
  verb: string,
  option: string,
  word: string | undefined,
  least: number,
  most: number,
  unit: string,
): number | undefined {
  if (word === undefined) return undefined;
  const value = /^\d*\.?\d+(e-?\d+)?$/i.test(word) ? Number(word) : Number.NaN;
  if (!(value >= least && value <= most)) {
    throw new Unusable(
      `${verb}: --${option} is ${escapeText(word)}. It must be a number from ${least} to ${most} ${unit}.`,
      seeHelp(verb),
    );
  }
  return value;
}

/** The line that ends a complaint about words. */
export function seeHelp(verb: string): string {
  return `See: lacuna ${verb} --help`;
}
