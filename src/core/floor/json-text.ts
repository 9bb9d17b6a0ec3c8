/**
 * JSON text to a value, with two things `JSON.parse` does not tell: a key written twice in one object, and where a
 * text stops being JSON. The quick path parses natively and compares how many colons went in and came out; only when
 * they differ is the text read again, step by step.
 */
import { type Fault, type FaultList, formatPath, quote } from './fault.ts';
import { readJsonSteps } from './json-steps.ts';
import { LIMITS } from './schema.ts';
import { DEPTH, surveyValue } from './survey.ts';

/** A native parser takes a text of this length at any depth; longer ones are measured first, for its memory's sake. */
const DEEP_LENGTH = 1_000_000;

export type ReadJson = { readonly ok: true; readonly value: unknown } | { readonly ok: false };

/** Reads JSON text; what is wrong with it goes to the faults. A byte order mark before it is passed over. */
export function readJson(text: string, faults: FaultList): ReadJson {
  if (text.length > LIMITS.fileCharacters) {
    faults.add('', `The file holds ${text.length} characters`, `A floor file has at most ${LIMITS.fileCharacters}.`);
    return { ok: false };
  }
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  let value: unknown;
  try {
    if (body.length > DEEP_LENGTH && isDeep(body)) throw new RangeError('deep');
    value = JSON.parse(body);
  } catch (error) {
    const { path, what, remedy } = error instanceof RangeError ? DEEP : findSyntaxFault(body);
    faults.add(path, what, remedy);
    return { ok: false };
  }
  const before = faults.count;
  const colons = surveyValue(value, faults);
  // A colon written as an escape comes out of the parser and never went in, so that a lost one might not be missed.
  if (colons !== countColons(body) || /\\u003a/i.test(body)) addRepeatedKeys(body, faults);
  return faults.count === before ? { ok: true, value } : { ok: false };
}

const DEEP: Fault = {
  path: '',
  what: `The file nests more than ${DEPTH} objects and lists in one another`,
  remedy: 'A floor file is flat. Take the excess out.',
};

function addRepeatedKeys(text: string, faults: FaultList): void {
  readJsonSteps(text, (path) => {
    faults.add(formatPath(path), 'is written more than once in one object', 'Keep one of them.');
  });
}

/** Colons of a text, those in strings too. */
function countColons(text: string): number {
  let count = 0;
  for (let at = text.indexOf(':'); at !== -1; at = text.indexOf(':', at + 1)) count++;
  return count;
}

/** Whether brackets outside strings nest deeper than a floor file may. */
function isDeep(text: string): boolean {
  let open = 0;
  let isString = false;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 0x22) isString = !isString;
    else if (code === 0x5c) i++;
    else if (!isString) {
      if (code === 0x5b || code === 0x7b) open++;
      else if (code === 0x5d || code === 0x7d) open--;
      if (open > DEPTH) return true;
    }
  }
  return false;
}

function findSyntaxFault(text: string): Fault {
  if (text.trim() === '') return { path: '', what: 'The file is empty', remedy: 'A floor file is one JSON object.' };
  const stop = readJsonSteps(text, () => undefined);
  // JSON to its end, and the engine's own parser gave up on it all the same: only depth does that.
  if (stop === undefined) return DEEP;
  let line = 1;
  let lineStart = 0;
  for (let i = text.indexOf('\n'); i !== -1 && i < stop.at; i = text.indexOf('\n', i + 1)) {
    line++;
    lineStart = i + 1;
  }
  const char = text.codePointAt(stop.at);
  const found = char === undefined ? 'ends' : `has ${quote(String.fromCodePoint(char))}`;
  return {
    path: '',
    what: `The file is no JSON: line ${line}, column ${stop.at - lineStart + 1} ${found} where ${stop.due} is due`,
    remedy: 'Mend the text there.',
  };
}
