/** One thing that is wrong with a floor file. `formatFault` makes one line of it. */
export interface Fault {
  /** Where in the file, with array indices: `furniture[12].top`. Empty for the file as a whole. */
  readonly path: string;
  /** What is wrong with what stands there: `is 0.7 and base is 0.9`. Of the file as a whole, a clause with a subject. */
  readonly what: string;
  /** What would be right, a sentence: `The top must be above the base.` */
  readonly remedy: string;
}

/** Faults that are listed; of more only the number is told. */
const FAULTS_LISTED = 1_000;
/** Faults that are counted: a file of nothing but faults is not read to its end. */
const FAULTS_COUNTED = 100_000;
/** Characters of a text from the file that a message repeats. */
const QUOTE_LENGTH = 60;

/** A fault as one line: `furniture[12].top: is 0.7 and base is 0.9. The top must be above the base.` */
export function formatFault(fault: Fault): string {
  const line = `${fault.what}. ${fault.remedy}`.trimEnd();
  return fault.path === '' ? line : `${fault.path}: ${line}`;
}

/** Gathers faults while a file is judged. */
export interface FaultList {
  add(path: string, what: string, remedy: string): void;
  readonly count: number;
  /** Whether so much is wrong that looking further tells nobody anything. */
  readonly isFull: boolean;
  /** The faults in the order found, at most `FAULTS_LISTED`, and one that tells how many are left out. */
  list(): readonly Fault[];
}

export function createFaultList(): FaultList {
  const faults: Fault[] = [];
  let count = 0;
  return {
    add(path, what, remedy) {
      count++;
      if (faults.length < FAULTS_LISTED) faults.push({ path, what, remedy });
    },
    get count() {
      return count;
    },
    get isFull() {
      return count >= FAULTS_COUNTED;
    },
    list() {
      const left = count - faults.length;
      if (left === 0) return faults;
      const many = count >= FAULTS_COUNTED ? `More than ${left - 1}` : `${left}`;
      return [...faults, { path: '', what: `${many} more faults are not listed`, remedy: 'Mend these first.' }];
    },
  };
}

/** Steps from the file's root to a value: keys and list positions. */
export type Path = readonly (string | number)[];

/** `['furniture', 12, 'top']` as `furniture[12].top`; a key that is no plain word is quoted: `notes["a b"]`. */
export function formatPath(path: Path): string {
  let out = '';
  for (const step of path) {
    if (typeof step === 'number') out += `[${step}]`;
    else if (/^[A-Za-z_][\w]{0,59}$/.test(step)) out += out === '' ? step : `.${step}`;
    else out += `[${quote(step)}]`;
  }
  return out;
}

/**
 * A text from the file, quoted so that a message stays one harmless line: clipped, and whatever is no visible
 * character (controls, line ends, direction marks, lone surrogates) written as its code.
 */
export function quote(text: string): string {
  const shown = text.length > QUOTE_LENGTH ? `${text.slice(0, QUOTE_LENGTH)}…` : text;
  const safe = shown
    .replace(/["\\]/g, '\\$&')
    .replace(/[\p{C}\p{Zl}\p{Zp}]/gu, (mark) => `\\u{${(mark.codePointAt(0) ?? 0).toString(16)}}`);
  return `"${safe}"`;
}

/** What stands there, for the word "is": `0.7`, `the text "abc"`, `a list of 3`. */
export function describeValue(value: unknown): string {
  switch (typeof value) {
    case 'string':
      return `the text ${quote(value)}`;
    case 'number':
      if (Number.isNaN(value)) return 'no number';
      if (!Number.isFinite(value)) return 'a number too large to hold';
      return formatNumber(value);
    case 'boolean':
      return String(value);
    case 'object':
      if (value === null) return 'null';
      return Array.isArray(value) ? (value.length === 0 ? 'an empty list' : `a list of ${value.length}`) : 'an object';
    default:
      return 'nothing a JSON file can hold';
  }
}

/** A number as people write it: no exponent for what has few digits, rounding noise cut at 12 digits. */
export function formatNumber(value: number): string {
  return String(Number(value.toPrecision(12)));
}

/** A length in metres, to the millimetre: `0.3 m`. */
export function formatMetres(value: number): string {
  return `${formatNumber(Math.round(value * 1_000) / 1_000)} m`;
}

/** `a, b or c` */
export function joinChoices(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words[words.length - 1]}`;
}

/** The word of a list that a written one was probably meant to be: at most a third of its letters differ. */
export function findNearestWord(written: string, words: readonly string[]): string | undefined {
  if (written.length > 40) return undefined;
  let best: string | undefined;
  let least = Infinity;
  for (const word of words) {
    const distance = countEdits(written.toLowerCase(), word.toLowerCase());
    if (distance < least && distance <= Math.max(1, Math.floor(word.length / 3))) {
      least = distance;
      best = word;
    }
  }
  return best;
}

/** Letters to add, drop, change or swap with their neighbour to get from one word to the other. */
function countEdits(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min((row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1, (row[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      next.push(cost);
    }
    before = row;
    row = next;
  }
  return row[b.length] ?? 0;
}
