import { useEffect, useRef } from 'react';
import type { Floor, Point } from '../../core/floor/index.ts';
import { listFindings } from '../../editor/findings.ts';
import { shownFloor } from '../../editor/store.ts';
import { indexOfId } from '../../editor/things.ts';
import { useEditor } from './context.tsx';
import { view } from './scene-port.ts';

/** Half the bracket round a place that has no seats, metres, and what a bracket keeps clear of its thing, px. */
const HALF = 0.6;
const CLEAR = 14;

/** A thin line from the finding stepped to, to the brackets round its place: the words and the place are one. */
export default function Leader() {
  const finding = useEditor((state) => state.finding);
  const place = useEditor((state) => state.flyTo);
  const floor = useEditor(shownFloor);
  // Another thing taken in hand is no longer what the row speaks of.
  const isHeld = useEditor((state) => {
    const about = listFindings(state.result)[state.finding ?? -1]?.about;
    return (
      about !== undefined &&
      about.length === state.selection.length &&
      about.every((id) => state.selection.includes(id))
    );
  });
  const line = useRef<SVGPolylineElement>(null);
  useEffect(() => {
    const draw = (): void => {
      const ends = finding === null || place === null || !isHeld ? null : findEnds(floor, finding, place);
      line.current?.setAttribute('points', ends === null ? '' : ends.map((end) => end.join(',')).join(' '));
    };
    draw();
    const stop = view()?.onDrawn(draw);
    window.addEventListener('resize', draw);
    document.addEventListener('scroll', draw, { capture: true });
    return () => {
      stop?.();
      window.removeEventListener('resize', draw);
      document.removeEventListener('scroll', draw, { capture: true });
    };
  }, [finding, place, floor, isHeld]);
  return (
    <svg className="leader" aria-hidden="true">
      <polyline ref={line} fill="none" stroke="var(--ink)" strokeWidth="1" />
    </svg>
  );
}

/** From the row, level to the edge of the page, and on to the bracket; null when either is out of sight or the page is not beside the row. */
function findEnds(
  floor: Floor,
  finding: number,
  { at, ids }: { readonly at: Point; readonly ids: readonly string[] },
): readonly Point[] | null {
  const row = document.querySelector(`.finding[data-index="${finding}"]`)?.getBoundingClientRect();
  const margin = document.querySelector('.margin')?.getBoundingClientRect();
  const page = document.querySelector('[data-region="page"]')?.getBoundingClientRect();
  if (row === undefined || margin === undefined || page === undefined || page.right > row.left) return null;
  const y = row.top + 16;
  if (y < margin.top || y > margin.bottom) return null;
  const box = boxOnScreen(floor, at, ids);
  if (box === null) return null;
  const [x1, middle] = [page.left + box[2] + CLEAR, page.top + (box[1] + box[3]) / 2];
  if (x1 < page.left || middle < page.top || middle > page.bottom || x1 > page.right) return null;
  return [
    [row.left, y],
    [page.right, y],
    [x1, middle],
  ];
}

/** The box of the places a finding is about, px of the page: its seats together where they lie close, else its own place. */
function boxOnScreen(
  floor: Floor,
  at: Point,
  ids: readonly string[],
): readonly [number, number, number, number] | null {
  const z = floor.analysis.seatedPlane;
  const seats = ids.flatMap((id) => floor.workplaces[indexOfId(floor.workplaces, id)] ?? []);
  const corners = ([x, y]: Point, half: number): Point[] => [
    [x - half, y - half],
    [x + half, y - half],
    [x + half, y + half],
    [x - half, y + half],
  ];
  const around = seats.length === 0 ? corners(at, HALF) : seats.flatMap((seat) => corners(seat.at, seat.radius));
  const places = around.map((corner) => view()?.screenOf(corner, z) ?? null);
  const seen = places.filter((each) => each !== null);
  if (seen.length === 0 || seen.length < places.length) return null;
  const [xs, ys] = [seen.map(([x]) => x), seen.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
