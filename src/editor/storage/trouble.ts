/** Why changes are not kept, in words. */
import type { Tidings } from './writer.ts';

export interface Trouble {
  readonly kind: Exclude<Tidings, 'done'>;
  readonly what: string;
  readonly remedy: string;
}

const WORDS: Readonly<Record<Trouble['kind'], readonly [what: string, remedy: string]>> = {
  unavailable: [
    'This browser keeps no floors here, as in a private window. Changes are gone when the tab is closed.',
    'Save the floor to a file before.',
  ],
  full: [
    'The disk has no room left for this browser. Changes are not kept.',
    'Save the floor to a file. Removing recent floors makes room.',
  ],
  gone: ['What this browser had kept was taken away. Changes are not kept.', 'Save the floor to a file.'],
  failed: ['The browser did not keep the last change.', 'Save the floor to a file. The browser is asked again.'],
  slow: [
    'The browser has not kept the last change yet.',
    'Wait before the tab is closed, or save the floor to a file.',
  ],
};

export function sayTrouble(kind: Trouble['kind']): Trouble {
  const [what, remedy] = WORDS[kind];
  return { kind, what, remedy };
}
