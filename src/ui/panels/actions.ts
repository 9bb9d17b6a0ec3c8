/** The way to what changes the selection; it is loaded when it is first needed. */
type Actions = typeof import('./edit-actions.ts');

let loaded: Actions | null = null;

export async function loadActions(): Promise<Actions> {
  loaded ??= await import('./edit-actions.ts');
  return loaded;
}

/** What can be done at once; null until it is loaded. */
export function actions(): Actions | null {
  return loaded;
}

/** Does something with the actions: now where they are there, else as soon as they are. */
export function act(run: (actions: Actions) => void): void {
  if (loaded !== null) run(loaded);
  else void loadActions().then(run);
}
