/** Values of the trade with where they come from and how far that can be trusted. */

/**
 * How a value is known: `found` in a text that was read, `memory` from memory and not checked again, `derived` from
 * others by calculation, `practice` common practice without a source, `choice` chosen for Lacuna.
 */
export type Standing = 'found' | 'memory' | 'derived' | 'practice' | 'choice';

/** A value with its source, to be shown together. */
export interface Sourced<Value> {
  readonly value: Value;
  readonly source: string;
  readonly standing: Standing;
}

/** The words for a standing, to stand beside a value. */
export const STANDING_WORDS: { readonly [Each in Standing]: string } = {
  found: 'from the text',
  memory: 'from memory: verify',
  derived: 'derived',
  practice: 'common practice, no source',
  choice: 'own choice',
};
