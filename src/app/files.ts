/** Opening and saving floors in the browser: the picker, the dropped file, the examples. */
import { type Fault, type FloorFile, LIMITS, parseFloor, serialiseFloor } from '../core/floor/index.ts';
import { isAtRisk, type Keeper } from '../editor/storage/keeper.ts';
import type { KeptFloor } from '../editor/storage/kept-floor.ts';
import { type EditorStore, replaceDocument } from '../editor/store.ts';
import { refuse, say } from '../editor/view.ts';
import { view } from '../ui/panels/scene-port.ts';
import { createEmptyFloor } from './new-floor.ts';

const FILE_TYPE = { description: 'Lacuna floor', mimeTypes: ['application/json'], extensions: ['.json'] } as const;

/** What is imported rather than opened, by its name. */
const SOURCE_ENDS = ['.ifc', '.ifczip', '.dxf', '.geojson'] as const;
/** Names of files that are handed to the import, if only to say why they cannot be read. */
const SOURCE_NAME = /\.(?:ifc|ifczip|ifcxml|dxf|dwg|geojson|pdf)$/iu;

/** The ways to the browser's pickers come when the first file is asked for. */
const loadPickers = () => import('browser-fs-access');

export interface Files {
  open(): Promise<void>;
  save(): Promise<void>;
  read(file: File): Promise<void>;
  /** Puts an empty floor in the place of the open one. */
  begin(): Promise<void>;
  readExample(load: () => Promise<string>): Promise<void>;
  openKept(floor: KeptFloor): Promise<void>;
  /** Files dropped together: a floor, or sources of an import. */
  readAll(files: readonly File[]): Promise<void>;
  /** Asks for files to import. */
  pickSources(): Promise<void>;
  /** Puts a valid floor in the place of the open one; false: it stays. */
  openFloor(file: FloorFile): boolean;
  saveText(text: string, name: string): Promise<void>;
  /** Opens the floor that a link carries; says why when it cannot. */
  readLinked(fragment: string): Promise<void>;
  /** Hands over a link that carries the open floor; null: it is too large for one. */
  writeLinked(): Promise<string | null>;
  /** A floor to look at beside the open one; null: none was chosen, or its faults are shown. */
  readOther(): Promise<{ readonly file: FloorFile; readonly name: string } | null>;
}

/** @param importSources begins an import of files that are no floors */
export function createFiles(
  store: EditorStore,
  keeper: Keeper,
  importSources: (files: readonly File[]) => void,
): Files {
  /** By kept floor, the file it came from or went to while this page is open, for saving in place. */
  const handles = new Map<string, FileSystemFileHandle>();

  /** Whether the open floor may give way to another. It stays kept, so that is asked only when it is not. */
  function mayLeave(): boolean {
    return (
      !isAtRisk(keeper.state.getState(), store.getState()) ||
      confirm('The open floor has changes that are neither saved nor kept. Open another in its place?')
    );
  }

  /** Shows the faults of a text, or puts its floor in the place of the open one. True: it is open. */
  function openText(text: string, name: string | null): boolean {
    const parsed = parseFloor(text);
    if (!parsed.ok) {
      refuse(store, { fileName: name, faults: parsed.faults });
      return false;
    }
    return openFloor(parsed.file, name);
  }

  function openFloor(file: FloorFile, name: string | null = null): boolean {
    if (!mayLeave()) return false;
    replaceDocument(store, file, name);
    requestAnimationFrame(() => view()?.fit());
    return true;
  }

  /** The text of a file; null: it is none, and that is shown. */
  async function readText(file: File): Promise<string | null> {
    const fault = findFileFault(file);
    const text = fault === null ? await decode(file) : null;
    if (text === null) {
      const notText = { path: '', what: 'The file is not UTF-8', remedy: 'A floor file is JSON in UTF-8.' };
      refuse(store, { fileName: file.name, faults: [fault ?? notText] });
    }
    return text;
  }

  async function pick(): Promise<File | null> {
    const { fileOpen } = await loadPickers();
    return unlessDismissed(
      fileOpen({ ...FILE_TYPE, mimeTypes: [...FILE_TYPE.mimeTypes], extensions: [...FILE_TYPE.extensions] }),
    );
  }

  /** Asks for files: floors and sources, or sources alone. */
  async function pickAny(description: string, extensions: readonly string[]): Promise<readonly File[]> {
    const { fileOpen } = await loadPickers();
    const picked = await unlessDismissed(fileOpen({ description, extensions: [...extensions], multiple: true }));
    return picked ?? [];
  }

  async function readAll(list: readonly File[]): Promise<void> {
    const [first] = list;
    if (first === undefined) return;
    if (list.some(({ name }) => SOURCE_NAME.test(name))) importSources(list);
    else await read(first);
  }

  async function read(file: File): Promise<void> {
    if (SOURCE_NAME.test(file.name)) {
      importSources([file]);
      return;
    }
    const text = await readText(file);
    if (text !== null && isMap(text)) {
      importSources([file]);
      return;
    }
    if (text === null || !openText(text, file.name)) return;
    const handle = 'handle' in file ? (file.handle as FileSystemFileHandle | undefined) : undefined;
    const id = keeper.openId();
    if (handle !== undefined && id !== null) handles.set(id, handle);
  }

  return {
    read,
    readAll,
    openFloor,
    async open() {
      await readAll(await pickAny('Floor, model, drawing or map', [...FILE_TYPE.extensions, ...SOURCE_ENDS]));
    },
    async pickSources() {
      const picked = await pickAny('Model, drawing or map', [...SOURCE_ENDS, '.json']);
      if (picked.length > 0) importSources(picked);
    },
    async saveText(text, name) {
      const { fileSave } = await loadPickers();
      const blob = new Blob([text], { type: 'text/plain;charset=utf-8' });
      const saved = await unlessDismissed(fileSave(blob, { fileName: name, extensions: ['.txt'] }).then(() => true));
      if (saved === true) say(store, `Saved ${name}.`);
    },
    async save() {
      const { file, fileName } = store.getState();
      const id = keeper.openId() ?? '';
      const blob = new Blob([serialiseFloor(file)], { type: 'application/json' });
      const options = {
        ...FILE_TYPE,
        mimeTypes: [...FILE_TYPE.mimeTypes],
        extensions: [...FILE_TYPE.extensions],
        fileName: fileName ?? `${toFileName(file.name)}.json`,
      };
      try {
        const { fileSave } = await loadPickers();
        // Where files can be written, the new one takes the old one's place when it is complete; else it is downloaded.
        const saved = await unlessDismissed(
          fileSave(blob, options, handles.get(id) ?? null).then((handle) => ({ handle })),
        );
        if (saved === null) return;
        if (saved.handle !== null) handles.set(id, saved.handle);
        const name = saved.handle?.name ?? options.fileName;
        if (keeper.openId() === id) store.setState({ savedFile: file, fileName: name });
        say(store, `Saved ${name}.`);
      } catch (error) {
        handles.delete(id);
        const why = error instanceof Error ? error.message : String(error);
        say(store, `The floor is not saved: ${why} Ctrl S asks for another place.`);
      }
    },
    async begin() {
      const file = await createEmptyFloor();
      if (!mayLeave()) return;
      replaceDocument(store, file, null);
      requestAnimationFrame(() => view()?.fit());
    },
    async readExample(load) {
      openText(await load(), null);
    },
    async readLinked(fragment) {
      const { readLink } = await import('./link.ts');
      try {
        const text = await readLink(fragment);
        if (text !== null && openText(text, null))
          say(store, 'Opened the floor of the link. It is not saved to a file.');
      } catch (error) {
        say(store, error instanceof Error ? error.message : String(error));
      }
    },
    async writeLinked() {
      const { writeLink } = await import('./link.ts');
      return writeLink(serialiseFloor(store.getState().file), location.href);
    },
    async readOther() {
      const file = await pick();
      const text = file === null ? null : await readText(file);
      if (file === null || text === null) return null;
      const parsed = parseFloor(text);
      if (parsed.ok) return { file: parsed.file, name: file.name };
      refuse(store, { fileName: file.name, faults: parsed.faults });
      return null;
    },
    async openKept(floor) {
      if (!mayLeave()) return;
      await keeper.open(floor);
      requestAnimationFrame(() => view()?.fit());
    },
  };
}

/** Whether a JSON text is a map (GeoJSON) and no floor. */
function isMap(text: string): boolean {
  const head = text.slice(0, 5_000);
  return /"type"\s*:\s*"Feature(?:Collection)?"/u.test(head) && !/"format"\s*:\s*"lacuna\//u.test(head);
}

/** What can be told before a byte is read. */
function findFileFault(file: File): Fault | null {
  if (file.size <= LIMITS.fileCharacters) return null;
  const megabytes = (bytes: number): string => `${Math.ceil(bytes / 1e6)} MB`;
  return {
    path: '',
    what: `The file has ${megabytes(file.size)}`,
    remedy: `A floor file has at most ${megabytes(LIMITS.fileCharacters)}. Split the building into floors, one file each.`,
  };
}

async function decode(file: File): Promise<string | null> {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** Null when the picker was closed without a choice. */
async function unlessDismissed<Value>(picked: Promise<Value>): Promise<Value | null> {
  try {
    return await picked;
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return null;
    throw error;
  }
}

/** A floor's name as a file name: letters, digits and hyphens. */
function toFileName(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/[^\p{Letter}\p{Number}]+/gu, '-')
    .replace(/^-+|-+$/gu, '')
    .slice(0, 80);
  return plain === '' ? 'floor' : plain.toLowerCase();
}
