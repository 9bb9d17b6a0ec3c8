/** Reads whatever a person hands over: tells by its bytes what it is, and lets the reader of its format have it. */

import type { DxfAnswers } from './dxf/answers.ts';
import { readDxf } from './dxf/read.ts';
import { sniffDxf } from './dxf/sniff.ts';
import { type DxfSurvey, surveyDxf } from './dxf/survey.ts';
import { type GeoJsonAnswers, type NamedBytes, readGeoJson } from './geojson/read.ts';
import type { IfcApiSource } from './ifc/engine.ts';
import { readIfc } from './ifc/read-ifc.ts';
import type { DrawnStorey, OnProgress, ReadSource, Refusal } from './storey.ts';

/** What is answered before a source is read. */
export interface SourceAnswers {
  readonly dxf?: Partial<DxfAnswers>;
  readonly geoJson?: GeoJsonAnswers;
}

/** What reading takes from the platform. */
export interface SourcePlatform {
  readonly ifcApi: IfcApiSource;
}

/** A source read, and for a DXF drawing what a person can be asked about it. */
export interface SourceReading {
  readonly source: ReadSource | Refusal;
  readonly survey: DxfSurvey | null;
}

/** Reads a model, a drawing or indoor maps. Never throws for what the bytes hold. */
export async function readSource(
  files: readonly NamedBytes[],
  answers: SourceAnswers,
  platform: SourcePlatform,
  onProgress: OnProgress,
): Promise<SourceReading> {
  const [first] = files;
  if (first === undefined) return refused('There is no file', 'Choose an IFC model, a DXF drawing or a GeoJSON map.');
  const kinds = files.map(tellKind);
  if (kinds.every((kind) => kind === 'json'))
    return { source: readGeoJson(files, answers.geoJson ?? {}, onProgress), survey: null };
  if (files.length > 1)
    return refused(
      'Several files are read together only when all are GeoJSON maps',
      'Import a model or a drawing by itself.',
    );
  if (kinds[0] === 'ifc')
    return { source: await readIfc(first.bytes, { ...platform, name: first.name, onProgress }), survey: null };
  const sniffed = sniffDxf(first.bytes);
  if (typeof sniffed !== 'string') {
    const remedy = /\.dxf$/iu.test(first.name)
      ? sniffed.remedy
      : `${sniffed.remedy} An IFC model or a GeoJSON map is read too.`;
    return { source: { ...sniffed, remedy }, survey: null };
  }
  const dxf = answers.dxf ?? {};
  const survey = surveyDxf(first.bytes, dxf, (share, stage) => onProgress(share / 2, stage));
  if (!survey.ok) return { source: survey, survey: null };
  const source = readDxf(first.bytes, dxf, (share, stage) => onProgress(0.5 + share / 2, stage));
  return { source: source.ok ? { ...source, name: first.name } : source, survey };
}

function refused(reason: string, remedy: string): SourceReading {
  return { source: { ok: false, reason, remedy }, survey: null };
}

/** What a file is by its first bytes; packed files are taken for packed models. */
function tellKind({ bytes }: NamedBytes): 'ifc' | 'json' | 'other' {
  let head = '';
  for (const byte of bytes.subarray(0, 200)) head += String.fromCharCode(byte);
  const text = head.replace(/^\xef\xbb\xbf/, '').trimStart();
  if (text.startsWith('ISO-10303-21') || head.startsWith('PK\u0003\u0004')) return 'ifc';
  return text.startsWith('{') || text.startsWith('[') ? 'json' : 'other';
}

/** The storey with most rooms, of equals the one with most walls; undefined in a source without storeys. */
export function findMainStorey({ storeys }: ReadSource): DrawnStorey | undefined {
  const rank = ({ rooms, walls }: DrawnStorey): number => rooms.length * 1e6 + walls.length;
  return storeys.reduce<DrawnStorey | undefined>(
    (best, storey) => (best === undefined || rank(storey) > rank(best) ? storey : best),
    undefined,
  );
}

/** What a storey is called: its name, else its number, counted from 1. */
export function nameOfStorey({ storeys }: ReadSource, storey: DrawnStorey): string {
  return storey.name.trim() === '' ? `Storey ${storeys.indexOf(storey) + 1}` : storey.name;
}
