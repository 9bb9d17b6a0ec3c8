/** Files that are broken, made to harm or no models: refused or told, never a crash and never a hang. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { IfcApi } from '../../../src/importers/ifc/engine.ts';
import { readIfc } from '../../../src/importers/ifc/read-ifc.ts';
import { findOutsideFolder } from '../../outside/visibility-files.ts';
import { areaOf, dropEngine, readAny, readModel, readRefusal, readStorey, saying, toBytes } from './read-model.ts';
import { draftIfc, rectangle } from './write-ifc.ts';

/** An engine that opens a model and ends itself at the first shape. */
class EndingEngine {
  OpenModel(): number {
    return 0;
  }
  CloseModel(): void {}
  StreamMeshes(): void {
    throw new Error('Aborted(OOM)');
  }
}

const endingEngine = new EndingEngine() as unknown as IfcApi;

const simple = (): string => {
  const draft = draftIfc();
  draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 3), 0, 2.7)]);
  draft.element('IFCWALL', 'Wall', [draft.block(rectangle(0, 3, 4, 0.2), 0, 2.7)]);
  return draft.text();
};

describe('a file cut off', () => {
  const shares = Array.from({ length: 20 }, (_, i) => i * 5);

  test.each(shares)('after %s %% of a written model: refused, or the break is told', async (share) => {
    const whole = toBytes(simple());
    const read = await readAny(whole.slice(0, Math.floor((whole.length * share) / 100)));
    if (!read.ok) expect(`${read.reason} ${read.remedy}`).toMatch(/empty|header|cut off|holds no/);
    else expect(saying(read.remarks, /cut off after line \d+/)).toHaveLength(1);
  });

  test.each(['revit_quantities.ifc', 'Duplex_A_20110907.ifc'])('%s by others, at every 5 %%', async (file) => {
    const whole = new Uint8Array(readFileSync(join(findOutsideFolder('ifc'), file)));
    let told = 0;
    for (const share of shares) {
      const read = await readAny(whole.slice(0, Math.floor((whole.length * share) / 100)));
      if (!read.ok || saying(read.remarks, /cut off after line \d+/).length === 1) told++;
    }
    expect(told).toBe(shares.length);
  });
});

describe('no model at all', () => {
  const refused: readonly (readonly [string, Uint8Array | string, RegExp])[] = [
    ['nothing', '', /empty/],
    ['zero bytes', new Uint8Array(10_000), /zero bytes/],
    ['a PDF', '%PDF-1.7\n', /PDF/],
    ['a web page', '<!doctype html><p>IFC</p>', /XML or HTML/],
    ['IFC in XML', '<?xml version="1.0"?><ifcXML></ifcXML>', /XML form/],
    ['JSON', '{"type":"ifcJSON"}', /JSON/],
    ['a DXF drawing', '  0\nSECTION\n  2\nHEADER\n', /DXF/],
    ['a DWG drawing', 'AC1027\0\0\0', /DWG/],
    ['random bytes', Uint8Array.from({ length: 5_000 }, (_, i) => (i * 7919) % 251), /no IFC file/],
    ['STEP of a machine', simple().replace("'IFC4'", "'AUTOMOTIVE_DESIGN'"), /AUTOMOTIVE_DESIGN/],
    ['a header alone', 'ISO-10303-21;\nHEADER;\nENDSEC;\n', /header/],
    ['no geometry', draftIfc().text(), /no room, wall, door or furniture/],
    ['UTF-16', Uint8Array.from([...simple()].flatMap((c) => [c.charCodeAt(0), 0])), /UTF-16/],
  ];
  test.each(refused)('%s', async (_, bytes, pattern) => {
    expect((await readRefusal(bytes)).reason).toMatch(pattern);
  });
});

describe('zipped models', () => {
  test('the one .ifc in it is read', async () => {
    const zip = zipSync({ 'house/model.IFC': strToU8(simple()), 'readme.txt': strToU8('x') });
    const { storeys, remarks } = await readModel(zip);
    expect(storeys[0]!.rooms).toHaveLength(1);
    expect(saying(remarks, /house\/model\.IFC/)).toHaveLength(1);
  });

  test('none or several are refused by name', async () => {
    expect((await readRefusal(zipSync({ 'a.txt': strToU8('x') }))).reason).toMatch(/no \.ifc, only "a\.txt"/);
    expect((await readRefusal(zipSync({ 'a.ifc': strToU8(simple()), 'b.ifc': strToU8(simple()) }))).reason).toMatch(
      /2 models: "a\.ifc", "b\.ifc"/,
    );
  });

  test('a bomb is refused by what it declares', async () => {
    const zip = zipSync({ 'a.ifc': new Uint8Array(60_000_000) }, { level: 9 });
    expect(zip.length).toBeLessThan(100_000);
    expect((await readRefusal(zip)).reason).toMatch(/unpacks to 60 MB, more than 20 MB/);
  });

  test('a bomb that declares less is stopped at what it declares', async () => {
    const zip = zipSync({ 'a.ifc': new Uint8Array(60_000_000) }, { level: 9 });
    const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
    for (let at = 0; at + 30 < zip.length; at++) {
      const signature = view.getUint32(at, true);
      if (signature === 0x04034b50) view.setUint32(at + 22, 1_000_000, true);
      if (signature === 0x02014b50) view.setUint32(at + 24, 1_000_000, true);
    }
    expect((await readRefusal(zip)).reason).toMatch(/another size than the 1\.0 MB/);
  });

  test('a damaged one is refused', async () => {
    const zip = zipSync({ 'a.ifc': strToU8(simple()) });
    expect((await readRefusal(zip.slice(0, zip.length - 30))).reason).toMatch(/damaged/);
    const scratched = zip.slice();
    scratched.fill(0xff, 60, 120);
    expect((await readRefusal(scratched)).reason).toMatch(/cannot be unpacked|another size|no IFC file/);
  });
});

describe('statements that lead nowhere', () => {
  test('placements, bodies, curves, parts and storeys in a circle', async () => {
    const draft = draftIfc();
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 3), 0, 2.7)]);
    const next = Number(/#(\d+)=[^#]*\n?ENDSEC/.exec(draft.text())?.[1] ?? 0) || draft.add('IFCDIRECTION((1.,0.,0.))');
    const at = draft.add(`IFCLOCALPLACEMENT(#${next + 500},#${draft.axes([0, 0, 0])})`);
    const lines = [
      `#${next + 500}=IFCLOCALPLACEMENT(#${at},#${draft.axes([1, 0, 0])})`,
      `#${next + 600}=IFCBOOLEANRESULT(.UNION.,#${next + 600},#${next + 600})`,
      `#${next + 700}=IFCCOMPOSITECURVE((#${next + 701},#${next + 701}),.F.)`,
      `#${next + 701}=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#${next + 700})`,
      `#${next + 800}=IFCREPRESENTATIONMAP(#${draft.axes([0, 0, 0])},#${next + 801})`,
      `#${next + 801}=IFCSHAPEREPRESENTATION(#${draft.context},'Body','MappedRepresentation',(#${next + 802}))`,
      `#${next + 802}=IFCMAPPEDITEM(#${next + 800},#${next + 803})`,
      `#${next + 803}=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#${draft.point([0, 0, 0])},1.,$)`,
    ];
    draft.contain(draft.ground.id, [
      draft.product('IFCWALL', 'In a circle', at, draft.shape([draft.block(rectangle(0, 0, 1, 1), 0, 1)]), '$'),
    ]);
    draft.element('IFCWALL', 'Of itself', [next + 600]);
    const profile = draft.add(`IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#${next + 700})`);
    draft.element('IFCWALL', 'Curve of itself', [draft.extrude(profile, 3)]);
    draft.element('IFCWALL', 'Map of itself', [next + 802]);
    const [a, b] = [draft.element('IFCWALL', 'Part and whole', []), draft.element('IFCWALL', 'Whole and part', [])];
    draft.relate('IFCRELAGGREGATES', a, [b]);
    draft.relate('IFCRELAGGREGATES', b, [a]);
    const text = draft.text().replace('\nENDSEC;\nEND-ISO', `\n${lines.join(';\n')};\nENDSEC;\nEND-ISO`);
    const { storeys, remarks } = await readModel(text);
    dropEngine();
    const all = [...remarks, ...storeys.flatMap((storey) => storey.remarks)];
    expect(storeys.flatMap(({ rooms }) => rooms)).toHaveLength(1);
    expect(saying(all, /refers to itself in a circle/).length).toBeGreaterThan(0);
    const names = all.filter(({ fate }) => fate === 'left out').flatMap(({ places }) => places.map(({ name }) => name));
    expect(names).toEqual(expect.arrayContaining(['In a circle', 'Of itself', 'Curve of itself', 'Map of itself']));
  });

  test('references to nothing, wrong types, broken statements', async () => {
    const draft = draftIfc();
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 3), 0, 2.7)]);
    draft.element('IFCWALL', 'Missing body', [99_999]);
    draft.element('IFCWALL', 'Wrong body', [draft.project]);
    draft.contain(77_777, [88_888]);
    draft.add("IFCWALL('x',$,'Half',$,$,'not a placement',(((((((1,2)))))))");
    draft.add('IFCWALL()');
    const text = draft
      .text()
      .replace(
        '\nENDSEC;\nEND-ISO',
        '\nrubbish here;\n#=IFCWALL();\n#12abc;\n#77=;\n#78=(IFCA()IFCB());\nENDSEC;\nEND-ISO',
      );
    const { storeys, remarks } = await readModel(text);
    dropEngine();
    expect(storeys.flatMap(({ rooms }) => rooms)).toHaveLength(1);
    expect(saying(remarks, /first lies in line \d+/)).toHaveLength(1);
  });

  test('a lost quote and a lost semicolon cost their statements, not the rest', async () => {
    const draft = draftIfc();
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 3), 0, 2.7)]);
    draft.element('IFCWALL', 'Quoteless', [draft.block(rectangle(0, 3, 4, 0.2), 0, 2.7)]);
    draft.add('IFCDIRECTION((1.,0.,0.))');
    draft.space('2', 'Hall', [draft.block(rectangle(4, 0, 4, 3), 0, 2.7)]);
    const text = draft
      .text()
      .replace("'Quoteless'", "'Quoteless")
      .replace('IFCDIRECTION((1.,0.,0.));', 'IFCDIRECTION((1.,0.,0.))');
    const { storeys, remarks } = await readModel(text);
    expect(storeys[0]!.rooms.map(({ name }) => name)).toEqual(['Office 1', 'Hall 2']);
    expect(saying(remarks, /first lies in line \d+/)[0]).toMatchObject({ fate: 'left out', count: 2 });
  });

  test('a byte over 0x7f as the very last one', async () => {
    const bytes = toBytes(simple());
    for (const extra of [1, 2, 3, 4]) {
      const more = new Uint8Array(bytes.length + extra).fill(0x20);
      more.set(bytes);
      more[more.length - 1] = 0xe9;
      expect((await readModel(more)).storeys[0]!.rooms).toHaveLength(1);
    }
  });

  test('coordinates at 1e12, and numbers that are none', async () => {
    const draft = draftIfc();
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 3), 0, 2.7)]);
    draft.space('2', 'Hall', [draft.block(rectangle(4, 0, 4, 3), 0, 2.7)]);
    draft.element('IFCWALL', 'Far', [draft.block(rectangle(1e12, 1e12, 4, 0.2), 0, 2.7)]);
    draft.element('IFCWALL', 'High', [draft.block(rectangle(0, 0, 4, 0.2), 1e12, 1e12 + 3)]);
    draft.element('IFCWALL', 'Endless', [draft.block(rectangle(0, 0, 1e300 * 10, 0.2), 0, 3)]);
    const { storeys, remarks } = await readModel(draft.text().replaceAll('1E+300', '1E+999'));
    const all = [...remarks, ...storeys.flatMap((storey) => storey.remarks)];
    expect(storeys.flatMap(({ rooms }) => rooms)).toHaveLength(2);
    expect(saying(all, /things far off/)[0]?.places.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['Far', 'High']),
    );
    for (const { walls } of storeys) {
      for (const each of walls)
        if (each.kind === 'footprint') expect(each.outline.flat().every((value) => Math.abs(value) < 1e4)).toBe(true);
    }
  });

  test('a million statements that mean nothing', async () => {
    const lines = Array.from({ length: 1_000_000 }, (_, i) => `#${1_000_000 + i}=IFCCARTESIANPOINT((${i}.,0.,0.));`);
    const text = simple().replace('\nENDSEC;\nEND-ISO', `\n${lines.join('\n')}\nENDSEC;\nEND-ISO`);
    expect((await readStorey(text)).rooms).toHaveLength(1);
  });

  test('ids far apart', async () => {
    const text = simple().replaceAll(/#(\d+)/g, (_, id: string) => `#${Number(id) * 10_000_019}`);
    expect((await readStorey(text)).rooms).toHaveLength(1);
  });
});

describe('names', () => {
  const named = (bytes: readonly number[]): Uint8Array => {
    const [before, after] = simple().split('Office') as [string, string];
    return Uint8Array.from([...toBytes(before), ...bytes, ...toBytes(after)]);
  };
  test.each([
    ['UTF-8', [...toBytes('会議室')], '会議室 1', undefined],
    // 会議室 in Shift-JIS.
    ['Shift-JIS', [0x89, 0xef, 0x8b, 0x63, 0x8e, 0xba], '会議室 1', 'shift_jis'],
    // Büro in the code page of western Europe.
    ['windows-1252', [0x42, 0xfc, 0x72, 0x6f], 'Büro 1', 'windows-1252'],
    ['escapes', [...toBytes("B\\X\\FCro \\X2\\4F1A8B70\\X0\\ \\S\\d ''x''")], "Büro 会議 ä 'x' 1", undefined],
  ] as const)('%s', async (_, bytes, name, told) => {
    const { storeys, remarks } = await readModel(named(bytes));
    expect(storeys[0]!.rooms[0]!.name).toBe(name);
    expect(saying(remarks, /code page/).map(({ reason }) => told !== undefined && reason.includes(told))).toEqual(
      told === undefined ? [] : [true],
    );
  });
});

describe('the geometry engine', () => {
  const curved = (): string => {
    const draft = draftIfc();
    const profile = draft.add('IFCRECTANGLEPROFILEDEF(.AREA.,$,$,2.,3.)');
    const axis = draft.add(`IFCAXIS1PLACEMENT(#${draft.point([5, 0, 0])},#${draft.direction([0, 1, 0])})`);
    const turned = draft.add(`IFCREVOLVEDAREASOLID(#${profile},#${draft.axes([0, 0, 0])},#${axis},1.)`);
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 3), 0, 2.7)]);
    draft.element('IFCWALL', 'Curved', [turned]);
    return draft.text();
  };

  test.each([
    ['that cannot be loaded', () => Promise.reject(new Error('no wasm'))],
    ['that ends itself', () => Promise.resolve(endingEngine)],
  ] as const)('%s: the rest is read, what needed it is told', async (_, ifcApi) => {
    const read = await readIfc(toBytes(curved()), { ifcApi });
    if (!read.ok) throw new Error(read.reason);
    expect(areaOf(read.storeys[0]!.rooms[0]!)).toBeCloseTo(12, 9);
    expect(saying(read.remarks, /geometry engine/)).toMatchObject([
      { fate: 'left out', count: 1, places: [{ name: 'Curved' }] },
    ]);
  });
});
