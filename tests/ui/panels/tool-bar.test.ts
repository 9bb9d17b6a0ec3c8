import { expect, test } from 'vitest';
import { sayForFinger } from '../../../src/ui/panels/ToolBar.tsx';

test.each([
  [
    'Click or Enter sets the first corner · drag a rectangle · type its place, such as 3.2 4.5 · H: a hole',
    'Tap sets the first corner · drag a rectangle · type its place, such as 3.2 4.5 · H: a hole',
  ],
  [
    'Round 6 · click hangs it · type a name, or Up and Down, for another · Enter: place it by keys · fill lays it over the room',
    'Round 6 · tap hangs it · type a name for another · fill lays it over the room',
  ],
  [
    'Moving D1 · type how far, such as 1.2 · Shift: along one axis · Esc puts it back',
    'Moving D1 · type how far, such as 1.2',
  ],
  ['5.4 · Enter sets it', '5.4 · Set sets it'],
])('%s', (hint, said) => {
  expect(sayForFinger(hint)).toBe(said);
});
