/** Every tool: its letter, its word in the foot, and what the palette says of it. */
import { detectorTool } from './detector.ts';
import { furnitureTool } from './furniture.ts';
import { groupTool } from './group.ts';
import { luminaireTool } from './luminaire.ts';
import { measureTool } from './measure.ts';
import { openingTool } from './opening.ts';
import { roomTool } from './room.ts';
import { selectTool } from './select.ts';
import { openSession, type ToolSession } from './session.ts';
import { sourceTool } from './source.ts';
import { splitTool } from './split.ts';
import type { Tool, ToolContext, ToolId } from './tool.ts';
import { underlayTool } from './underlay.ts';
import { workplaceTool } from './workplace.ts';
import { zoneTool } from './zone.ts';

export interface ToolEntry {
  readonly id: ToolId;
  /** The key that takes it up, as it is written: `R`. */
  readonly key: string;
  readonly word: string;
  /** The position of the key's letter in the word, -1 where the word has none. */
  readonly underlined: number;
  /** For the palette: what it does, as a command. */
  readonly text: string;
  open(context: ToolContext): ToolSession;
}

function entry<State>(tool: Tool<State>, key: string, word: string, text: string): ToolEntry {
  return {
    id: tool.id,
    key,
    word,
    underlined: key.length === 1 ? word.toLowerCase().indexOf(key.toLowerCase()) : -1,
    text,
    open: (context) => openSession(tool, context),
  };
}

/** In the order of the foot. Probe and mask are kept by the page, as they change nothing of the plan. */
export const TOOLS: readonly ToolEntry[] = [
  entry(selectTool, 'V', 'Select', 'Select and move things'),
  entry(roomTool, 'R', 'Room', 'Draw a room'),
  entry(splitTool, 'Shift R', 'Split', 'Split a room along a line'),
  entry(openingTool, 'O', 'Opening', 'Put a door, window or passage into a wall'),
  entry(furnitureTool, 'F', 'Furniture', 'Set furniture down, in rows and blocks too'),
  entry(detectorTool, 'D', 'Detector', 'Hang detectors, one by one or over a room'),
  entry(groupTool, 'G', 'Group', 'Make a group: the main, then its extensions'),
  entry(zoneTool, 'Z', 'Zone', 'Draw a zone'),
  entry(sourceTool, 'S', 'Source', 'Place a source: a heater, fan, air outlet, lamp or machine'),
  entry(workplaceTool, 'W', 'Workplace', 'Place workplaces'),
  entry(luminaireTool, 'L', 'Luminaire', 'Place luminaires'),
  entry(measureTool, 'M', 'Measure', 'Measure a distance, an area or a height'),
];

/** Taken up from the dialog of the picture, not from the foot. */
const UNDERLAY = entry(underlayTool, '', 'Picture', 'Scale, turn or move the picture under the plan');

export function findTool(id: ToolId): ToolEntry | undefined {
  return id === 'underlay' ? UNDERLAY : TOOLS.find((tool) => tool.id === id);
}
