/** Writes small DXF files for tests: as text, and the same groups in binary. */

import type { DxfAnswers } from '../../../src/importers/dxf/answers.ts';
import { readDxf } from '../../../src/importers/dxf/read.ts';
import type { DrawnStorey, ReadSource } from '../../../src/importers/storey.ts';

export type Value = string | number;
export type Group = readonly [code: number, value: Value];

export interface DxfParts {
  readonly version?: string;
  readonly page?: string;
  /** `$INSUNITS`; 6 is metres. */
  readonly units?: number;
  readonly header?: readonly Group[];
  /** Layer names, with flags and colour. */
  readonly layers?: readonly (readonly [name: string, flags?: number, color?: number])[];
  readonly blocks?: Readonly<Record<string, readonly Group[]>>;
  readonly entities: readonly Group[];
}

/** The groups of a whole file. */
export function groupsOf({
  version = 'AC1015',
  page,
  units = 6,
  header = [],
  layers = [],
  blocks = {},
  entities,
}: DxfParts): Group[] {
  return [
    [0, 'SECTION'],
    [2, 'HEADER'],
    [9, '$ACADVER'],
    [1, version],
    ...(page === undefined
      ? []
      : ([
          [9, '$DWGCODEPAGE'],
          [3, page],
        ] as const)),
    [9, '$INSUNITS'],
    [70, units],
    ...header,
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'TABLES'],
    [0, 'TABLE'],
    [2, 'LAYER'],
    [70, layers.length],
    ...layers.flatMap(([name, flags = 0, color = 7]): Group[] => [
      [0, 'LAYER'],
      [2, name],
      [70, flags],
      [62, color],
    ]),
    [0, 'ENDTAB'],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    ...Object.entries(blocks).flatMap(([name, inside]): Group[] => [
      [0, 'BLOCK'],
      [8, '0'],
      [2, name],
      [70, 0],
      [10, 0],
      [20, 0],
      ...inside,
      [0, 'ENDBLK'],
    ]),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...entities,
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
}

/** As text; characters above 255 are not for this. */
export function textOf(groups: readonly Group[]): string {
  return groups.map(([code, value]) => `${String(code).padStart(3)}\r\n${value}\r\n`).join('');
}

export function bytesOfText(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => character.charCodeAt(0));
}

export function fileOf(parts: DxfParts): Uint8Array {
  return bytesOfText(textOf(groupsOf(parts)));
}

/** The same groups in binary: codes of one byte (R12) or two. */
export function binaryOf(groups: readonly Group[], wide: boolean): Uint8Array {
  const bytes: number[] = [...bytesOfText('AutoCAD Binary DXF\r\n\u001a\u0000')];
  const push = (size: number, write: (view: DataView) => void): void => {
    const buffer = new ArrayBuffer(size);
    write(new DataView(buffer));
    bytes.push(...new Uint8Array(buffer));
  };
  for (const [code, value] of groups) {
    if (wide) push(2, (view) => view.setInt16(0, code, true));
    else if (code < 255) bytes.push(code);
    else {
      bytes.push(255);
      push(2, (view) => view.setInt16(0, code, true));
    }
    if (code < 10 || code === 100 || code >= 1000) bytes.push(...bytesOfText(String(value)), 0);
    else if (code < 60 || (code >= 210 && code < 240)) push(8, (view) => view.setFloat64(0, Number(value), true));
    else if (code < 80) push(2, (view) => view.setInt16(0, Number(value), true));
    else push(4, (view) => view.setInt32(0, Number(value), true));
  }
  return Uint8Array.from(bytes);
}

export function line(layer: string, x0: number, y0: number, x1: number, y1: number): Group[] {
  return [
    [0, 'LINE'],
    [8, layer],
    [10, x0],
    [20, y0],
    [11, x1],
    [21, y1],
  ];
}

/** Closed when `closed`; a point may carry a bulge. */
export function polyline(
  layer: string,
  points: readonly (readonly [number, number, number?])[],
  closed = true,
  extra: readonly Group[] = [],
): Group[] {
  return [
    [0, 'LWPOLYLINE'],
    [8, layer],
    [90, points.length],
    [70, closed ? 1 : 0],
    ...extra,
    ...points.flatMap(([x, y, bulge]): Group[] => [
      [10, x],
      [20, y],
      ...(bulge === undefined ? [] : [[42, bulge] as const]),
    ]),
  ];
}

export function rectangle(layer: string, x0: number, y0: number, x1: number, y1: number): Group[] {
  return polyline(layer, [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ]);
}

export function arc(
  layer: string,
  x: number,
  y: number,
  radius: number,
  from: number,
  to: number,
  extra: readonly Group[] = [],
): Group[] {
  return [[0, 'ARC'], [8, layer], [10, x], [20, y], [40, radius], ...extra, [50, from], [51, to]];
}

export function text(layer: string, value: string, x: number, y: number, height = 0.2): Group[] {
  return [
    [0, 'TEXT'],
    [8, layer],
    [10, x],
    [20, y],
    [40, height],
    [1, value],
  ];
}

export function insert(layer: string, block: string, x: number, y: number, extra: readonly Group[] = []): Group[] {
  return [[0, 'INSERT'], [8, layer], [2, block], [10, x], [20, y], ...extra];
}

/** The source in some bytes; a refusal is an error with its reason. */
export function readSource(bytes: Uint8Array, answers: Partial<DxfAnswers> = {}): ReadSource {
  const source = readDxf(bytes, answers, () => {});
  if (!source.ok) throw new Error(`${source.reason} ${source.remedy}`);
  return source;
}

export function readStorey(parts: DxfParts, answers: Partial<DxfAnswers> = {}): DrawnStorey {
  const [storey] = readSource(fileOf(parts), answers).storeys;
  if (storey === undefined) throw new Error('no storey');
  return storey;
}
