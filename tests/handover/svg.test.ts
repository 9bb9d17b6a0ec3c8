import { describe, expect, test } from 'vitest';
import {
  cleanText,
  cutToWidth,
  element,
  formatNumber,
  measureText,
  textAt,
  wrapToWidth,
} from '../../src/handover/plan/svg.ts';

describe('text in a drawing', () => {
  test('markup in a name is text', () => {
    const drawn = textAt({ x: 1, y: 2 }, '</text><script>alert("1")</script>&amp;', { size: 2 });
    expect(drawn).not.toContain('<script');
    expect(drawn).toContain('&lt;/text&gt;&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;&amp;amp;');
  });

  test('an attribute cannot be left', () => {
    expect(element('g', { id: `a" onload='x` })).toBe('<g id="a&quot; onload=&#39;x"/>');
  });

  test('control characters and turns of direction are gone', () => {
    expect(cleanText('a\u0000b\u001b[31m\u202ec\u2066d\u0085\ufffee')).toBe('a b [31m c d  e');
    expect(cleanText('lone \ud800 half')).toBe('lone   half');
  });

  test('what is written right to left stands isolated, the rest does not', () => {
    expect(cleanText('חדר 4')).toBe('\u2068חדר 4\u2069');
    expect(cleanText('Büro 4, 会議室')).toBe('Büro 4, 会議室');
  });
});

describe('formatNumber', () => {
  test.each([
    [1.005, '1'],
    [-0.001, '0'],
    [12.345678, '12.35'],
    [100, '100'],
    [1e-7, '0'],
  ])('%f is %s', (value, text) => expect(formatNumber(value)).toBe(text));
});

describe('measuring', () => {
  test('bold and the reading face run wider, an East Asian letter is as wide as high', () => {
    const plain = measureText('Workplace 17', { size: 2 });
    expect(measureText('Workplace 17', { size: 2, bold: true })).toBeGreaterThan(plain);
    expect(measureText('Workplace 17', { size: 2, font: 'reading' })).toBeGreaterThan(plain);
    expect(measureText('室', { size: 2 })).toBe(2);
  });

  test('lines keep within the width and lose no word', () => {
    const text = 'All 65 workplaces are met. At every entrance people are seen at once.';
    const lines = wrapToWidth(text, 30, { size: 3 });
    expect(lines.length).toBeGreaterThan(2);
    expect(lines.join(' ')).toBe(text);
    for (const line of lines) expect(measureText(line, { size: 3 })).toBeLessThanOrEqual(30);
  });

  test('what is cut is marked', () => {
    expect(cutToWidth('Conference', 100, { size: 2 })).toBe('Conference');
    const cut = cutToWidth('Conference room of the north wing', 20, { size: 2 });
    expect(cut.endsWith('…')).toBe(true);
    expect(measureText(cut, { size: 2 })).toBeLessThanOrEqual(20);
  });
});
