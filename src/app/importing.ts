/** An import in the browser: files to the worker, answers to a preview, the floor to the editor. Loaded when the first import begins. */
import { type FloorFile, formatFault } from '../core/floor/index.ts';
import { edit } from '../editor/history.ts';
import type { EditorStore } from '../editor/store.ts';
import { say } from '../editor/view.ts';
import { ASSUMED, DEFAULT_GAP, type ImportAnswers } from '../importers/assembly/answers.ts';
import { countThings, type ImportReport, sayCounts, writeReport } from '../importers/assembly/report.ts';
import { DXF_CLASSES } from '../importers/dxf/names.ts';
import { DXF_UNITS, UNIT_WORDS } from '../importers/dxf/units.ts';
import type { NamedBytes } from '../importers/geojson/read.ts';
import type { SourceAnswers } from '../importers/source.ts';
import type { Refusal } from '../importers/storey.ts';
import { closeDialog, dialogs, openDialog } from '../ui/panels/dialog-state.ts';
import type {
  DrawingQuestions,
  ImportAnswerValues,
  ImportPreview,
  ImportView,
} from '../ui/panels/import/import-port.ts';
import { imports } from '../ui/panels/import/import-state.ts';
import { accountOf, readKeptReport } from '../ui/panels/import/kept-report.ts';
import { ImportEnded, type ImportLine, openImportLine } from '../workers/import-line.ts';
import type { BuiltFloor, SourceSummary } from '../workers/import-session.ts';
import type { Files } from './files.ts';
import { readClasses, rememberClasses } from './import-memory.ts';
import { createEmptyFloor } from './new-floor.ts';

/** Larger files are refused before they are read: a page has not the memory for them. */
const MOST_BYTES = 500_000_000;
type Asking = Extract<ImportView, { readonly step: 'asking' }>;

export interface Importing {
  start(files: readonly File[]): Promise<void>;
  chooseStorey(index: number): void;
  answer(part: Partial<ImportAnswerValues>): void;
  answerDrawing(part: { readonly unit?: string; readonly classes?: Readonly<Record<string, string>> }): void;
  open(how: 'new' | 'onto'): Promise<void>;
  cancel(): void;
  saveReport(): Promise<void>;
}

const FIRST_ANSWERS: ImportAnswerValues = { ceiling: null, gap: DEFAULT_GAP, rooms: 'auto', seats: true, heights: {} };

export function createImporting(store: EditorStore, files: Files): Importing {
  let line: ImportLine | null = null;
  let built: BuiltFloor | null = null;
  /** What the drawing is answered; counts up, so that the answer to an older one is passed over. */
  let drawingAnswers: { unit: string | undefined; classes: Record<string, string> } = { unit: undefined, classes: {} };
  let wish = 0;
  let isBuilding = false;

  const show = (view: ImportView | null): void => imports.setState({ view });
  const asking = (): Asking | null => {
    const { view } = imports.getState();
    return view?.step === 'asking' ? view : null;
  };
  const change = (part: Partial<Asking>): void => {
    const view = asking();
    if (view !== null) show({ ...view, ...part });
  };

  /** Ends the worker and forgets the import. */
  function end(): void {
    line?.end();
    line = null;
    built = null;
    wish++;
    show(null);
  }
  // The dialog may be closed by Escape or by a click beside it: the import ends with it.
  dialogs.subscribe((state) => {
    if (state.open !== 'import' && imports.getState().view !== null) end();
  });

  function refuse(source: string, { reason, remedy }: Pick<Refusal, 'reason' | 'remedy'>): void {
    line?.end();
    line = null;
    show({ step: 'refused', source, reason: finish(reason), remedy: finish(remedy) });
  }

  /** What went wrong is said in the dialog; that an import was called off is nothing wrong. */
  function fail(source: string, error: unknown): void {
    if (error instanceof ImportEnded) return;
    const why = error instanceof Error ? error.message : String(error);
    refuse(source, {
      reason: `The import did not finish: ${why}`,
      remedy: 'Try the file again, or a smaller part of it.',
    });
  }

  const sourceAnswers = (): SourceAnswers => {
    const known = { ...readClasses(), ...drawingAnswers.classes };
    const classes = Object.fromEntries(
      Object.entries(known).flatMap(([name, word]) => {
        const kind = DXF_CLASSES.find((each) => each === word);
        return kind === undefined ? [] : [[name, kind]];
      }),
    );
    const unit = DXF_UNITS.find((each) => each === drawingAnswers.unit);
    return { dxf: { layers: classes, blocks: classes, ...(unit === undefined ? {} : { unit }) } };
  };

  function ask(source: string, read: SourceSummary): void {
    const before = asking();
    const chosen = before === null || before.chosen >= read.storeys.length ? read.main : before.chosen;
    show({
      step: 'asking',
      source,
      format: read.format,
      storeys: read.storeys.map(({ name, rooms, walls, openings, pieces, plan }) => ({
        name,
        detail: [`${rooms} rooms`, `${walls} walls`, `${openings} openings`, `${pieces} pieces`].join(', '),
        plan,
      })),
      chosen,
      drawing: describeDrawing(read, drawingAnswers.unit),
      answers: before?.answers ?? FIRST_ANSWERS,
      preview: before?.preview ?? null,
      isWorking: true,
      openSource: readKeptReport(store.getState().file)?.source ?? null,
      faults: [],
    });
    void build();
  }

  /** Puts the chosen storey together anew; while one is being built, only the newest wish is kept. */
  async function build(): Promise<void> {
    const view = asking();
    if (view === null || line === null) return;
    change({ isWorking: true });
    if (isBuilding) return;
    isBuilding = true;
    const mine = wish;
    const { chosen, answers, source } = view;
    try {
      const next = await line.build({ storey: chosen, answers: toAnswers(answers), onto: null });
      const now = asking();
      isBuilding = false;
      if (now === null || mine !== wish) return;
      built = next;
      const isNewest = now.chosen === chosen && now.answers === answers;
      change({ preview: describeBuilt(next), isWorking: !isNewest });
      if (!isNewest) void build();
    } catch (error) {
      isBuilding = false;
      if (mine === wish) fail(source, error);
    }
  }

  async function reread(): Promise<void> {
    const view = asking();
    if (view === null || line === null) return;
    change({ isWorking: true });
    const mine = ++wish;
    try {
      const read = await line.reread(sourceAnswers(), () => {});
      if (mine !== wish) return;
      if (read.ok) ask(view.source, read);
      else refuse(view.source, read);
    } catch (error) {
      if (mine === wish) fail(view.source, error);
    }
  }

  return {
    async start(list) {
      const source = list.length === 1 ? (list[0]?.name ?? '') : `${list.length} files`;
      line?.end();
      drawingAnswers = { unit: undefined, classes: {} };
      built = null;
      const mine = ++wish;
      isBuilding = false;
      show({ step: 'reading', source, stage: 'Opening the file', share: 0 });
      openDialog('import');
      const size = list.reduce((sum, file) => sum + file.size, 0);
      if (size > MOST_BYTES) {
        refuse(source, {
          reason: `The source has ${Math.ceil(size / 1e6)} MB, and a page reads at most ${MOST_BYTES / 1e6} MB`,
          remedy: 'Export single storeys, or import it on the command line',
        });
        return;
      }
      try {
        const bytes = await Promise.all(
          list.map(
            async (file): Promise<NamedBytes> => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) }),
          ),
        );
        if (mine !== wish) return;
        line = openImportLine();
        const read = await line.read(bytes, sourceAnswers(), (share, stage) => {
          if (mine === wish) show({ step: 'reading', source, stage: capital(stage), share });
        });
        if (mine !== wish) return;
        if (read.ok) ask(source, read);
        else refuse(source, read);
      } catch (error) {
        if (mine === wish) fail(source, error);
      }
    },
    chooseStorey(chosen) {
      change({ chosen, preview: null });
      void build();
    },
    answer(part) {
      const view = asking();
      if (view === null) return;
      change({ answers: { ...view.answers, ...part } });
      void build();
    },
    answerDrawing({ unit, classes = {} }) {
      drawingAnswers = { unit: unit ?? drawingAnswers.unit, classes: { ...drawingAnswers.classes, ...classes } };
      rememberClasses(classes);
      void reread();
    },
    async open(how) {
      const view = asking();
      if (view === null || line === null || built === null) return;
      const { report, floor } = built;
      if (floor.rooms.length === 0) {
        change({
          faults: [
            'No rooms were found: nothing encloses one. Close wider gaps, say which layer holds the walls, or choose another storey.',
          ],
        });
        return;
      }
      if (how === 'new') {
        const { types } = await createEmptyFloor();
        if (!files.openFloor({ ...floor, types })) return;
        imports.setState({ isReportOpen: true, changes: [], changesOf: null });
      } else if (!(await bringOnto(view, report))) return;
      end();
      closeDialog();
      say(store, `Imported ${view.source}.`);
    },
    cancel() {
      const wasReading = imports.getState().view?.step === 'reading';
      end();
      closeDialog();
      if (wasReading) say(store, 'The import was stopped. The open floor is as it was.');
    },
    async saveReport() {
      const { file } = store.getState();
      const kept = readKeptReport(file);
      if (kept === null) return;
      const text = writeReport({ ...kept, origin: [0, 0], counts: countThings(file) });
      await files.saveText(text, 'import.txt');
    },
  };

  /** One step of history: the open floor brought up to the newer version of its source. */
  async function bringOnto(view: Asking, report: ImportReport): Promise<boolean> {
    if (line === null) return false;
    change({ isWorking: true });
    const { update } = await line.build({
      storey: view.chosen,
      answers: toAnswers(view.answers),
      onto: store.getState().file,
    });
    change({ isWorking: false });
    if (update === null) return false;
    if (!update.ok) {
      change({ faults: update.reasons });
      return false;
    }
    const { floor, changes } = update;
    const outcome = edit(store, `Imported ${report.source} again`, (draft) => void Object.assign(draft, floor));
    if (!outcome.ok) {
      store.setState({ refusal: null });
      change({ faults: outcome.refusal.faults.map(formatFault) });
      return false;
    }
    imports.setState({ isReportOpen: true, changes, changesOf: accountOf(store.getState().file) });
    return true;
  }
}

function toAnswers({ ceiling, gap, rooms, seats, heights }: ImportAnswerValues): ImportAnswers {
  return { ...(ceiling === null ? {} : { ceiling }), gap, rooms, seats, heights };
}

function describeBuilt({ plan, report, floor }: BuiltFloor): ImportPreview {
  const total = (fate: string): number =>
    report.remarks.filter((remark) => remark.fate === fate).reduce((sum, remark) => sum + remark.count, 0);
  const assumed = floor.rooms.filter(({ ceilingFrom }) => ceilingFrom === 'assumed');
  const [first] = assumed;
  return {
    plan,
    sentence: sayCounts(report.counts) || 'Nothing was found that a floor could hold',
    guessed: total('guessed'),
    leftOut: total('left out'),
    ceilings: first === undefined ? null : { count: assumed.length, height: first.ceiling },
    heights: listAssumedHeights(floor),
  };
}

function listAssumedHeights(floor: FloorFile): ImportPreview['heights'] {
  return Object.keys(ASSUMED).flatMap((kind) => {
    const pieces = floor.furniture?.filter((piece) => piece.kind === kind && piece.from === 'assumed') ?? [];
    const [first] = pieces;
    const word = kind === 'other' ? 'other pieces' : kind === 'shelving' || kind === 'hanging' ? kind : `${kind}s`;
    return first === undefined ? [] : [{ kind, word, count: pieces.length, top: first.top }];
  });
}

function describeDrawing({ survey }: SourceSummary, answered: string | undefined): DrawingQuestions | null {
  if (survey === null) return null;
  const because: Readonly<Record<string, string>> = {
    answer: 'as answered',
    name: 'by its name',
    shape: 'by what is drawn on it',
    layer: 'by its layers',
    hidden: 'it is hidden',
    nothing: 'its name does not say',
  };
  const describe = (word: string): string => because[word] ?? word;
  return {
    layers: [
      ...survey.layers.map(({ name, title, lines, closed, words, guess, because: why }) => ({
        key: name,
        title,
        isBlock: false,
        detail: [
          `${lines} lines`,
          ...(closed > 0 ? [`${closed} closed`] : []),
          ...(words > 0 ? [`${words} words`] : []),
        ].join(', '),
        taken: guess,
        because: describe(why),
      })),
      ...survey.blocks.map(({ name, title, uses, size, guess, because: why }) => ({
        key: name,
        title,
        isBlock: true,
        detail: `${uses} times, ${size[0].toFixed(2)} × ${size[1].toFixed(2)} m`,
        taken: guess,
        because: describe(why),
      })),
    ],
    classes: DXF_CLASSES,
    units: DXF_UNITS.map((value) => ({ value, text: UNIT_WORDS[value] })),
    unit: answered ?? survey.unit.taken,
    unitBecause: survey.unit.reason,
  };
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function finish(text: string): string {
  return /[.!?]$/u.test(text) ? text : `${text}.`;
}
