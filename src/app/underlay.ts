/** Pictures under the plan in the browser: their bytes are kept in a database of their own, by their digest. */
import { createStore, get, set } from 'idb-keyval';
import type { Point } from '../core/floor/index.ts';
import { computeBox } from '../core/geometry/polygon.ts';
import { putUnderlay } from '../editor/edits/underlays.ts';
import { edit } from '../editor/history.ts';
import { digestBytes } from '../editor/storage/digest.ts';
import type { EditorStore } from '../editor/store.ts';
import { readUnderlay, type Underlay, type UnderlayPicture } from '../editor/underlay.ts';
import { say } from '../editor/view.ts';
import { inspectPicture } from '../importers/underlay/picture.ts';

const pictures = createStore('lacuna-pictures', 'pictures');

/** Pixels along a side of what is drawn; larger pictures are drawn coarser. */
const DRAWN_SIDE = 4096;
/** A page is taken to be drawn at this scale until somebody sets another. Common practice, no source. */
const PAGE_SCALE = 1 / 100;
/** Metres along a picture on a floor without rooms. */
const FIRST_WIDTH = 20;

interface Decoded {
  readonly image: ImageBitmap;
  readonly width: number;
  readonly height: number;
  readonly pages: number;
  readonly lines: Float64Array;
}

const NO_LINES = new Float64Array(0);

/** Shows the picture the floor names, when it is kept here; says so when it is not. */
export async function bringUnderlay(store: EditorStore): Promise<void> {
  const { file, underlay: shown } = store.getState();
  const underlay = readUnderlay(file.notes);
  if (underlay === null) {
    if (shown !== null) store.setState({ underlay: null });
    return;
  }
  const { digest, page, name } = underlay;
  if (shown?.digest === digest && shown.page === page) return;
  show(store, { digest, page, status: 'loading', image: null, pages: 1, lines: NO_LINES });
  const bytes = await readKept(digest);
  const decoded = bytes === null ? null : await decode(bytes, page).catch(() => null);
  // The floor may name another picture by now.
  const now = readUnderlay(store.getState().file.notes);
  if (now?.digest !== digest || now.page !== page) return;
  if (decoded === null) {
    show(store, { digest, page, status: 'missing', image: null, pages: 1, lines: NO_LINES });
    say(store, `The picture ${name} under the plan is not kept in this browser. Choose it again: Ctrl K, Picture.`);
    return;
  }
  const { image, pages, lines } = decoded;
  show(store, { digest, page, status: 'ready', image, pages, lines });
}

/** Puts a chosen file under the plan as one undoable edit; the file the floor names already is only shown again. */
export async function layUnderlay(store: EditorStore, chosen: File | null, page: number): Promise<void> {
  const before = readUnderlay(store.getState().file.notes);
  const bytes = chosen === null ? await readKept(before?.digest ?? '') : new Uint8Array(await chosen.arrayBuffer());
  if (bytes === null) return say(store, 'The picture is not kept in this browser. Choose its file again.');
  const info = inspectPicture(bytes);
  if (!info.ok) return say(store, `${info.reason} ${info.remedy}`);
  const decoded = await decode(bytes, page).catch((error: unknown) => String(error));
  if (typeof decoded === 'string')
    return say(store, `The picture cannot be read: ${decoded}. Save it anew and try again.`);
  const digest = digestBytes(bytes);
  const isKept = chosen === null || (await keep(digest, bytes));
  const name = chosen?.name ?? before?.name ?? '';
  const { image, pages, lines, width, height } = decoded;
  show(store, { digest, page, status: 'ready', image, pages, lines });
  const isSame = before?.digest === digest && before.page === page;
  if (!isSame) {
    const isPage = before?.digest === digest;
    const placement = isPage ? before.placement : placeFirst(store, info.kind === 'pdf', width, height);
    const underlay: Underlay = { name, digest, page, width, height, placement };
    const planned = putUnderlay(store.getState().file, underlay, `Laid ${name} under the plan`);
    if (planned.ok) edit(store, planned.name, planned.recipe);
  }
  if (!isKept) say(store, 'The picture is shown, but this browser does not keep it: it will be asked for again.');
  else
    say(
      store,
      isSame ? `${name} lies under the plan again.` : `${name} lies under the plan. Set its scale by two places.`,
    );
}

function show(store: EditorStore, underlay: UnderlayPicture): void {
  store.setState({ underlay });
}

async function readKept(digest: string): Promise<Uint8Array<ArrayBuffer> | null> {
  try {
    const kept: unknown = await get(digest, pictures);
    return kept instanceof Uint8Array ? new Uint8Array(kept) : null;
  } catch {
    return null;
  }
}

async function keep(digest: string, bytes: Uint8Array): Promise<boolean> {
  try {
    await set(digest, bytes, pictures);
    return true;
  } catch {
    return false;
  }
}

/** In the middle of the floor, or from its zero; a picture as wide as the floor, a page at its likely scale. */
function placeFirst(store: EditorStore, isPage: boolean, width: number, height: number): Underlay['placement'] {
  const { rooms } = store.getState().floor;
  const box = computeBox(rooms.flatMap(({ outline }) => outline));
  const isEmpty = rooms.length === 0;
  const across = isEmpty ? FIRST_WIDTH : Math.max(box.maxX - box.minX, 1);
  const scale = isPage ? 0.001 / PAGE_SCALE : across / width;
  const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const at: Point = isEmpty ? [0, 0] : [x - (width * scale) / 2, y - (height * scale) / 2];
  return { at, scale, turn: 0, opacity: 0.5, locked: false };
}

async function decode(bytes: Uint8Array<ArrayBuffer>, page: number): Promise<Decoded> {
  const info = inspectPicture(bytes);
  if (!info.ok) throw new Error(info.reason);
  if (info.kind === 'pdf') {
    const { readPdfPage } = await import('./underlay-pdf.ts');
    return readPdfPage(bytes, page, DRAWN_SIDE);
  }
  const whole = await createImageBitmap(new Blob([bytes]));
  const { width, height } = whole;
  const factor = Math.min(1, DRAWN_SIDE / Math.max(width, height));
  if (factor === 1) return { image: whole, width, height, pages: 1, lines: NO_LINES };
  const image = await createImageBitmap(whole, {
    resizeWidth: Math.max(1, Math.round(width * factor)),
    resizeHeight: Math.max(1, Math.round(height * factor)),
    resizeQuality: 'high',
  });
  whole.close();
  return { image, width, height, pages: 1, lines: NO_LINES };
}
