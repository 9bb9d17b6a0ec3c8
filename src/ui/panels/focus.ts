/** Where the focus goes: F6 walks the regions; the page takes it back after a word has been clicked. */

/** Regions in the order F6 visits them; each is an element with `data-region`. */
const REGIONS = ['page', 'margin', 'head', 'rule', 'foot'] as const;
export type Region = (typeof REGIONS)[number];

const FOCUSABLE = 'button:not(:disabled), input:not(:disabled), select:not(:disabled), a[href], [tabindex="0"]';

function findRegion(region: Region): HTMLElement | null {
  return document.querySelector<HTMLElement>(`[data-region="${region}"]`);
}

export function focusPage(): void {
  findRegion('page')?.focus({ preventScroll: true });
}

/** The region that holds the focus; the page when nothing does. */
export function regionInFocus(): Region | null {
  const { activeElement } = document;
  if (activeElement === null || activeElement === document.body) return 'page';
  const holder = activeElement.closest<HTMLElement>('[data-region]')?.dataset.region;
  return REGIONS.find((region) => region === holder) ?? null;
}

/** Takes the focus to the next region (or the one before) that is on screen and can hold it. */
export function focusNextRegion(backwards: boolean): void {
  const from = REGIONS.indexOf(regionInFocus() ?? 'page');
  for (let step = 1; step <= REGIONS.length; step++) {
    const at = (from + (backwards ? -step : step) + REGIONS.length) % REGIONS.length;
    const region = REGIONS[at];
    const element = region === undefined ? null : findRegion(region);
    if (element === null || element.getClientRects().length === 0) continue;
    if (region === 'page') {
      focusPage();
      return;
    }
    const first = [...element.querySelectorAll<HTMLElement>(FOCUSABLE)].find(
      (each) => each.getClientRects().length > 0,
    );
    if (first !== undefined) {
      first.focus();
      return;
    }
  }
}

/** Takes the focus to a field of the margin, or to its first. False: there is none. */
export function focusField(name?: string): boolean {
  const selector = name === undefined ? '.field' : `[data-field="${name}"]`;
  const field = findRegion('margin')?.querySelector<HTMLInputElement>(selector);
  field?.focus();
  return field !== null && field !== undefined;
}

/** Whether keys are being written into something. */
export function isWriting(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.closest('input, select, textarea, [contenteditable="true"]') !== null;
}
