import { describe, expect, test } from 'vitest';
import { toneOf } from '../../src/handover/plan/paper.ts';

describe('toneOf', () => {
  // The samples of the design's tokens, of a ceiling of 3 m.
  test.each([
    [0.74, '#EDEEEF'],
    [1.05, '#E1E2E4'],
    [1.4, '#CDD0D3'],
    [1.6, '#BFC3C6'],
    [2.2, '#8A9096'],
    [3, '#2C3740'],
  ])('a top at %f m is %s', (top, hex) => {
    const channels = (colour: string) => [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
    const expected = channels(hex);
    for (const [k, value] of channels(toneOf(top, 3)).entries())
      expect(Math.abs(value - expected[k]!)).toBeLessThanOrEqual(1);
  });

  test('what reaches beyond the ceiling is as dark as what reaches it', () => {
    expect(toneOf(4, 3)).toBe(toneOf(3, 3));
  });
});
