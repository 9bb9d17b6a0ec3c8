/** Everything that can be done by a key or by its name: one list for the key map, the palette and the list of keys. */
import { stepFinding } from '../../editor/findings.ts';
import { redo, undo } from '../../editor/history.ts';
import { nudgeTurn } from '../../editor/nudges.ts';
import type { EditorStore } from '../../editor/store.ts';
import { setCamera, setPlane, setShow, setTool, stepBack } from '../../editor/view.ts';
import type { Host } from './context.tsx';
import { openDialog } from './dialog-state.ts';
import { focusField, focusNextRegion } from './focus.ts';
import { stepRuleMark } from './rule-focus.ts';
import { view } from './scene-port.ts';

export interface Reach {
  readonly store: EditorStore;
  readonly host: Host;
}

export interface Command {
  readonly text: string;
  /** As it is written: "Ctrl Shift Z". Empty: only by its name. */
  readonly keys: string;
  readonly group: 'View' | 'Tools' | 'Things' | 'Findings' | 'Files' | 'Everywhere';
  readonly run: (reach: Reach) => void;
}

export const COMMANDS: readonly Command[] = [
  { group: 'View', keys: '1', text: 'Plan', run: ({ store }) => setCamera(store, 'plan') },
  { group: 'View', keys: '2', text: 'Model', run: ({ store }) => setCamera(store, 'model') },
  { group: 'View', keys: '3', text: 'Walk', run: ({ store }) => setCamera(store, 'walk') },
  { group: 'View', keys: '4', text: 'Show what is blind', run: ({ store }) => setShow(store, 'blind') },
  {
    group: 'View',
    keys: '5',
    text: 'Show by how many detectors a place is seen',
    run: ({ store }) => setShow(store, 'count'),
  },
  { group: 'View', keys: '6', text: 'Show the share of headings seen', run: ({ store }) => setShow(store, 'headings') },
  { group: 'View', keys: '7', text: 'Look at the seated plane', run: ({ store }) => setPlane(store, 'seated') },
  { group: 'View', keys: '8', text: 'Look at the walking plane', run: ({ store }) => setPlane(store, 'walking') },
  { group: 'View', keys: 'PgUp', text: 'Next higher mark on the rule', run: () => stepRuleMark(-1) },
  { group: 'View', keys: 'PgDn', text: 'Next lower mark on the rule', run: () => stepRuleMark(1) },
  { group: 'View', keys: '+', text: 'Nearer', run: () => view()?.zoomBy(1.25) },
  { group: 'View', keys: '-', text: 'Farther', run: () => view()?.zoomBy(0.8) },
  { group: 'View', keys: '0', text: 'The whole floor', run: () => view()?.fit() },
  { group: 'Tools', keys: 'V', text: 'Select', run: ({ store }) => setTool(store, 'select') },
  { group: 'Tools', keys: 'P', text: 'Probe a place', run: ({ store }) => setTool(store, 'probe') },
  { group: 'Tools', keys: 'K', text: 'Mask a detector', run: ({ store }) => setTool(store, 'mask') },
  {
    group: 'Tools',
    keys: '[',
    text: 'Turn the detector 15° to the left',
    run: ({ store }) => void nudgeTurn(store, 15),
  },
  {
    group: 'Tools',
    keys: ']',
    text: 'Turn the detector 15° to the right',
    run: ({ store }) => void nudgeTurn(store, -15),
  },
  { group: 'Findings', keys: ',', text: 'Finding before', run: ({ store }) => stepFinding(store, -1) },
  { group: 'Findings', keys: '.', text: 'Next finding', run: ({ store }) => stepFinding(store, 1) },
  { group: 'Findings', keys: '/', text: 'Filter the findings', run: () => void focusField('filter') },
  { group: 'Files', keys: 'Ctrl O', text: 'Open a floor', run: ({ host }) => host.openFile() },
  { group: 'Files', keys: 'Ctrl S', text: 'Save the floor', run: ({ host }) => host.saveFile() },
  { group: 'Files', keys: 'Ctrl E', text: 'Example floors', run: () => openDialog('files') },
  { group: 'Everywhere', keys: 'Ctrl Z', text: 'Undo', run: ({ store }) => void undo(store) },
  { group: 'Everywhere', keys: 'Ctrl Shift Z', text: 'Redo', run: ({ store }) => void redo(store) },
  { group: 'Everywhere', keys: 'Ctrl K', text: 'Find anything by its name', run: () => openDialog('find') },
  { group: 'Everywhere', keys: '?', text: 'All keys', run: () => openDialog('keys') },
  {
    group: 'Everywhere',
    keys: 'F6',
    text: 'Next region: page, margin, head, rule, foot',
    run: () => focusNextRegion(false),
  },
  { group: 'Everywhere', keys: 'Shift F6', text: 'Region before', run: () => focusNextRegion(true) },
  { group: 'Everywhere', keys: 'Esc', text: 'One step back', run: ({ store }) => void stepBack(store) },
  { group: 'Everywhere', keys: '', text: 'Light theme', run: ({ host }) => host.chooseTheme('light') },
  { group: 'Everywhere', keys: '', text: 'Dark theme', run: ({ host }) => host.chooseTheme('dark') },
  { group: 'Everywhere', keys: '', text: 'Theme of the system', run: ({ host }) => host.chooseTheme('system') },
];

/** Keys whose work depends on what is in hand; the page handles them. Listed for the reader. */
export const PAGE_KEYS: readonly { readonly keys: string; readonly text: string }[] = [
  { keys: 'Tab', text: 'Next thing on the page; with a mask in hand its next handle' },
  { keys: 'Shift Tab', text: 'Thing before' },
  { keys: 'Arrows', text: 'Move the detector 0.10 m (Alt 0.01 m, Shift one tile of 0.60 m); without one, the page' },
  { keys: 'Shift [ and ]', text: 'Turn the detector 1°' },
  { keys: 'Left, Right', text: 'Mask handle 1° (Shift 5°, Alt 0.1°)' },
  { keys: 'Enter', text: 'Edit what is selected; pin the probe; add a mask' },
  { keys: 'Space + arrows', text: 'Move the page' },
  { keys: 'Ctrl C', text: 'Copy the findings, or the faults, as text' },
  { keys: 'Arrows, in the model', text: 'Turn it 15° (Shift moves it)' },
  { keys: 'Arrows, walking', text: '0.5 m forward or back, 15° left or right (Shift sideways)' },
];

/** The command an event asks for. Letters and signs are matched as they are written, so they stand where the keyboard has them. */
export function findCommand(event: KeyboardEvent): Command | undefined {
  const parts: string[] = [];
  // Where a sign is written with AltGr, some systems report it as Ctrl and Alt together.
  const isWrittenSign = event.getModifierState('AltGraph');
  if (!isWrittenSign && (event.ctrlKey || event.metaKey)) parts.push('Ctrl');
  const key = NAMES[event.key] ?? (event.key.length === 1 ? event.key.toUpperCase() : event.key);
  // A sign is what Shift made of its key; a letter or a named key is pressed with or without it.
  if (event.shiftKey && (/^[A-Z]$/u.test(key) || key.length > 1)) parts.push('Shift');
  parts.push(key === '=' ? '+' : key);
  if (event.altKey && !isWrittenSign) return undefined;
  const keys = parts.join(' ');
  return COMMANDS.find((command) => command.keys === keys);
}

const NAMES: Readonly<Record<string, string>> = { PageUp: 'PgUp', PageDown: 'PgDn', Escape: 'Esc', _: '-' };
