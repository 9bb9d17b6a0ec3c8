/** The demo floors that come with Lacuna, fetched when they are asked for. */
import firstAt from '../../models/floors/open-plan-office.json?url';

const loaders = import.meta.glob<string>(['../../models/floors/*.json', '!../../models/floors/open-plan-office.json'], {
  query: '?raw',
  import: 'default',
});

export interface ExampleFloor {
  /** Its file's name without the ending. */
  readonly key: string;
  readonly name: string;
  readonly load: () => Promise<string>;
}

export const FIRST_EXAMPLE: ExampleFloor = {
  key: 'open-plan-office',
  name: 'Open-plan office',
  // A file beside the script, as it is data and nothing to run.
  load: async () => (await fetch(firstAt)).text(),
};

export const EXAMPLES: readonly ExampleFloor[] = [
  FIRST_EXAMPLE,
  ...Object.entries(loaders).map(([path, load]): ExampleFloor => {
    const key = path.replace(/^.*\//u, '').replace(/\.json$/u, '');
    return { key, name: toName(key), load };
  }),
];

function toName(key: string): string {
  const words = key.replaceAll('-', ' ');
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
