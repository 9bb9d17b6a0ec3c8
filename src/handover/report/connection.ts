/**
 * How a group is connected, by function and not by anybody's terminals: line, neutral, protective earth, switched
 * lighting output, push-button input, extension line, ventilation contact. Colours of conductors by IEC 60445.
 */
import type { HandoverJob } from '../job.ts';
import { COLOUR, FONT, LINE } from '../plan/paper.ts';
import { cutToWidth, element, formatNumber, pathOf, textAt } from '../plan/svg.ts';
import type { ServedGroup } from '../served-groups.ts';

interface Conductor {
  readonly name: string;
  readonly colour: string;
  /** Drawn over the colour in dashes. */
  readonly stripe?: string;
}

/** IEC 60445: one line brown (the others black and grey), neutral blue, protective earth green-and-yellow and nothing else. */
const CONDUCTORS = {
  line: { name: 'Line L: brown', colour: '#6B4423' },
  neutral: { name: 'Neutral N: blue', colour: '#1F5FA8' },
  earth: { name: 'Protective earth PE: green-and-yellow', colour: '#2E8B3D', stripe: '#E8C400' },
  switched: { name: "Switched lighting output L': black or grey", colour: '#111111' },
  button: { name: 'Push-button input: black or grey', colour: '#5A5A5A' },
  extension: { name: 'Extension line: by the maker', colour: '#15202A' },
  ventilation: { name: 'Ventilation contact: free of voltage', colour: '#15202A' },
} as const satisfies Readonly<Record<string, Conductor>>;

/** Extensions drawn with a box of their own. */
const MOST_BOXES = 3;

/** Millimetres of a group's drawing: extensions hang below the main. */
export function connectionHeight({ extensions }: ServedGroup): number {
  return extensions.some((each) => each.status !== 'remove') ? 62 : 41;
}

/** A drawing of one group, `width` mm wide. */
export function drawConnection({ names }: HandoverJob, group: ServedGroup, width: number): string {
  const parts: string[] = [];
  const rails = { line: 5, neutral: 10, earth: 15 };
  const railEnd = width - 2;
  for (const [key, y] of Object.entries(rails) as [keyof typeof rails, number][]) {
    parts.push(
      wire(
        [
          [30, y],
          [railEnd, y],
        ],
        CONDUCTORS[key],
      ),
    );
    parts.push(
      textAt({ x: 0, y: y + 0.8 }, { line: 'L  brown', neutral: 'N  blue', earth: 'PE  green-yellow' }[key], {
        size: 2.3,
      }),
    );
  }
  const top = 24;
  const tall = 13;
  const main = { x: 34, width: 34 };
  const extensions = group.extensions.filter((each) => each.status !== 'remove');
  const shown = extensions.slice(0, MOST_BOXES);
  const hasVentilation = group.group?.ventilation !== undefined;
  const hasButton = group.group?.settings.switchOn === 'manual' || (group.group?.settings.button ?? '') !== '';

  const feed = (x: number, withEarth: boolean): void => {
    parts.push(
      wire(
        [
          [x + 3, rails.line],
          [x + 3, top],
        ],
        CONDUCTORS.line,
      ),
      dot(x + 3, rails.line),
    );
    parts.push(
      wire(
        [
          [x + 6, rails.neutral],
          [x + 6, top],
        ],
        CONDUCTORS.neutral,
      ),
      dot(x + 6, rails.neutral),
    );
    if (withEarth)
      parts.push(
        wire(
          [
            [x + 9, rails.earth],
            [x + 9, top],
          ],
          CONDUCTORS.earth,
        ),
        dot(x + 9, rails.earth),
      );
  };
  feed(main.x, true);
  parts.push(
    box(
      main.x,
      top,
      main.width,
      tall,
      group.main === undefined ? 'Main' : `Main ${names.numberOf(group.main.id)}`,
      'detector',
      true,
    ),
  );

  // Luminaires on the switched output, to the right above the extension line.
  const lamp = { x: main.x + main.width + 22, width: 34 };
  parts.push(
    wire(
      [
        [main.x + main.width, top + 4],
        [lamp.x, top + 4],
      ],
      CONDUCTORS.switched,
    ),
    label(main.x + main.width + 1.5, top + 3, "L' switched"),
  );
  parts.push(
    wire(
      [
        [lamp.x + 6, rails.neutral],
        [lamp.x + 6, top],
      ],
      CONDUCTORS.neutral,
    ),
    dot(lamp.x + 6, rails.neutral),
  );
  parts.push(
    wire(
      [
        [lamp.x + 9, rails.earth],
        [lamp.x + 9, top],
      ],
      CONDUCTORS.earth,
    ),
    dot(lamp.x + 9, rails.earth),
  );
  const lights = group.luminaires.filter((each) => !each.emergency).length;
  parts.push(
    box(
      lamp.x,
      top,
      lamp.width,
      tall,
      lights === 0 ? 'Luminaires' : `${lights} ${lights === 1 ? 'luminaire' : 'luminaires'}`,
      'no emergency lighting',
      false,
    ),
  );

  if (hasVentilation) {
    const fan = { x: lamp.x + lamp.width + 20, width: Math.max(20, width - (lamp.x + lamp.width + 22)) };
    parts.push(
      wire(
        [
          [main.x + main.width, top + 11],
          [lamp.x - 4, top + 11],
          [lamp.x - 4, top + tall + 3],
          [fan.x - 4, top + tall + 3],
          [fan.x - 4, top + 7],
          [fan.x, top + 7],
        ],
        CONDUCTORS.ventilation,
        '1.2 0.8',
      ),
      label(main.x + main.width + 1.5, top + 10, 'V contact'),
    );
    parts.push(box(fan.x, top, fan.width, tall, 'Ventilation', names.listOf(group.group?.ventilation ?? []), false));
  }
  if (hasButton) {
    parts.push(
      wire(
        [
          [12, rails.line + 0.0],
          [30, rails.line],
        ],
        CONDUCTORS.line,
      ),
      wire(
        [
          [14, rails.line],
          [14, top + 3],
        ],
        CONDUCTORS.line,
      ),
      dot(14, rails.line),
      box(4, top, 20, tall, 'Button', group.group?.settings.button ?? '', false),
      wire(
        [
          [24, top + 9],
          [main.x, top + 9],
        ],
        CONDUCTORS.button,
      ),
      label(25, top + 8, 'T'),
    );
  }

  const below = 46;
  if (shown.length > 0) {
    const end = main.x + 8;
    const step = (width - main.x - 4) / MOST_BOXES;
    const last = main.x + 14 + step * (shown.length - 1);
    parts.push(
      wire(
        [
          [end, top + tall],
          [end, below - 4],
          [last, below - 4],
        ],
        CONDUCTORS.extension,
        '2.4 1.2',
      ),
      label(end + 1, below - 5, 'extension line'),
    );
    shown.forEach((each, k) => {
      const x = main.x + step * k;
      parts.push(
        wire(
          [
            [x + 14, below - 4],
            [x + 14, below],
          ],
          CONDUCTORS.extension,
          '2.4 1.2',
        ),
      );
      parts.push(
        box(
          x,
          below,
          Math.min(34, step - 4),
          tall,
          `Extension ${names.numberOf(each.id)}`,
          'L, N, PE as the main',
          false,
        ),
      );
    });
    const more = extensions.length - shown.length;
    if (more > 0)
      parts.push(
        textAt({ x: 0, y: below + 5 }, `and ${more} more`, { size: 2.3 }),
        textAt({ x: 0, y: below + 8.4 }, 'extensions alike', { size: 2.3 }),
      );
  }
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${formatNumber(width)} ${connectionHeight(group)}`,
      'font-family': FONT.working,
      fill: COLOUR.ink,
    },
    parts.join('\n'),
  );
}

function wire(points: readonly (readonly [number, number])[], conductor: Conductor, dash?: string): string {
  const d = pathOf(
    points.map(([x, y]) => ({ x, y })),
    false,
  );
  const base = element('path', {
    d,
    fill: 'none',
    stroke: conductor.colour,
    'stroke-width': 0.5,
    'stroke-dasharray': dash,
  });
  if (conductor.stripe === undefined) return base;
  return (
    base +
    element('path', { d, fill: 'none', stroke: conductor.stripe, 'stroke-width': 0.5, 'stroke-dasharray': '1.2 1.2' })
  );
}

function dot(cx: number, cy: number): string {
  return element('circle', { cx, cy, r: 0.6, fill: COLOUR.ink });
}

function label(x: number, y: number, text: string): string {
  return textAt({ x, y }, text, { size: 1.9, fill: COLOUR.ink2 });
}

function box(
  x: number,
  y: number,
  width: number,
  height: number,
  title: string,
  detail: string,
  isStrong: boolean,
): string {
  const titleStyle = { size: 2.6, bold: true };
  const detailStyle = { size: 2, fill: COLOUR.ink2 };
  return [
    element('rect', {
      x,
      y,
      width,
      height,
      fill: COLOUR.paper,
      stroke: COLOUR.ink,
      'stroke-width': isStrong ? LINE.strong : LINE.drawing,
    }),
    textAt({ x: x + 1.5, y: y + 5.4 }, cutToWidth(title, width - 2.5, titleStyle), titleStyle),
    textAt({ x: x + 1.5, y: y + 9.4 }, cutToWidth(detail, width - 2.5, detailStyle), detailStyle),
  ].join('');
}

/** What the colours stand for, in words. */
export const CONDUCTOR_WORDS: readonly string[] = Object.values(CONDUCTORS).map(({ name }) => name);
