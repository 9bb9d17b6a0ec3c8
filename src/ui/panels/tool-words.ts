/**
 * The tools as the foot, the keys and the palette name them. It says what the registry says (a test holds the two
 * together), so that the tools themselves come only when one is taken up.
 */
import type { Tool } from '../../editor/store.ts';

export interface ToolWord {
  readonly id: Tool;
  /** As it is written: `Shift R`. */
  readonly key: string;
  readonly word: string;
  /** For the palette: what it does, as a command. */
  readonly text: string;
}

export const TOOL_WORDS: readonly ToolWord[] = [
  { id: 'select', key: 'V', word: 'Select', text: 'Select and move things' },
  { id: 'room', key: 'R', word: 'Room', text: 'Draw a room' },
  { id: 'split', key: 'Shift R', word: 'Split', text: 'Split a room along a line' },
  { id: 'opening', key: 'O', word: 'Opening', text: 'Put a door, window or passage into a wall' },
  { id: 'furniture', key: 'F', word: 'Furniture', text: 'Set furniture down, in rows and blocks too' },
  { id: 'detector', key: 'D', word: 'Detector', text: 'Hang detectors, one by one or over a room' },
  { id: 'mask', key: 'K', word: 'Mask', text: 'Mask a detector' },
  { id: 'group', key: 'G', word: 'Group', text: 'Make a group: the main, then its extensions' },
  { id: 'zone', key: 'Z', word: 'Zone', text: 'Draw a zone' },
  { id: 'source', key: 'S', word: 'Source', text: 'Place a source: a heater, fan, air outlet, lamp or machine' },
  { id: 'workplace', key: 'W', word: 'Workplace', text: 'Place workplaces' },
  { id: 'luminaire', key: 'L', word: 'Luminaire', text: 'Place luminaires' },
  { id: 'probe', key: 'P', word: 'Probe', text: 'Probe a place' },
  { id: 'measure', key: 'M', word: 'Measure', text: 'Measure a distance, an area or a height' },
];

/** The word before, at and after its key's letter; without a letter in the word the key stands after it. */
export function splitWord({ key, word }: ToolWord): readonly [string, string, string] {
  const at = key.length === 1 ? word.toLowerCase().indexOf(key.toLowerCase()) : -1;
  return at < 0 ? [word, '', ''] : [word.slice(0, at), word.slice(at, at + 1), word.slice(at + 1)];
}

export function wordOfTool(id: Tool): string {
  return TOOL_WORDS.find((each) => each.id === id)?.word ?? (id === 'underlay' ? 'Picture' : '');
}
