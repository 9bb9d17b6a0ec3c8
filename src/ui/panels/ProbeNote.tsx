import { useMemo } from 'react';
import { type Floor, findRoomAt } from '../../core/floor/index.ts';
import { explainPlace, type Probe, type ProbeLine } from '../../editor/probe.ts';
import { shownFloor } from '../../editor/store.ts';
import { useEditor } from './context.tsx';
import { formatMetres, formatPlace, joinNames } from './format.ts';
import { Ledger, Row } from './Ledger.tsx';
import { SectionDrawing } from './SectionDrawing.tsx';
import { nameOf, nameOfId } from './words.ts';

/** What the probed place is told: the sentence, the section along the nearest missed line, and every detector's answer. */
export default function ProbeNote() {
  const floor = useEditor(shownFloor);
  const plane = useEditor((state) => state.plane);
  const at = useEditor((state) => state.probe?.at ?? null);
  const pinned = useEditor((state) => state.probe?.pinned === true);
  const coverage = useEditor((state) => state.coverage);
  const version = useEditor((state) => state.coverageVersion);
  // The coverage is changed in place: its version tells when it must be asked again.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  const probe = useMemo(
    () => (coverage === null || at === null ? null : explainPlace(coverage, at, plane)),
    [coverage, at, plane, version],
  );
  if (probe === null || at === null) return null;
  const sentence = findRoomAt(floor.rooms, at) === undefined ? 'This place lies in no room.' : sayProbe(probe);
  return (
    <>
      <header className="note-head">
        <h2>
          <bdi className="note-title">{titleOf(floor, at)}</bdi>
          <span className="aside">
            {formatPlace(at)}, {plane}
            {pinned ? ', pinned' : ''}
          </span>
        </h2>
        <p className="say" aria-live="polite">
          {sentence}
        </p>
      </header>
      {probe.section !== null && <SectionDrawing section={probe.section} />}
      <Ledger>
        {probe.lines.map((line) => (
          <Row key={line.detector.id} label={<bdi>{line.detector.name}</bdi>} wide>
            <span className={line.sight.seen ? undefined : 'plain'}>{sayLine(floor, line)}</span>
            {!line.serving && <span className="aside">, of another group</span>}
          </Row>
        ))}
      </Ledger>
    </>
  );
}

function titleOf(floor: Floor, at: readonly [number, number]): string {
  const near = floor.workplaces.find((each) => Math.hypot(each.at[0] - at[0], each.at[1] - at[1]) <= each.radius);
  if (near !== undefined) return `At ${lowerFirst(nameOf(floor, { kind: 'workplace', value: near }))}`;
  const room = findRoomAt(floor.rooms, at);
  return room === undefined ? 'Outside' : `In ${room.name}`;
}

function lowerFirst(name: string): string {
  return name.startsWith('Workplace ') ? `workplace ${name.slice('Workplace '.length)}` : name;
}

function sayProbe({ lines, section, plane, taken }: Probe): string {
  if (taken !== null) return `${taken.name} stands here up to ${formatMetres(taken.top)}.`;
  const person = plane === 'seated' ? 'a seated person' : 'a walking person';
  const seers = lines.filter((line) => line.sight.seen && line.serving);
  if (seers.length > 0) {
    const names = joinNames(seers.map((line) => line.detector.name));
    const past = seers.every((line) => line.pastOnly) ? ' walking past, not one walking at it' : '';
    return `${names} ${seers.length === 1 ? 'sees' : 'see'} ${person} here${past}.`;
  }
  const others = lines.filter((line) => line.sight.seen);
  if (others.length > 0) {
    return `Only ${joinNames(others.map((line) => line.detector.name))} of another group ${others.length === 1 ? 'sees' : 'see'} ${person} here.`;
  }
  return `Nobody sees ${person} here.${sayCure(section)}`;
}

function sayCure(section: Probe['section']): string {
  if (section === null) return '';
  const { line, clears } = section;
  const { name } = line.detector;
  if (clears !== null) return ` With ${clears.name} at ${formatMetres(clears.top)} or less, ${name} would.`;
  const { sight } = line;
  if (sight.seen) return '';
  if (sight.why === 'masked') return ` A mask of ${name} covers it.`;
  if (sight.why === 'range' && sight.shortM !== null) return ` ${name} is ${formatMetres(sight.shortM)} short.`;
  return '';
}

function sayLine(floor: Floor, { sight, pastOnly }: ProbeLine): string {
  if (sight.seen) return pastOnly ? 'sees who walks past' : 'sees it';
  if (sight.why === 'masked') return 'masked';
  if (sight.why === 'hidden') return `hidden by ${nameOfId(floor, sight.by)}`;
  return sight.shortM === null ? 'out of range' : `${formatMetres(sight.shortM)} out of range`;
}
