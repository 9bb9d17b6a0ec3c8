/** Theme and motion as the system says, unless a theme was chosen before; the unit of lengths as it was chosen last. */
import type { EditorStore, Theme } from '../editor/store.ts';
import type { Units } from '../editor/tools/tool.ts';
import { setReducedMotion, setTheme } from '../editor/view.ts';

const KEY = 'lacuna-theme';
const UNITS_KEY = 'lacuna-units';

export type ThemeChoice = Theme | 'system';

/** Follows the system and returns the way to choose a theme. */
export function followPreferences(store: EditorStore): (choice: ThemeChoice) => void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const still = matchMedia('(prefers-reduced-motion: reduce)');
  const apply = (): void => {
    const choice = readChoice();
    setTheme(store, choice === 'system' ? (dark.matches ? 'dark' : 'light') : choice);
    setReducedMotion(store, still.matches);
  };
  dark.addEventListener('change', apply);
  still.addEventListener('change', apply);
  apply();
  return (choice) => {
    try {
      localStorage.setItem(KEY, choice);
    } catch {
      // A browser that keeps nothing keeps the theme for this visit.
      setTheme(store, choice === 'system' ? (dark.matches ? 'dark' : 'light') : choice);
      return;
    }
    apply();
  };
}

function readChoice(): ThemeChoice {
  try {
    const kept = localStorage.getItem(KEY);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

/** Takes up the unit chosen before and returns the way to choose another. */
export function followUnits(store: EditorStore): (units: Units) => void {
  try {
    if (localStorage.getItem(UNITS_KEY) === 'feet') store.setState({ units: 'feet' });
  } catch {
    // A browser that keeps nothing begins in metres.
  }
  return (units) => {
    store.setState({ units });
    try {
      localStorage.setItem(UNITS_KEY, units);
    } catch {
      // It then holds for this visit.
    }
  };
}
