import { useEffect, useState } from 'react';
import { useStore } from 'zustand';
import type { Floor, Point, Ring } from '../../core/floor/index.ts';
import { computeBox } from '../../core/geometry/polygon.ts';
import { listFindings, stepFinding } from '../../editor/findings.ts';
import type { EditorStore } from '../../editor/store.ts';
import { presentation } from '../presentation.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { formatArea, formatPlaceWithUnit } from './format.ts';
import { handlePageKey } from './page-keys.ts';
import { view } from './scene-port.ts';
import { sayEntrances, sayFinding, sayWorkplaces } from './words.ts';
import './presentation.css';

/** The pointer is unseen once it has rested so long, milliseconds. */
const RESTS = 2_000;
/** Letters from which a sentence is set smaller: it stays in its strip. */
const LONG = 110;

/** The picture alone, with a strip under it: one sentence, its reason, and where that is. */
export default function Presentation() {
  const store = useEditorStore();
  const floor = useEditor((state) => state.floor);
  const index = useEditor((state) => state.finding);
  const findings = useEditor((state) => listFindings(state.result));
  const hasKeyPlan = useStore(presentation, (state) => state.hasKeyPlan);
  usePresentationKeys(store);
  const isStill = useStillPointer();
  const finding = index === null ? undefined : findings[index];
  return (
    <section className={isStill ? 'caption still' : 'caption'} aria-label="Presentation. Escape ends it.">
      <div className="caption-words" aria-live="polite">
        <h1 className="caption-sentence" dir="auto" data-long={(finding?.text.length ?? 0) > LONG || undefined}>
          {finding === undefined ? <Verdict /> : sayFinding(floor, finding.text)}
        </h1>
        <p className="caption-reason">
          {finding === undefined ? (
            <>
              <bdi>{floor.name}</bdi>. <Areas />
            </>
          ) : (
            `${finding.level}, ${(index ?? 0) + 1} of ${findings.length}${finding.at === null ? '' : `, at ${formatPlaceWithUnit(finding.at)}`}`
          )}
        </p>
      </div>
      {hasKeyPlan && floor.rooms.length > 0 && <KeyPlan floor={floor} at={finding?.at ?? null} />}
    </section>
  );
}

function Verdict() {
  const coverage = useEditor((state) => state.coverage);
  useEditor((state) => state.coverageVersion);
  const result = useEditor((state) => state.result);
  if (coverage === null) return 'Reading the floor.';
  return `${sayWorkplaces(coverage.workplaces)}${result === null ? '' : ` ${sayEntrances(result)}`}`.trim();
}

function Areas() {
  const coverage = useEditor((state) => state.coverage);
  const plane = useEditor((state) => state.plane);
  useEditor((state) => state.coverageVersion);
  if (coverage === null) return null;
  const { areaM2, seenM2 } = coverage.areas[plane];
  return `${formatArea(areaM2 - seenM2)} of ${formatArea(areaM2)} is blind to ${plane} people.`;
}

/** The whole floor in small: its rooms, the place spoken of, and the walker. */
function KeyPlan({ floor, at }: { readonly floor: Floor; readonly at: Point | null }) {
  const walker = useEditor((state) => (state.camera === 'walk' ? state.walker : null));
  const box = computeBox(floor.rooms.flatMap((room) => room.outline));
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const edge = Math.max(width, height) * 0.03;
  const spot = ([x, y]: Point): string => `${x - box.minX} ${box.maxY - y}`;
  const path = (ring: Ring): string => `M${ring.map(spot).join('L')}Z`;
  return (
    <svg className="key-plan" viewBox={`${-edge} ${-edge} ${width + 2 * edge} ${height + 2 * edge}`} aria-hidden="true">
      <path
        d={floor.rooms.map((room) => [room.outline, ...room.holes].map(path).join('')).join('')}
        fill="var(--paper)"
        fillRule="evenodd"
        stroke="var(--ink)"
        strokeWidth="1.25"
        vectorEffect="non-scaling-stroke"
      />
      {at !== null && <path d={`M${spot(at)}h0`} className="key-plan-place" vectorEffect="non-scaling-stroke" />}
      {walker !== null && (
        <path d={`M${spot(walker.at)}h0`} className="key-plan-walker" vectorEffect="non-scaling-stroke" />
      )}
    </svg>
  );
}

/** The keys of a presentation, and of a clicker; the others stay those of the page. */
function usePresentationKeys(store: EditorStore): void {
  useEffect(() => {
    const end = (): void => presentation.setState({ isOn: false });
    const onKeyDown = (event: KeyboardEvent): void => {
      const { camera } = store.getState();
      const isWalking = camera === 'walk' && (event.key === 'ArrowUp' || event.key === 'ArrowDown');
      if (event.key === 'Escape' || (event.key === 'Enter' && (event.ctrlKey || event.metaKey))) end();
      else if (event.key === 'ArrowRight' || event.key === 'PageDown') stepFinding(store, 1);
      else if (event.key === 'ArrowLeft' || event.key === 'PageUp') stepFinding(store, -1);
      else if (isWalking) handlePageKey(store, event, false);
      else if (event.key === 'ArrowUp') view()?.zoomBy(1.25);
      else if (event.key === 'ArrowDown') view()?.zoomBy(0.8);
      else if (event.key.toLowerCase() === 'n' && !event.ctrlKey && !event.metaKey)
        presentation.setState(({ hasKeyPlan }) => ({ hasKeyPlan: !hasKeyPlan }));
      else return;
      event.preventDefault();
      event.stopImmediatePropagation();
    };
    // Before the keys of the page have them.
    window.addEventListener('keydown', onKeyDown, { capture: true });
    const wasFull = document.fullscreenElement !== null;
    const onFull = (): void => {
      if (document.fullscreenElement === null) end();
    };
    void document.documentElement.requestFullscreen?.().then(
      () => document.addEventListener('fullscreenchange', onFull),
      () => {},
    );
    focusPage();
    requestAnimationFrame(() => view()?.fit());
    return () => {
      window.removeEventListener('keydown', onKeyDown, { capture: true });
      document.removeEventListener('fullscreenchange', onFull);
      if (!wasFull && document.fullscreenElement !== null) void document.exitFullscreen();
      focusPage();
      requestAnimationFrame(() => view()?.fit());
    };
  }, [store]);
}

/** Whether the pointer has rested for a while. */
function useStillPointer(): boolean {
  const [isStill, setStill] = useState(false);
  useEffect(() => {
    let timer = setTimeout(() => setStill(true), RESTS);
    const onMove = (): void => {
      setStill(false);
      clearTimeout(timer);
      timer = setTimeout(() => setStill(true), RESTS);
    };
    window.addEventListener('pointermove', onMove);
    return () => {
      clearTimeout(timer);
      window.removeEventListener('pointermove', onMove);
    };
  }, []);
  return isStill;
}
