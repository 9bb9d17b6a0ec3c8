/** Everything that can be done by a key or by its name: one list for the key map, the palette and the list of keys. */
import { stepFinding } from '../../editor/findings.ts';
import { redo, undo } from '../../editor/history.ts';
import { heldDetector, nudgeTurn } from '../../editor/nudges.ts';
import type { EditorStore } from '../../editor/store.ts';
import { KIND_WORDS, type ThingKind } from '../../editor/things.ts';
import { startTool, stepBackWithTool } from '../../editor/tool-run.ts';
import { setCamera, setPlane, setShow } from '../../editor/view.ts';
import { presentation } from '../presentation.ts';
import { act } from './actions.ts';
import type { Host } from './context.tsx';
import { openDialog } from './dialog-state.ts';
import { focusField, focusNextRegion } from './focus.ts';
import { openQuestion, type QuestionName } from './questions/question-state.ts';
import { stepRuleMark } from './rule-focus.ts';
import { view } from './scene-port.ts';
import { TOOL_WORDS } from './tool-words.ts';

export interface Reach {
  readonly store: EditorStore;
  readonly host: Host;
}

export interface Command {
  readonly text: string;
  /** As it is written: "Ctrl Shift Z". Empty: only by its name. */
  readonly keys: string;
  readonly group: 'View' | 'Tools' | 'Things' | 'Findings' | 'Questions' | 'Files' | 'Everywhere';
  readonly run: (reach: Reach) => void;
  /** The key acts only while the page has the focus: in a field it is the field's own. */
  readonly isOfPage?: true;
  /** The browser's own key: it comes as an event of the clipboard. */
  readonly isOfClipboard?: true;
}

/** Turns what is selected: detectors alone about their lens, other things about their middle. */
function turn(store: EditorStore, degrees: number): void {
  if (heldDetector(store.getState()) !== null) nudgeTurn(store, degrees);
  else act((actions) => actions.turnSelected(store, degrees));
}

const KINDS = Object.keys(KIND_WORDS) as ThingKind[];

/** What is done to the selection, or to everything of a kind. */
const THING_COMMANDS: readonly Command[] = [
  {
    group: 'Things',
    keys: 'Del',
    isOfPage: true,
    text: 'Delete what is selected',
    run: ({ store }) => act((actions) => actions.deleteSelected(store)),
  },
  {
    group: 'Things',
    keys: 'Ctrl D',
    isOfPage: true,
    text: 'Repeat what is selected, again by the same step',
    run: ({ store }) => act((actions) => actions.repeatSelected(store)),
  },
  {
    group: 'Things',
    keys: 'Ctrl C',
    isOfClipboard: true,
    text: 'Copy what is selected; with nothing selected the findings as text',
    run: ({ store, host }) =>
      act((actions) => {
        const text = actions.copySelected(store);
        if (text !== null) host.copyText(text);
      }),
  },
  {
    group: 'Things',
    keys: 'Ctrl X',
    isOfClipboard: true,
    text: 'Cut what is selected',
    run: ({ store, host }) =>
      act((actions) => {
        const text = actions.cutSelected(store);
        if (text !== null) host.copyText(text);
      }),
  },
  {
    group: 'Things',
    keys: 'Ctrl V',
    isOfClipboard: true,
    text: 'Paste beside where it was; a list of workplaces too',
    run: (reach) => pasteLast(reach, false),
  },
  {
    group: 'Things',
    keys: 'Shift V',
    isOfPage: true,
    text: 'Paste in place',
    run: (reach) => pasteLast(reach, true),
  },
  {
    group: 'Things',
    keys: 'Ctrl A',
    isOfPage: true,
    text: 'Select all of the kind that is selected',
    run: ({ store }) => act((actions) => actions.selectKind(store)),
  },
  {
    group: 'Things',
    keys: '[',
    text: 'Turn what is selected 15° to the left',
    run: ({ store }) => turn(store, 15),
  },
  {
    group: 'Things',
    keys: ']',
    text: 'Turn what is selected 15° to the right',
    run: ({ store }) => turn(store, -15),
  },
  ...(
    [
      ['left', 'Align on the left'],
      ['right', 'Align on the right'],
      ['top', 'Align at the top'],
      ['bottom', 'Align at the bottom'],
      ['middle of x', 'Align on one upright line'],
      ['middle of y', 'Align on one level line'],
    ] as const
  ).map(
    ([alignment, text]): Command => ({
      group: 'Things',
      keys: '',
      text,
      run: ({ store }) => act((actions) => actions.alignSelected(store, alignment)),
    }),
  ),
  ...(['x', 'y'] as const).map(
    (axis): Command => ({
      group: 'Things',
      keys: '',
      text: `Distribute along ${axis}, with equal gaps`,
      run: ({ store }) => act((actions) => actions.distributeSelected(store, axis)),
    }),
  ),
  {
    group: 'Things',
    keys: '',
    text: 'Merge the two selected rooms',
    run: ({ store }) => act((actions) => actions.mergeSelected(store)),
  },
  {
    group: 'Things',
    keys: '',
    text: 'Lock the selected detectors',
    run: ({ store }) => act((actions) => actions.lockSelected(store, true)),
  },
  {
    group: 'Things',
    keys: '',
    text: 'Unlock the selected detectors',
    run: ({ store }) => act((actions) => actions.lockSelected(store, false)),
  },
  { group: 'Things', keys: '', text: 'Detector types: enter a data sheet', run: () => openDialog('types') },
  { group: 'Things', keys: '', text: 'Workplaces from a spreadsheet', run: () => openDialog('workplaces') },
  { group: 'Things', keys: '', text: 'Propose groups', run: () => openDialog('groups') },
  { group: 'Things', keys: '', text: 'Energy estimate', run: () => openDialog('energy') },
  ...KINDS.flatMap((kind): readonly Command[] => {
    const many = KIND_WORDS[kind].toLowerCase();
    const all: Command = {
      group: 'Things',
      keys: '',
      text: `Select all ${many}`,
      run: ({ store }) => act((actions) => actions.selectKind(store, kind)),
    };
    if (kind === 'group') return [all];
    return [
      all,
      {
        group: 'Things',
        keys: '',
        text: `Hide or show ${many}`,
        run: ({ store }) => act((actions) => actions.toggleHidden(store, kind)),
      },
      {
        group: 'Things',
        keys: '',
        text: `Lock or unlock ${many}`,
        run: ({ store }) => act((actions) => actions.toggleLocked(store, kind)),
      },
    ];
  }),
];

/** Pastes what was copied in this window, else what the clipboard holds. */
function pasteLast({ store, host }: Reach, inPlace: boolean): void {
  act((actions) => {
    const text = actions.lastCopied();
    if (text !== null) actions.pasteCopied(store, text, inPlace);
    else host.readClipboard((read) => actions.pasteCopied(store, read, inPlace));
  });
}

const ask =
  (name: QuestionName) =>
  ({ store }: Reach): void =>
    openQuestion(store, name);

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
  {
    group: 'View',
    keys: 'Ctrl Enter',
    isOfPage: true,
    text: 'Present: the picture and one sentence',
    run: () => presentation.setState({ isOn: true }),
  },
  ...TOOL_WORDS.map(
    ({ id, key, text }): Command => ({ group: 'Tools', keys: key, text, run: ({ store }) => startTool(store, id) }),
  ),
  ...THING_COMMANDS,
  { group: 'Findings', keys: ',', text: 'Finding before', run: ({ store }) => stepFinding(store, -1) },
  { group: 'Findings', keys: '.', text: 'Next finding', run: ({ store }) => stepFinding(store, 1) },
  { group: 'Findings', keys: '/', text: 'Filter the findings', run: () => void focusField('filter') },
  { group: 'Questions', keys: '', text: 'Arrange: the fewest detectors that meet every need', run: ask('arrange') },
  { group: 'Questions', keys: 'C', text: 'Compare with another state', run: ask('compare') },
  { group: 'Questions', keys: '', text: 'What if these pieces were taller or lower', run: ask('what-if') },
  { group: 'Questions', keys: '', text: 'Stress: what if things are otherwise than drawn', run: ask('stress') },
  { group: 'Questions', keys: '', text: 'Move-room: where each detector may hang', run: ask('move-room') },
  { group: 'Questions', keys: '', text: 'Walk test on site: point by point', run: ask('walk-test') },
  { group: 'Questions', keys: '', text: 'People, not planes: how much of a body is seen', run: ask('bodies') },
  { group: 'Files', keys: '', text: 'New floor', run: ({ host }) => host.newFloor() },
  { group: 'Files', keys: 'Ctrl O', text: 'Open a floor', run: ({ host }) => host.openFile() },
  { group: 'Files', keys: '', text: 'Import a model, a drawing or a map', run: ({ host }) => host.imports.pick() },
  { group: 'Files', keys: 'Ctrl S', text: 'Save the floor', run: ({ host }) => host.saveFile() },
  {
    group: 'Files',
    keys: 'H',
    isOfPage: true,
    text: 'Hand over: report, plans, masks, schedule, walk test',
    run: () => openDialog('handover'),
  },
  {
    group: 'Files',
    keys: '',
    text: 'Copy a link that carries this floor',
    run: ({ host }) => void host.copyLink(),
  },
  { group: 'Files', keys: '', text: 'Picture under the plan: PNG, JPEG or PDF', run: () => openDialog('underlay') },
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
  { group: 'Everywhere', keys: 'Esc', text: 'One step back', run: ({ store }) => void stepBackWithTool(store) },
  { group: 'Everywhere', keys: '', text: 'Lengths in metres', run: ({ host }) => host.chooseUnits('metres') },
  { group: 'Everywhere', keys: '', text: 'Lengths in feet and inches', run: ({ host }) => host.chooseUnits('feet') },
  { group: 'Everywhere', keys: '', text: 'Light theme', run: ({ host }) => host.chooseTheme('light') },
  { group: 'Everywhere', keys: '', text: 'Dark theme', run: ({ host }) => host.chooseTheme('dark') },
  { group: 'Everywhere', keys: '', text: 'Theme of the system', run: ({ host }) => host.chooseTheme('system') },
];

/** Keys whose work depends on what is in hand; the page handles them. Listed for the reader. */
export const PAGE_KEYS: readonly { readonly keys: string; readonly text: string }[] = [
  { keys: 'Tab', text: 'Next thing on the page; with a mask in hand its next handle' },
  { keys: 'Shift Tab', text: 'Thing before' },
  { keys: 'Arrows', text: 'Move what is selected 0.10 m (Alt 0.01 m, Shift one tile of 0.60 m); else the page' },
  { keys: 'Shift Enter', text: 'Pick up what is selected: arrows or a typed length move it, Enter sets it down' },
  { keys: 'H, something selected', text: 'Take a handle of it: a corner, an edge, a side; again the next' },
  { keys: 'Shift [ and ]', text: 'Turn what is selected 1°' },
  { keys: 'Left, Right', text: 'Mask handle 1° (Shift 5°, Alt 0.1°)' },
  { keys: 'Enter', text: 'Edit what is selected; pin the probe; add a mask; in a tool, as a click' },
  { keys: 'Space + arrows', text: 'Move the page' },
  {
    keys: 'Arrows, in a tool',
    text: 'Move the hand 0.10 m, stopping at edges (Alt 0.01 m, Shift one tile, Ctrl to the next corner)',
  },
  { keys: 'Digits, in a tool', text: 'A length: 5.4, 5.4 @30, 5.4 8.1; Backspace takes back' },
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

const NAMES: Readonly<Record<string, string>> = {
  PageUp: 'PgUp',
  PageDown: 'PgDn',
  Escape: 'Esc',
  Delete: 'Del',
  _: '-',
};
