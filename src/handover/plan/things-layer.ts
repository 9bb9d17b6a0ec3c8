/** Furniture, luminaires, zones, sources and workplaces. */
import type { Coverage, WorkplaceResult, ZoneResult } from '../../core/coverage/index.ts';
import { type Floor, type Furniture, findRoomAt, type Point, shareOf, type Workplace } from '../../core/floor/index.ts';
import { luminaireOutline } from '../../core/sight/index.ts';
import type { Frame } from './frame.ts';
import type { Labels, Rect } from './labels.ts';
import { COLOUR, LINE, toneOf } from './paper.ts';
import { cutToWidth, element, measureText, pathOf, type Spot } from './svg.ts';
import { formatShare } from './words.ts';

/** Type sizes of labels, mm. */
const HEIGHT_SIZE = 1.7;
const SHARE_SIZE = 2;
const NAME_SIZE = 1.8;
/** From this part of the ceiling's height on a tone is too dark for ink. */
const DARK = 0.74;

/** Furniture up to the plane: its tone lies under the field. */
export function drawLowFurniture(floor: Floor, plane: number, frame: Frame): string {
  return drawAlike(
    floor.furniture
      .filter((piece) => piece.top <= plane && !piece.glass)
      .map((piece) => ({
        d: outlinePath(piece, frame),
        style: { fill: toneOf(piece.top, ceilingOver(floor, piece)) },
      })),
  );
}

/** Outlines of all furniture, and the tone of what reaches above the plane. What hangs above it is dashed. Low pieces first. */
export function drawFurniture(floor: Floor, plane: number, frame: Frame): string {
  const pieces = floor.furniture.toSorted((a, b) => a.top - b.top);
  const outlines = drawAlike(
    pieces.map((piece) => {
      const isHung = piece.base > plane;
      const isFilled = piece.top > plane && !isHung && !piece.glass;
      return {
        d: outlinePath(piece, frame),
        style: {
          fill: isFilled ? toneOf(piece.top, ceilingOver(floor, piece)) : 'none',
          stroke: piece.top > plane ? COLOUR.ink : COLOUR.ink3,
          'stroke-width': piece.top > plane ? LINE.drawing : LINE.thin,
          'stroke-linejoin': 'miter',
          'stroke-dasharray': isHung ? '1 0.7' : undefined,
        },
      };
    }),
  );
  const glass = pieces.filter((piece) => piece.glass).map((piece) => drawPaneMarks(piece, frame));
  return outlines + glass.join('');
}

/** Shapes of one look drawn as one: a drawing of thousands of pieces stays quick to read. */
function drawAlike(
  shapes: readonly { readonly d: string; readonly style: Readonly<Record<string, string | number | undefined>> }[],
): string {
  const looks = new Map<string, { d: string; readonly style: (typeof shapes)[number]['style'] }>();
  for (const { d, style } of shapes) {
    const key = JSON.stringify(style);
    const look = looks.get(key);
    if (look === undefined) looks.set(key, { d, style });
    else look.d += d;
  }
  return [...looks.values()].map(({ d, style }) => element('path', { d, ...style })).join('');
}

/** Two short strokes across the middle of the longest side: glass. */
function drawPaneMarks(piece: Furniture, frame: Frame): string {
  const box = boxOf(piece.outline.map(frame.toSpot));
  const x = (box.x0 + box.x1) / 2;
  const y = (box.y0 + box.y1) / 2;
  const strokes = [-0.5, 0.5]
    .map((shift) =>
      pathOf(
        [
          { x: x + shift - 0.6, y: y + 0.9 },
          { x: x + shift + 0.6, y: y - 0.9 },
        ],
        false,
      ),
    )
    .join('');
  return element('path', { d: strokes, fill: 'none', stroke: COLOUR.ink, 'stroke-width': LINE.thin });
}

export function drawLuminaires(floor: Floor, frame: Frame): string {
  return drawAlike(
    floor.luminaires.map(({ at, size, turn, emergency }) => {
      const corners = luminaireOutline(at, size, turn).map(frame.toSpot);
      const [a, b, c, d] = corners;
      const cross = emergency && a && b && c && d ? pathOf([a, c], false) + pathOf([b, d], false) : '';
      return {
        d: pathOf(corners, true) + cross,
        style: { fill: 'none', stroke: COLOUR.ink3, 'stroke-width': LINE.hair },
      };
    }),
  );
}

/** Tops of furniture, beside the piece where it is too narrow for the number. */
export function labelFurniture(floor: Floor, plane: number, frame: Frame, labels: Labels): void {
  for (const piece of floor.furniture) {
    const spots = piece.outline.map(frame.toSpot);
    const box = boxOf(spots);
    // Of what stands or nearly does, the top is what hides; of what hangs, both ends are.
    const isHung = piece.base > plane;
    const text = isHung ? `${piece.base.toFixed(2)}–${piece.top.toFixed(2)}` : piece.top.toFixed(2);
    const isDark = !isHung && !piece.glass && piece.top > DARK * ceilingOver(floor, piece);
    const width = measureText(text, { size: HEIGHT_SIZE });
    const middle = { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
    const [wide, high] = [box.x1 - box.x0, box.y1 - box.y0];
    if (Math.max(wide, high) < width) continue;
    const fits = Math.min(wide, high) >= HEIGHT_SIZE * 1.1;
    const style = {
      size: HEIGHT_SIZE,
      fill: fits && isDark ? COLOUR.paper : COLOUR.ink2,
      anchor: 'middle' as const,
      rim: !fits,
    };
    const isUpright = high > wide && wide < width + 0.6;
    const off = HEIGHT_SIZE * 0.36;
    if (isUpright) {
      const xs = fits ? [middle.x + off] : [box.x1 + HEIGHT_SIZE, box.x0 - 0.5];
      const places = [0.5, 0.25, 0.75].flatMap((part) => xs.map((x) => ({ x, y: box.y0 + high * part })));
      labels.put(text, places, { ...style, turn: -90 }, false);
    } else {
      const ys = fits ? [middle.y + off] : [box.y0 - 0.6, box.y1 + HEIGHT_SIZE];
      const places = [0.5, 0.25, 0.75].flatMap((part) => ys.map((y) => ({ x: box.x0 + wide * part, y })));
      labels.put(text, places, style, false);
    }
  }
}

/** Zones: a fine dashed outline, the need as a word in a corner, the share when it is not met. */
export function drawZones(floor: Floor, results: readonly ZoneResult[], frame: Frame, labels: Labels): string {
  const verdicts = new Map(results.map((each) => [each.id, each]));
  return floor.zones
    .map((zone) => {
      const spots = zone.outline.map(frame.toSpot);
      const box = boxOf(spots);
      const verdict = verdicts.get(zone.id);
      const isFailed = verdict?.met === false;
      const share = isFailed ? ` ${formatShare(verdict.share)} of ${Math.round(shareOf(zone) * 1000) / 10} %` : '';
      const text = `${cutToWidth(zone.name || zone.id, 40, { size: NAME_SIZE })}, ${zone.need}${share}`;
      const style = { size: NAME_SIZE, fill: isFailed ? COLOUR.blind : COLOUR.ink2, bold: isFailed, rim: true };
      const corners = [
        { x: box.x0 + 0.8, y: box.y0 + NAME_SIZE + 0.4 },
        { x: box.x0 + 0.8, y: box.y1 - 0.8 },
        { x: Math.max(box.x0 + 0.8, box.x1 - 0.8 - measureText(text, style)), y: box.y0 + NAME_SIZE + 0.4 },
        { x: Math.max(box.x0 + 0.8, box.x1 - 0.8 - measureText(text, style)), y: box.y1 - 0.8 },
      ];
      labels.put(text, corners, style, isFailed);
      return element('path', {
        d: pathOf(spots, true),
        fill: 'none',
        stroke: COLOUR.ink2,
        'stroke-width': LINE.thin,
        'stroke-dasharray': '0.9 0.9',
      });
    })
    .join('');
}

/** Sources: a ring of their own radius with a plus. */
export function drawSources(floor: Floor, frame: Frame, labels: Labels): string {
  return floor.sources
    .map((source) => {
      const spot = frame.toSpot(source.at);
      const radius = Math.max(0.8, source.radius * frame.mmPerMetre);
      labels.block(around(spot, radius));
      const text = cutToWidth(source.name || source.id, 30, { size: NAME_SIZE });
      labels.put(
        text,
        besides(spot, radius + 0.6, NAME_SIZE, measureText(text, { size: NAME_SIZE })),
        { size: NAME_SIZE, fill: COLOUR.ink2, rim: true },
        false,
      );
      const plus = 0.6;
      return (
        element('circle', {
          cx: spot.x,
          cy: spot.y,
          r: radius,
          fill: COLOUR.paper,
          stroke: COLOUR.ink,
          'stroke-width': LINE.thin,
        }) +
        element('path', {
          d: `M${spot.x - plus} ${spot.y}h${2 * plus}M${spot.x} ${spot.y - plus}v${2 * plus}`.replace(
            /\d+\.\d{3,}/g,
            (long) => Number(long).toFixed(2),
          ),
          stroke: COLOUR.ink,
          'stroke-width': LINE.drawing,
        })
      );
    })
    .join('');
}

/** Workplaces: the true disc, thin and numbered where met; a red ring and cross, number and share where not. */
export function drawWorkplaces(
  coverage: Coverage,
  results: readonly WorkplaceResult[],
  frame: Frame,
  labels: Labels,
): string {
  const verdicts = new Map(results.map((each) => [each.id, each]));
  return coverage.floor.workplaces
    .map((workplace) => {
      const verdict = verdicts.get(workplace.id);
      const spot = frame.toSpot(workplace.at);
      const radius = workplace.radius * frame.mmPerMetre;
      const label = labelOf(workplace);
      if (verdict === undefined || verdict.met) {
        const isRoomy = measureText(label, { size: NAME_SIZE }) < 1.8 * radius;
        if (isRoomy)
          labels.put(
            label,
            [{ x: spot.x, y: spot.y + NAME_SIZE * 0.36 }],
            { size: NAME_SIZE, fill: COLOUR.ink2, anchor: 'middle', rim: true },
            false,
          );
        return element('circle', {
          cx: spot.x,
          cy: spot.y,
          r: radius,
          fill: 'none',
          stroke: COLOUR.ink2,
          'stroke-width': LINE.thin,
        });
      }
      const arm = Math.min(1, radius * 0.4);
      labels.block(around(spot, arm));
      const style = { size: SHARE_SIZE, fill: COLOUR.blind, bold: true, rim: true, anchor: 'middle' as const };
      const share = formatShare(verdict.share);
      labels.put(
        `${label} ${share}`,
        [
          { x: spot.x, y: spot.y + radius + SHARE_SIZE },
          { x: spot.x, y: spot.y - radius - 0.6 },
        ],
        style,
        true,
      );
      return (
        element('circle', {
          cx: spot.x,
          cy: spot.y,
          r: radius,
          fill: 'none',
          stroke: COLOUR.blind,
          'stroke-width': LINE.strong,
        }) +
        element('path', {
          d: crossPath(spot, arm),
          stroke: COLOUR.blind,
          'stroke-width': LINE.strong,
          'stroke-linecap': 'round',
        })
      );
    })
    .join('');
}

/** The shorter of name and id: a disc of half a metre holds a few letters. */
function labelOf({ id, name }: Workplace): string {
  const label = name !== '' && name.length <= id.length ? name : id;
  return cutToWidth(label, 14, { size: NAME_SIZE });
}

function crossPath({ x, y }: Spot, arm: number): string {
  return (
    pathOf(
      [
        { x: x - arm, y: y - arm },
        { x: x + arm, y: y + arm },
      ],
      false,
    ) +
    pathOf(
      [
        { x: x - arm, y: y + arm },
        { x: x + arm, y: y - arm },
      ],
      false,
    )
  );
}

/** Spots for words beside a mark: right, left, above, below. */
export function besides({ x, y }: Spot, off: number, size: number, width: number): Spot[] {
  const base = y + size * 0.36;
  return [
    { x: x + off, y: base },
    { x: x + off * 0.7, y: y - off * 0.7 },
    { x: x + off * 0.7, y: y + off * 0.7 + size * 0.7 },
    { x: x - off - width, y: base },
    { x: x - off * 0.7 - width, y: y - off * 0.7 },
    { x: x - off * 0.7 - width, y: y + off * 0.7 + size * 0.7 },
    { x: x - width / 2, y: y - off - size * 0.2 },
    { x: x - width / 2, y: y + off + size * 0.8 },
  ];
}

export function around({ x, y }: Spot, radius: number): Rect {
  return { x0: x - radius, y0: y - radius, x1: x + radius, y1: y + radius };
}

export function boxOf(spots: readonly Spot[]): Rect {
  return {
    x0: Math.min(...spots.map(({ x }) => x)),
    y0: Math.min(...spots.map(({ y }) => y)),
    x1: Math.max(...spots.map(({ x }) => x)),
    y1: Math.max(...spots.map(({ y }) => y)),
  };
}

function outlinePath(piece: Furniture, frame: Frame): string {
  return pathOf(piece.outline.map(frame.toSpot), true);
}

/** Ceiling of the room a piece stands in; of a piece on a wall or outside, the highest of all. */
function ceilingOver(floor: Floor, piece: Furniture): number {
  const [x, y] = piece.outline.reduce<Point>(
    ([sx, sy], [px, py]) => [sx + px / piece.outline.length, sy + py / piece.outline.length],
    [0, 0],
  );
  return findRoomAt(floor.rooms, [x, y])?.ceiling ?? highestCeiling(floor);
}

/** Metres; of a floor without rooms 3. */
export function highestCeiling(floor: Floor): number {
  return floor.rooms.length === 0 ? 3 : Math.max(...floor.rooms.map((room) => room.ceiling));
}
