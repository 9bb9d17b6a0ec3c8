/** Opening and saving floors in the browser: the picker, the dropped file, the examples. */
import { fileOpen, fileSave } from 'browser-fs-access';
import { type Fault, LIMITS, parseFloor, serialiseFloor } from '../core/floor/index.ts';
import { type EditorStore, hasUnsavedChanges, replaceDocument } from '../editor/store.ts';
import { refuse, say } from '../editor/view.ts';
import { view } from '../ui/panels/scene-port.ts';

const FILE_TYPE = { description: 'Lacuna floor', mimeTypes: ['application/json'], extensions: ['.json'] } as const;

export interface Files {
  open(): Promise<void>;
  save(): Promise<void>;
  read(file: File): Promise<void>;
  readExample(name: string, load: () => Promise<string>): Promise<void>;
}

export function createFiles(store: EditorStore): Files {
  /** Where the open floor came from, for saving in place; null where the browser or the source gives none. */
  let handle: FileSystemFileHandle | null = null;

  /** Shows the faults of a text, or puts its floor in the place of the open one. True: it is open. */
  function openText(text: string, name: string | null): boolean {
    const parsed = parseFloor(text);
    if (!parsed.ok) {
      refuse(store, { fileName: name, faults: parsed.faults });
      return false;
    }
    if (
      hasUnsavedChanges(store.getState()) &&
      !confirm('The open floor has changes that are not saved. Open another in its place?')
    )
      return false;
    replaceDocument(store, parsed.file, name);
    requestAnimationFrame(() => view()?.fit());
    return true;
  }

  async function read(file: File): Promise<void> {
    const fault = findFileFault(file);
    if (fault !== null) {
      refuse(store, { fileName: file.name, faults: [fault] });
      return;
    }
    const text = await decode(file);
    if (text === null) {
      refuse(store, {
        fileName: file.name,
        faults: [{ path: '', what: 'The file is not UTF-8', remedy: 'A floor file is JSON in UTF-8.' }],
      });
      return;
    }
    if (openText(text, file.name))
      handle = ('handle' in file ? (file.handle as FileSystemFileHandle | undefined) : undefined) ?? null;
  }

  return {
    read,
    async open() {
      const file = await unlessDismissed(
        fileOpen({ ...FILE_TYPE, mimeTypes: [...FILE_TYPE.mimeTypes], extensions: [...FILE_TYPE.extensions] }),
      );
      if (file !== null) await read(file);
    },
    async save() {
      const { file, fileName } = store.getState();
      const blob = new Blob([serialiseFloor(file)], { type: 'application/json' });
      const name = fileName ?? `${toFileName(file.name)}.json`;
      const saved = await unlessDismissed(
        fileSave(
          blob,
          { ...FILE_TYPE, mimeTypes: [...FILE_TYPE.mimeTypes], extensions: [...FILE_TYPE.extensions], fileName: name },
          handle,
        ).then((next) => ({ next })),
      );
      if (saved === null) return;
      handle = saved.next ?? handle;
      store.setState({ savedFile: file, fileName: name });
      say(store, `Saved ${name}.`);
    },
    async readExample(name, load) {
      if (openText(await load(), `${name}.json`)) handle = null;
    },
  };
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
