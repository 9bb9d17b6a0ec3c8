/**
 * Fewest (or cheapest) detectors over a grid of places, so that everything chosen is met: coverage of every place, a
 * covering problem, a search with a proven bound, and at the end the verdict of the same check that judges any floor.
 */
import { type CheckResult, createCoverage, judgeNeeds } from '../../coverage/index.ts';
import type { DetectorTypeId, Floor, FloorFile } from '../../floor/index.ts';
import { resolveFloor } from '../../floor/index.ts';
import { judgeFloor } from '../judge.ts';
import { type BuiltProblem, buildProblem } from './build-problem.ts';
import { type Candidate, listCandidates, listCandidatesAround, MOST_CANDIDATES } from './candidates.ts';
import { createCoverState } from './cover-state.ts';
import type { ArrangeOptions } from './options.ts';
import type { Selection } from './problem.ts';
import { type HungPlace, isStaying, type Proposal, writeProposal } from './proposal.ts';
import { listRoomsOfGroups } from './regroup.ts';
import { type CoverAnswer, solveCover } from './solve-cover.ts';
import type { Solver } from './solver.ts';
import { tidySelection } from './tidy.ts';
import { explainUnmet, type Unmet } from './unmet.ts';

/** What is known while the search goes on. */
export interface ArrangeNews {
  readonly stage: 'seeing' | 'searching' | 'off grid' | 'checking';
  /** The best so far; null before there is one. */
  readonly best: { readonly count: number; readonly cost: number; readonly places: readonly HungPlace[] } | null;
  /** Nothing on this grid costs less. */
  readonly bound: number;
  readonly seconds: number;
}

export interface ArrangePlatform {
  /** The exact solver; null for none, and the answer has no more than its own bounds. */
  readonly solver: Solver | null;
  /** Milliseconds, from any start. */
  readonly now: () => number;
  readonly shouldStop: () => boolean;
  readonly onNews: (news: ArrangeNews) => void;
}

/** An arrangement that was found; costs are counts when no prices are given. */
export interface ArrangeResult {
  readonly format: 'lacuna-arrange/1';
  readonly floor: string;
  readonly types: readonly DetectorTypeId[];
  /** Detector places looked at: places of the grid in rooms, those that keep-outs take, and types and turns over them. */
  readonly grid: { readonly places: number; readonly keptOut: number; readonly candidates: number };
  readonly count: number;
  readonly staying: number;
  readonly replaced: number;
  readonly cost: number;
  /** No arrangement on this grid costs less. */
  readonly bound: number;
  /** Is the answer on the grid proved? Then `gridCost` is the bound. */
  readonly proved: boolean;
  /** Best cost on the grid; more than `cost` when moving off the grid saved some. */
  readonly gridCost: number;
  /** How much the answer on the grid may lie above the best, in per cent. */
  readonly gapPercent: number;
  /** Cost of always taking the place that sees most. */
  readonly greedyCost: number;
  /** Everything chosen is met, by the verdict of the check. */
  readonly met: boolean;
  readonly workplacesMet: readonly [number, number];
  readonly zonesMet: readonly [number, number];
  readonly unmet: readonly Unmet[];
  /** Workplaces met by the first detectors of the answer, in the order in which they bring most: entry k by k of them. */
  readonly curve: readonly number[];
  readonly places: readonly HungPlace[];
  readonly reduced: CoverAnswer['reduced'];
  /** Seconds: seeing every candidate, the first sufficient arrangement, all. */
  readonly seconds: { readonly seeing: number; readonly first: number; readonly all: number };
  /** Why there is no proof: what the solver said when it failed. */
  readonly failure: string | null;
  readonly statement: string;
  readonly notes: readonly string[];
}

export type Arranged =
  | { readonly ok: true; readonly result: ArrangeResult; readonly proposal: Proposal; readonly check: CheckResult }
  | { readonly ok: false; readonly text: string };

/** Arranges detectors on a floor. The file is not changed. The floor must be the file's own (`resolveFloor`). */
export function arrange(file: FloorFile, options: ArrangeOptions, platform: ArrangePlatform): Arranged {
  const { now, onNews } = platform;
  const from = now();
  const seconds = () => (now() - from) / 1000;
  const floor = resolveFloor(file);
  const refusal = refuse(floor, options);
  if (refusal) return { ok: false, text: refusal };

  onNews({ stage: 'seeing', best: null, bound: 0, seconds: 0 });
  const staying = floor.detectors.filter((each) => isStaying(each, options.kept));
  const coverage = createCoverage(keepStaying(floor, staying));
  const list = listCandidates(floor, options, staying);
  if (list.candidates.length > MOST_CANDIDATES) {
    return {
      ok: false,
      text: `The grid has more than ${MOST_CANDIDATES} places to hang a detector. Take wider steps, fewer types or fewer turns.`,
    };
  }
  const roomsOfGroup = listRoomsOfGroups(floor);
  const built = buildProblem(coverage, list.candidates, options, roomsOfGroup);
  if (list.candidates.length === 0 && built.places.some(({ state }) => state !== 'met')) {
    return { ok: false, text: explainNoCandidates(list.places) };
  }
  const seeing = seconds();

  const deadline = from + 1000 * options.seconds;
  const toPlaces = (candidates: readonly Candidate[], selection: Selection): HungPlace[] =>
    selection.map((column) => {
      const { at, type, turn, room } = candidates[column]!;
      return { at, type: type.id, turn, room };
    });
  let first = Number.NaN;
  const solve = (stage: ArrangeNews['stage'], each: BuiltProblem, candidates: readonly Candidate[], until: number) =>
    solveCover(each.problem, platform.solver, {
      now,
      deadline: until,
      shouldStop: platform.shouldStop,
      onNews: (selection, cost, bound) => {
        if (Number.isNaN(first)) first = seconds();
        const places = toPlaces(candidates, selection);
        onNews({ stage, best: { count: selection.length, cost, places }, bound, seconds: seconds() });
      },
      verify: each.isHalved
        ? (selection) => listDenied(file, floor, options, each, toPlaces(candidates, selection))
        : null,
    });

  const answer = solve('searching', built, list.candidates, options.offGrid ? from + 750 * options.seconds : deadline);
  if (answer === null) {
    return {
      ok: false,
      text: 'The zones where nobody may be seen leave no arrangement that meets the other needs together. Allow a larger share there, or ask for less.',
    };
  }
  let hung = list.candidates;
  let problem = built;
  let selection = answer.selection;
  let cost = answer.cost;
  if (options.offGrid && selection.length > 0 && !platform.shouldStop()) {
    const around = listCandidatesAround(
      floor,
      options,
      staying,
      selection.map((column) => hung[column]!),
    );
    const finer = buildProblem(coverage, around, options, roomsOfGroup);
    const isComparable = finer.places.every(({ state }, k) => state === built.places[k]!.state);
    const saved = isComparable ? solve('off grid', finer, around, deadline) : null;
    if (saved && saved.cost < cost - 1e-9) {
      hung = around;
      problem = finer;
      selection = saved.selection;
      cost = saved.cost;
    }
  }
  const until = now() + Math.max(300, Math.min(1_500, 0.03 * 1000 * options.seconds));
  selection = tidySelection(problem.problem, selection, untidinessOf(hung), nearOf(hung), {
    shouldStop: () => now() > until || platform.shouldStop(),
    verify: problem.isHalved ? (tidied) => listDenied(file, floor, options, problem, toPlaces(hung, tidied)) : null,
  });

  onNews({
    stage: 'checking',
    best: { count: selection.length, cost, places: toPlaces(hung, selection) },
    bound: answer.bound,
    seconds: seconds(),
  });
  const places = toPlaces(hung, selection);
  const proposal = writeProposal(file, floor, options.kept, places);
  const check = judgeFloor(resolveFloor(proposal.file));
  const verdict = judgeChosen(check, floor, options);
  const explained = built.places
    .filter(({ state }) => state === 'beyond' || state === 'lost')
    .map((place) => explainUnmet({ coverage, built, candidates: list.candidates }, place));
  const unmet = [...explained, ...listUnexplained(floor, check, verdict.unmet, explained, built)];
  const proved = answer.bound >= answer.cost - 1e-6;
  const gapPercent =
    proved || answer.bound <= 0 ? (proved ? 0 : 100) : (100 * (answer.cost - answer.bound)) / answer.bound;
  const isPriced = Object.keys(options.prices).length > 0;
  const result: ArrangeResult = {
    format: 'lacuna-arrange/1',
    floor: floor.name,
    types: options.types,
    grid: { places: list.places, keptOut: list.kept, candidates: list.candidates.length },
    count: selection.length,
    staying: staying.filter(({ status }) => status !== 'remove').length,
    replaced: proposal.replaced.length,
    cost,
    bound: answer.bound,
    proved,
    gridCost: answer.cost,
    gapPercent,
    greedyCost: answer.greedyCost,
    met: unmet.length === 0,
    workplacesMet: verdict.workplaces,
    zonesMet: verdict.zones,
    unmet,
    curve: drawCurve(problem, selection),
    places,
    reduced: answer.reduced,
    seconds: { seeing, first: Number.isNaN(first) ? seconds() : first, all: seconds() },
    failure: answer.failure,
    statement: state(proved, gapPercent, isPriced, answer.cost - cost),
    notes: listNotes(floor, options, proposal, answer, built),
  };
  return { ok: true, result, proposal, check };
}

function refuse(floor: Floor, options: ArrangeOptions): string | null {
  if (floor.rooms.length === 0) return 'The floor has no rooms yet. Draw one first.';
  if (options.types.length === 0) return 'No detector type is chosen. Name at least one.';
  const missing = options.types.find((id) => !floor.types.some((type) => type.id === id));
  if (missing !== undefined) return `There is no detector type ${missing} on this floor.`;
  const needs = [...floor.workplaces, ...floor.zones.filter(({ need }) => need !== 'nobody')];
  if (needs.length === 0)
    return 'The floor asks for nothing: it has no workplace and no zone to be seen. Draw some first.';
  const unknown = options.needs?.find((id) => ![...floor.workplaces, ...floor.zones].some((each) => each.id === id));
  if (unknown !== undefined) return `There is no workplace or zone ${unknown}.`;
  if (options.needs !== null && !needs.some(({ id }) => options.needs?.includes(id))) {
    return 'No workplace and no zone to be seen is chosen. Choose at least one.';
  }
  return null;
}

function explainNoCandidates(places: number): string {
  return places === 0
    ? 'No place of the grid lies in a room. Take smaller steps.'
    : `No detector can hang anywhere: the keep-outs take all ${places} places of the grid. Make the steps or the keep-outs smaller.`;
}

/** The floor with the detectors that stay, and the groups they are in. */
function keepStaying(floor: Floor, staying: Floor['detectors']): Floor {
  const ids = new Set<string>(staying.map(({ id }) => id));
  const groups = floor.groups.flatMap((group) => {
    const [main, ...extensions] = [group.main, ...group.extensions].filter((id) => ids.has(id));
    return main === undefined ? [] : [{ ...group, main, extensions }];
  });
  return { ...floor, detectors: staying, groups };
}

/** Needs of a problem that the real verdict denies, though the problem holds them to be met. */
function listDenied(
  file: FloorFile,
  floor: Floor,
  options: ArrangeOptions,
  built: BuiltProblem,
  places: readonly HungPlace[],
): number[] {
  const { workplaces, zones } = judgeNeeds(
    createCoverage(resolveFloor(writeProposal(file, floor, options.kept, places).file)),
  );
  return built.placeOf.flatMap((place, need) => {
    const { kind, index, state } = built.places[place]!;
    if (state !== 'asked') return [];
    const met = kind === 'workplace' ? workplaces[index]!.met : zones[index]!.met;
    return met ? [] : [need];
  });
}

function judgeChosen(check: CheckResult, { workplaces, zones }: Floor, { needs }: ArrangeOptions) {
  const isChosen = ({ id }: { readonly id: string }) => needs === null || needs.includes(id);
  const seats = check.workplaces.filter(isChosen);
  const areas = check.zones.filter(isChosen);
  return {
    workplaces: [seats.filter(({ met }) => met).length, seats.length] as const,
    zones: [areas.filter(({ met }) => met).length, areas.length] as const,
    unmet: [
      ...workplaces.filter((each) => isChosen(each) && !check.workplaces.find(({ id }) => id === each.id)?.met),
      ...zones.filter((each) => isChosen(each) && !check.zones.find(({ id }) => id === each.id)?.met),
    ].map(({ id }) => id as string),
  };
}

/** What the check denies and nothing has explained yet: zones that detectors that stay see into, for one. */
function listUnexplained(
  floor: Floor,
  check: CheckResult,
  denied: readonly string[],
  explained: readonly Unmet[],
  built: BuiltProblem,
): Unmet[] {
  return denied
    .filter((id) => !explained.some((each) => each.id === id))
    .map((id) => {
      const workplace = floor.workplaces.find((each) => each.id === id);
      if (workplace) {
        const share = check.workplaces.find((each) => each.id === id)?.share ?? 0;
        const text = `Workplace ${workplace.name || id} is not met by this arrangement.`;
        return {
          kind: 'workplace',
          id,
          at: workplace.at,
          reachable: share,
          needed: floor.analysis.workplaceShare,
          text,
        };
      }
      const index = floor.zones.findIndex((each) => each.id === id);
      const zone = floor.zones[index]!;
      const share = check.zones.find((each) => each.id === id)?.share ?? 0;
      const text = built.broken.includes(index)
        ? `Zone ${zone.name || id}: nobody may be seen here, and detectors that stay see into it. Mask or remove them.`
        : `Zone ${zone.name || id} is not met by this arrangement.`;
      return { kind: 'zone', id, at: zone.outline[0]!, reachable: share, needed: zone.share ?? 0, text };
    });
}

function state(proved: boolean, gapPercent: number, isPriced: boolean, saved: number): string {
  const word = isPriced ? 'cheapest' : 'fewest';
  const grid = proved
    ? `Proved ${word} on this grid.`
    : gapPercent >= 100
      ? `Not proved ${word}: no useful bound was found.`
      : `At most ${Math.ceil(gapPercent - 1e-9)} % above the bound: not proved ${word}.`;
  return saved > 1e-9 ? `${grid} Moving off the grid saved ${isPriced ? saved.toFixed(2) : Math.round(saved)}.` : grid;
}

function listNotes(
  floor: Floor,
  options: ArrangeOptions,
  proposal: Proposal,
  answer: CoverAnswer,
  built: BuiltProblem,
): string[] {
  const notes = ['Each new detector is taken to serve the room it hangs in.'];
  if (proposal.replaced.length > 0) {
    notes.push(`${proposal.replaced.length} detectors that were not fixed are replaced.`);
  }
  if (options.grid.kind === 'tiles') {
    const rooms = floor.rooms.filter(({ tiles }) => tiles === undefined).length;
    if (rooms > 0)
      notes.push(`${rooms} of ${floor.rooms.length} rooms have no ceiling tiles: steps of 1.2 m are used there.`);
  }
  if (built.forbidden.includes(1)) {
    const count = built.forbidden.reduce((sum, each) => sum + each, 0);
    notes.push(`${count} places are left out: they see where nobody may be seen.`);
  }
  if (answer.failure !== null) {
    notes.push(`The exact solver failed (${answer.failure}). The answer is the best that searching found.`);
  }
  return notes;
}

function untidinessOf(candidates: readonly Candidate[]): Float64Array {
  return Float64Array.from(candidates, ({ untidiness }) => untidiness);
}

/** Columns within 2 m in the same room, of the same type. */
function nearOf(candidates: readonly Candidate[]): (column: number) => readonly number[] {
  return (column) => {
    const { at, room, type } = candidates[column]!;
    return [...candidates.keys()].filter((other) => {
      const each = candidates[other]!;
      if (each.room !== room || each.type !== type) return false;
      return Math.hypot(each.at[0] - at[0], each.at[1] - at[1]) <= 2;
    });
  };
}

function drawCurve({ problem, places, placeOf }: BuiltProblem, selection: Selection): number[] {
  const met = places.filter(({ kind, state: is }) => kind === 'workplace' && is === 'met').length;
  const state = createCoverState(problem);
  const left = new Set(selection);
  const count = () =>
    met +
    placeOf.filter(
      (place, need) =>
        places[place]!.kind === 'workplace' && places[place]!.state === 'asked' && state.shortfall(need) === 0,
    ).length;
  const curve = [count()];
  while (left.size > 0) {
    let most = -1;
    let found = -1;
    for (const column of left) {
      let gain = 0;
      state.gains(column, (need, by) => {
        gain += by * (places[placeOf[need]!]!.kind === 'workplace' ? 1 : 0.001);
      });
      if (gain > most) [most, found] = [gain, column];
    }
    left.delete(found);
    state.add(found);
    curve.push(count());
  }
  return curve;
}
