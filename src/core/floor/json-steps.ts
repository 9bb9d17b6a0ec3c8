/** JSON read step by step, without building it: for the places `JSON.parse` does not tell. */
import { DEPTH } from './survey.ts';

/** Where a text stops being JSON, and what JSON would have there. */
export interface JsonStop {
  readonly at: number;
  readonly due: string;
}

interface Frame {
  /** Keys met so far; null in a list. */
  readonly keys: Set<string> | null;
  /** Key or position of the value being read. */
  step: string | number;
}

const SPACE = /[ \t\n\r]*/y;
const NUMBER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y;
/** Anything from the space on but the quotation mark and the backslash. */
const STRING_PART = /[ !#-[\]-\uffff]*/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const WORD = /true|false|null/y;

/**
 * Walks JSON text and reports every key that its object has already, with the path of the value it names.
 * Keeps its own stack, and stops where a text goes deeper than a floor file may.
 * @returns where the text stops being JSON, or undefined if it is JSON to its end
 */
export function readJsonSteps(
  text: string,
  onRepeatedKey: (path: readonly (string | number)[]) => void,
): JsonStop | undefined {
  const stack: Frame[] = [];
  let at = 0;
  const skip = (pattern: RegExp): boolean => {
    pattern.lastIndex = at;
    if (!pattern.test(text)) return false;
    at = pattern.lastIndex;
    return true;
  };
  const skipChar = (char: string): boolean => {
    if (text[at] !== char) return false;
    at++;
    return true;
  };
  /** Reads the rest of a string after its first quotation mark; what is due where it breaks off, or undefined. */
  const skipString = (): string | undefined => {
    for (;;) {
      skip(STRING_PART);
      if (skipChar('"')) return undefined;
      if (text[at] !== '\\') return 'the end of the text that began before, a quotation mark,';
      if (!skip(ESCAPE)) return 'an escape JSON knows';
    }
  };
  /** Reads a key and its colon into the frame. */
  const readKey = (frame: Frame): string | undefined => {
    const start = at;
    if (!skipChar('"')) return 'a key in quotation marks';
    const due = skipString();
    if (due !== undefined) return due;
    const key = JSON.parse(text.slice(start, at)) as string;
    frame.step = key;
    if (frame.keys?.has(key)) onRepeatedKey(stack.map(({ step }) => step));
    frame.keys?.add(key);
    skip(SPACE);
    if (!skipChar(':')) return 'a colon';
    skip(SPACE);
    return undefined;
  };

  skip(SPACE);
  for (;;) {
    // A value is due here.
    if (stack.length > DEPTH) return { at, due: 'the end of so much nesting' };
    if (skipChar('{')) {
      skip(SPACE);
      if (!skipChar('}')) {
        const frame: Frame = { keys: new Set(), step: '' };
        stack.push(frame);
        const due = readKey(frame);
        if (due !== undefined) return { at, due };
        continue;
      }
    } else if (skipChar('[')) {
      skip(SPACE);
      if (!skipChar(']')) {
        stack.push({ keys: null, step: 0 });
        continue;
      }
    } else if (skipChar('"')) {
      const due = skipString();
      if (due !== undefined) return { at, due };
    } else if (!skip(NUMBER) && !skip(WORD)) {
      return { at, due: 'a value' };
    }
    // A value has ended: close what ends with it, then go on to the next.
    for (;;) {
      skip(SPACE);
      const frame = stack[stack.length - 1];
      if (frame === undefined) return at === text.length ? undefined : { at, due: 'the end of the file' };
      if (skipChar(',')) {
        skip(SPACE);
        if (frame.keys === null) frame.step = (frame.step as number) + 1;
        else {
          const due = readKey(frame);
          if (due !== undefined) return { at, due };
        }
        break;
      }
      if (!skipChar(frame.keys === null ? ']' : '}'))
        return { at, due: `a comma or ${frame.keys === null ? ']' : '}'}` };
      stack.pop();
    }
  }
}
