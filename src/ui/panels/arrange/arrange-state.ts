/** What was last chosen in the note, kept while the page stands open, and how choices become what is asked. */
import type { DetectorTypeId, Floor } from '../../../core/floor/index.ts';
import { ARRANGE_DEFAULTS, type ArrangeOptions, type KeptDetectors } from '../../../core/planning/arrange/options.ts';

export interface Choices {
  readonly types: readonly string[];
  readonly prices: Readonly<Record<string, number>>;
  readonly needs: 'all' | 'workplaces' | 'zones' | 'selected';
  /** Metres; null: ceiling tiles. */
  readonly pitch: number | null;
  readonly turns: string;
  readonly kept: KeptDetectors;
  readonly wall: number;
  readonly outlet: number;
  readonly lamp: number;
  /** Zones and rooms over which nothing is hung. */
  readonly avoid: readonly string[];
  readonly seconds: number;
  readonly offGrid: boolean;
}

let remembered: Choices = {
  types: [],
  prices: {},
  needs: 'all',
  pitch: null,
  turns: '0, 90',
  kept: ARRANGE_DEFAULTS.kept,
  wall: ARRANGE_DEFAULTS.keepOuts.wall,
  outlet: ARRANGE_DEFAULTS.keepOuts.outlet,
  lamp: ARRANGE_DEFAULTS.keepOuts.lamp,
  avoid: [],
  seconds: ARRANGE_DEFAULTS.seconds,
  offGrid: false,
};

/** The choices to begin with: as last time, with types of this floor; the one most in use when none is left. */
export function firstChoices(floor: Floor): Choices {
  const types = remembered.types.filter((id) => floor.types.some((type) => type.id === id));
  const uses = (id: string) => floor.detectors.filter((detector) => detector.type === id).length;
  const [most] = [...floor.types].sort((a, b) => uses(b.id) - uses(a.id));
  return { ...remembered, types: types.length > 0 || most === undefined ? types : [most.id] };
}

export function rememberChoices(choices: Choices): void {
  remembered = choices;
}

/** Do the ranges of a chosen type look otherwise when they are turned? */
export function hasTurns(floor: Floor, { types }: Choices): boolean {
  return floor.types.some((type) => types.includes(type.id) && type.ranges.some((row) => 'length' in row));
}

/** What is asked of the computation. */
export function toOptions(floor: Floor, choices: Choices, selection: readonly string[]): ArrangeOptions {
  const { needs, types, prices, pitch, kept, wall, outlet, lamp, seconds, offGrid } = choices;
  const listed = {
    all: null,
    workplaces: [...floor.workplaces, ...floor.zones.filter(({ need }) => need === 'nobody')].map(({ id }) => id),
    zones: floor.zones.map(({ id }) => id),
    selected: selection.filter((id) => [...floor.workplaces, ...floor.zones].some((each) => each.id === id)),
  }[needs];
  const priced = types.filter((id) => prices[id] !== undefined && prices[id] !== 1);
  return {
    types: types as readonly DetectorTypeId[],
    grid: pitch === null ? { kind: 'tiles' } : { kind: 'pitch', pitch },
    turns: readTurns(choices.turns) ?? ARRANGE_DEFAULTS.turns,
    kept,
    keepOuts: {
      wall,
      outlet,
      lamp,
      areas: [...floor.zones, ...floor.rooms]
        .filter(({ id }) => choices.avoid.includes(id))
        .map(({ outline }) => outline),
    },
    prices: Object.fromEntries(priced.map((id) => [id, prices[id] ?? 1])),
    needs: listed,
    seconds,
    offGrid,
  };
}

/** Degrees with commas between; null when they cannot be read. */
export function readTurns(text: string): readonly number[] | null {
  const turns = text.split(/[,;]/).map((part) => (part.trim() === '' ? Number.NaN : Number(part.replace('°', ''))));
  return turns.every((turn) => Number.isFinite(turn)) ? turns : null;
}
