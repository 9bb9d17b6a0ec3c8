/** Reads the sections of a DXF file into a drawing. */
import type { OnProgress, Refusal } from '../storey.ts';
import { type Block, type Drawing, type Entity, keyOf, type Layer, type Words } from './drawing.ts';
import { isUnderstood, makeEntity, polyline, type Vertex } from './entities.ts';
import { Fields } from './fields.ts';
import { type GroupReader, openGroups } from './groups.ts';
import { IDENTITY, mapOfExtrusion } from './plane.ts';
import { createRemarks, type Remarks } from './remarks.ts';
import { refuse, sniffDxf } from './sniff.ts';
import { decodeEscapes, openTexts, type TextReader } from './words.ts';

/** More entities than this are not kept: they would not fit into the memory of a browser tab. */
const MOST_ENTITIES = 1_000_000;
/** Groups between two words on progress. */
const PROGRESS_GROUPS = 200_000;

/** The drawing in some bytes, or why there is none. Time and memory grow with the number of bytes and no faster. */
export function readDrawing(bytes: Uint8Array, onProgress: OnProgress): Drawing | Refusal {
  const form = sniffDxf(bytes);
  if (typeof form !== 'string') return form;
  return new Reading(openGroups(bytes, form), onProgress).read();
}

class Reading {
  private readonly reader: GroupReader;
  private readonly onProgress: OnProgress;
  private readonly remarks: Remarks = createRemarks();
  private readonly fields = new Fields();
  private readonly layers = new Map<string, Layer>();
  private readonly blocks = new Map<string, Block>();
  private readonly entities: Entity[] = [];
  private readonly counts = new Map<string, number>();
  private readonly names = new Map<string, string>();
  /** Block records of dynamic blocks: their own name, and the handle of the block they were made of. */
  private readonly records = new Map<string, string>();
  private readonly madeOf = new Map<string, string>();
  private texts: TextReader = openTexts('', '');
  private version = '';
  private insUnits: number | null = null;
  private measurement: number | null = null;
  private lengthUnits: number | null = null;
  private kept = 0;
  private groups = 0;
  private sections = 0;
  private ended = false;

  constructor(reader: GroupReader, onProgress: OnProgress) {
    this.reader = reader;
    this.onProgress = onProgress;
  }

  read(): Drawing | Refusal {
    const { reader } = this;
    while (!this.ended && this.next()) {
      if (reader.code !== 0) continue;
      const name = reader.name();
      if (name === 'EOF') this.ended = true;
      else if (name === 'SECTION') this.readSection();
    }
    if (this.sections === 0)
      return refuse(
        reader.fault === null
          ? 'This text has no section of a DXF drawing.'
          : `This is no DXF drawing: ${reader.fault}.`,
        'Save the drawing as DXF (any version from R12 to 2018, text or binary) and choose that file.',
      );
    if (reader.fault !== null)
      this.remarks.add('left out', 'the end of the file', `${reader.fault}; what stands before it was read`);
    else if (!this.ended)
      this.remarks.add(
        'left out',
        'the end of the file',
        `the file ends at ${reader.where()} without its end mark (EOF); what stands before it was read`,
      );
    return {
      version: this.version,
      encoding: this.texts.name,
      insUnits: this.insUnits,
      measurement: this.measurement,
      lengthUnits: this.lengthUnits,
      layers: this.layers,
      blocks: this.blocks,
      entities: this.entities,
      counts: this.counts,
      remarks: this.remarks.list(),
    };
  }

  private next(): boolean {
    if (++this.groups % PROGRESS_GROUPS === 0) this.onProgress(this.reader.share() * 0.6, 'Reading the drawing');
    return this.reader.next();
  }

  private readSection(): void {
    if (!this.next()) return;
    this.sections++;
    const name = this.reader.code === 2 ? this.reader.name() : '';
    if (name === 'HEADER') this.readHeader();
    else if (name === 'TABLES') this.readTables();
    else if (name === 'BLOCKS') this.readBlocks();
    else if (name === 'ENTITIES') {
      if (this.next()) this.readEntities(this.entities, 'ENDSEC');
    } else this.skipTo('ENDSEC');
  }

  /** Goes on to a mark of code 0. */
  private skipTo(mark: string): void {
    while (this.next()) {
      if (this.reader.code !== 0) continue;
      const name = this.reader.name();
      if (name === mark) return;
      if (name === 'EOF') {
        this.ended = true;
        return;
      }
    }
  }

  private readHeader(): void {
    const { reader } = this;
    let variable = '';
    let page = '';
    while (this.next()) {
      const { code } = reader;
      if (code === 0) break;
      if (code === 9) variable = reader.name();
      else if (variable === '$ACADVER' && code === 1) this.version = reader.name().trim();
      else if (variable === '$DWGCODEPAGE' && code === 3) page = reader.name().trim();
      else if (code === 70) {
        const value = reader.number();
        if (!Number.isFinite(value)) continue;
        if (variable === '$INSUNITS') this.insUnits = value;
        else if (variable === '$MEASUREMENT') this.measurement = value;
        else if (variable === '$LUNITS') this.lengthUnits = value;
      }
    }
    this.texts = openTexts(this.version, page);
  }

  private readTables(): void {
    const { reader } = this;
    let table = '';
    let name = '';
    let handle = '';
    let flags = 0;
    let color = 7;
    let original = '';
    const finish = (): void => {
      if (table === 'LAYER' && name !== '')
        this.layers.set(keyOf(name), { name, hidden: (flags & 1) === 1 || color < 0 });
      if (table === 'BLOCK_RECORD' && name !== '') {
        this.records.set(handle, name);
        if (original !== '' && original !== handle) this.madeOf.set(keyOf(name), original);
      }
      name = '';
      handle = '';
      flags = 0;
      color = 7;
      original = '';
    };
    while (this.next()) {
      const { code } = reader;
      if (code === 0) {
        finish();
        table = reader.name();
        if (table === 'ENDSEC') return;
        if (table === 'EOF') {
          this.ended = true;
          return;
        }
      } else if (code === 2) name = this.decodeName(reader.name());
      else if (code === 5) handle = reader.name();
      else if (code === 70) flags = reader.number();
      else if (code === 62) color = reader.number();
      else if (code === 1005) original = reader.name();
    }
  }

  private readBlocks(): void {
    const { reader } = this;
    if (!this.next()) return;
    for (;;) {
      if (reader.code !== 0) {
        if (!this.next()) return;
        continue;
      }
      const mark = reader.name();
      if (mark === 'ENDSEC') return;
      if (mark === 'EOF') {
        this.ended = true;
        return;
      }
      if (mark !== 'BLOCK') {
        if (!this.next()) return;
        continue;
      }
      if (!this.readBlock()) return;
    }
  }

  /** One block with its entities; the reader ends at the group after it. */
  private readBlock(): boolean {
    const { reader } = this;
    let name = '';
    let baseX = 0;
    let baseY = 0;
    let flags = 0;
    let outside = '';
    while (this.next() && reader.code !== 0) {
      const { code } = reader;
      if (code === 2) name = this.decodeName(reader.name());
      else if (code === 10) baseX = finite(reader.number());
      else if (code === 20) baseY = finite(reader.number());
      else if (code === 70) flags = reader.number();
      else if (code === 1) outside = this.texts.read(reader.bytes());
    }
    const title = this.titleOf(name);
    const block: Block = { name, title, baseX, baseY, entities: [], outside: (flags & 4) === 4 ? outside || name : '' };
    // Of two blocks with one name the first counts, as in the programs that write them.
    if (!this.blocks.has(keyOf(name))) this.blocks.set(keyOf(name), block);
    if (reader.code !== 0) return false;
    return this.readEntities(block.entities, 'ENDBLK');
  }

  /** Entities up to a mark. The reader stands at the first one's group 0, and in the end at the mark or behind the file. */
  private readEntities(into: Entity[], mark: string): boolean {
    const { reader, fields } = this;
    for (;;) {
      const name = reader.name();
      if (name === mark || name === 'ENDSEC' || name === 'EOF') {
        if (name === 'EOF') this.ended = true;
        return name === mark;
      }
      this.counts.set(name, (this.counts.get(name) ?? 0) + 1);
      if (name === 'POLYLINE') {
        if (!this.readPolyline(into)) return false;
        continue;
      }
      if (!isUnderstood(name)) {
        do {
          if (!this.next()) return false;
        } while (reader.code !== 0);
        continue;
      }
      fields.begin(name, reader.where());
      const more = this.gather();
      if (this.isUsable()) {
        for (const entity of makeEntity(fields, this.makingOf())) this.keep(into, entity);
      }
      if (!more) return false;
    }
  }

  /** Takes the groups of one entity in, up to the next group 0; false at the end of the file. */
  private gather(): boolean {
    const { reader, fields } = this;
    while (this.next()) {
      if (reader.code === 0) return true;
      fields.take(reader);
    }
    // The last entity of a file that was cut off may be cut off itself.
    fields.broken = fields.where;
    return false;
  }

  private isUsable(): boolean {
    const { fields, remarks } = this;
    if (fields.paper) remarks.add('left out', 'entities in paper space', 'sheets are not read, only the model itself');
    else if (fields.invisible) remarks.add('left out', 'invisible entities', 'they are not to be seen in the drawing');
    else if (fields.broken !== '')
      remarks.add('left out', 'broken entities', 'a number in them cannot be read, or they are cut off', {
        key: fields.handle,
        name: `${fields.entity} at ${fields.where}, fault at ${fields.broken}`,
        at: null,
      });
    else return true;
    return false;
  }

  private makingOf() {
    const { fields, texts } = this;
    const handle = fields.handle === '' ? `#${this.kept}` : fields.handle;
    return { layer: this.decodeName(fields.layer), handle, decode: (bytes: Uint8Array) => texts.read(bytes) };
  }

  private keep(into: Entity[], entity: Entity): void {
    if (++this.kept > MOST_ENTITIES) {
      this.remarks.add('left out', 'entities', `a drawing may hold ${MOST_ENTITIES.toLocaleString('en')} of them`);
      return;
    }
    const words = this.lastInsertWords;
    if (entity.kind === 'words' && words !== null && this.fields.entity === 'ATTRIB') words.push(entity);
    else into.push(entity);
    if (entity.kind === 'insert') this.lastInsertWords = entity.words as Words[];
  }
  private lastInsertWords: Words[] | null = null;

  /** An old polyline: a head, vertices, and an end mark. */
  private readPolyline(into: Entity[]): boolean {
    const { reader, fields } = this;
    fields.begin('POLYLINE', reader.where());
    let more = this.gather();
    const making = this.makingOf();
    const usable = this.isUsable();
    const flags = fields.get(70, 0);
    const width = fields.get(40, 0);
    // 3D lines (8) are written in the drawing's own axes; meshes (16, 64) are no lines of a plan.
    const isMesh = (flags & (16 | 64)) !== 0;
    const map =
      (flags & 8) !== 0
        ? IDENTITY
        : mapOfExtrusion(fields.get(210, 0), fields.get(220, 0), fields.get(230, 1), fields.get(30, 0));
    const head = { thickness: fields.get(39, 0) };
    const vertices: Vertex[] = [];
    let broken = false;
    while (more) {
      const name = reader.name();
      if (name !== 'VERTEX' && name !== 'SEQEND') break;
      fields.begin(name, reader.where());
      more = this.gather();
      if (name === 'SEQEND') break;
      broken ||= fields.broken !== '';
      const isFrame = (fields.get(70, 0) & 16) !== 0;
      if (!isFrame)
        vertices.push({
          x: fields.get(10, 0),
          y: fields.get(20, 0),
          bulge: fields.get(42, 0),
          width: fields.get(40, width),
        });
    }
    fields.begin('POLYLINE', fields.where);
    if (isMesh) this.remarks.add('left out', 'meshes', 'surfaces in space are no lines of a plan');
    else if (broken)
      this.remarks.add('left out', 'broken entities', 'a number in them cannot be read, or they are cut off', {
        key: making.handle,
        name: 'POLYLINE',
        at: null,
      });
    else if (usable && vertices.length > 0) {
      if (head.thickness !== 0) {
        fields.codes[0] = 39;
        fields.values[0] = head.thickness;
        fields.count = 1;
      }
      this.keep(into, polyline(fields, making, vertices, (flags & 1) === 1, map));
    }
    return more;
  }

  /** A layer's or block's name in characters; each is decoded once. */
  private decodeName(raw: string): string {
    let name = this.names.get(raw);
    if (name === undefined) {
      name = decodeEscapes(this.texts.read(Uint8Array.from(raw, (character) => character.charCodeAt(0)))).trim();
      this.names.set(raw, name);
    }
    return name;
  }

  /** What a dynamic block's unnamed copy was made of; its own name otherwise. */
  private titleOf(block: string): string {
    const original = this.madeOf.get(keyOf(block));
    return (original === undefined ? undefined : this.records.get(original)) ?? block;
  }
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : 0;
}
