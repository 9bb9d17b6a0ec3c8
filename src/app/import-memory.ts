/** What layers and blocks of drawings were said to hold, kept for the next drawing with the same names. */
const KEY = 'lacuna-drawing-layers';
const MOST = 2_000;

export function readClasses(): Readonly<Record<string, string>> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? '{}');
    if (typeof kept !== 'object' || kept === null || Array.isArray(kept)) return {};
    return Object.fromEntries(
      Object.entries(kept).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
    );
  } catch {
    return {};
  }
}

export function rememberClasses(classes: Readonly<Record<string, string>>): void {
  try {
    const all = Object.entries({ ...readClasses(), ...classes }).slice(-MOST);
    localStorage.setItem(KEY, JSON.stringify(Object.fromEntries(all)));
  } catch {
    // A browser that keeps nothing asks again next time.
  }
}
