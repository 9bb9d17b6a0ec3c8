/** Many small quads as one draw call: numbers per instance in one growing array, written anew and flushed. */
import {
  DynamicDrawUsage,
  Float32BufferAttribute,
  InstancedBufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  Mesh,
  type ShaderMaterial,
} from 'three';

export class InstanceBatch {
  readonly mesh: Mesh<InstancedBufferGeometry, ShaderMaterial>;
  protected data: Float32Array;
  readonly stride: number;
  private readonly layout: readonly (readonly [string, number])[];
  private count = 0;
  private buffer: InstancedInterleavedBuffer | null = null;
  /** Counts up whenever what is drawn has changed. */
  version = 0;
  private readonly changes: (readonly [first: number, count: number])[] = [];

  /**
   * @param corners x, y of the quad's four corners, counter-clockwise
   * @param layout names and sizes of the instance attributes, in the order in which they lie in the array
   */
  constructor(
    material: ShaderMaterial,
    renderOrder: number,
    corners: readonly number[],
    layout: readonly (readonly [string, number])[],
  ) {
    const geometry = new InstancedBufferGeometry();
    const [ax = 0, ay = 0, bx = 0, by = 0, cx = 0, cy = 0, dx = 0, dy = 0] = corners;
    geometry.setAttribute('position', new Float32BufferAttribute([ax, ay, 0, bx, by, 0, cx, cy, 0, dx, dy, 0], 3));
    geometry.setIndex([0, 1, 2, 0, 2, 3]);
    geometry.instanceCount = 0;
    this.mesh = new Mesh(geometry, material);
    this.mesh.frustumCulled = false;
    // Who draws without WebGL reads the numbers themselves.
    this.mesh.userData.batch = this;
    this.mesh.renderOrder = renderOrder;
    this.mesh.visible = false;
    this.layout = layout;
    this.stride = layout.reduce((sum, [, size]) => sum + size, 0);
    this.data = new Float32Array(this.stride * 32);
  }

  /** The numbers of all instances, `stride` to each. */
  get numbers(): Float32Array {
    return this.data;
  }

  get length(): number {
    return this.count;
  }

  clear(): void {
    this.count = 0;
  }

  /** Makes room for one more instance and says where its numbers begin. */
  protected reserve(): number {
    const at = this.count * this.stride;
    this.makeRoom(this.count + 1);
    this.count++;
    return at;
  }

  private makeRoom(count: number): void {
    if (count * this.stride <= this.data.length) return;
    const grown = new Float32Array(Math.max(this.data.length * 2, count * this.stride));
    grown.set(this.data);
    this.data = grown;
  }

  /** Copies all instances of a batch of the same kind over those from `first` on. */
  overwrite(first: number, from: InstanceBatch): void {
    this.count = Math.max(this.count, first + from.count);
    this.makeRoom(this.count);
    this.data.set(from.data.subarray(0, from.count * this.stride), first * this.stride);
    this.changes.push([first, from.count]);
  }

  /** Makes some instances nothing. */
  wipe(first: number, count: number): void {
    this.data.fill(0, first * this.stride, (first + count) * this.stride);
    this.changes.push([first, count]);
  }

  /** Makes what was overwritten and wiped what is drawn; the rest is on the card already. */
  flushChanges(): void {
    const { buffer, changes, stride } = this;
    if (buffer === null || buffer.array !== this.data) {
      this.flush();
      return;
    }
    for (const [first, count] of changes) if (count > 0) buffer.addUpdateRange(first * stride, count * stride);
    changes.length = 0;
    buffer.needsUpdate = true;
    this.show();
  }

  /** Makes what was added what is drawn. */
  flush(): void {
    const { geometry } = this.mesh;
    this.changes.length = 0;
    if (this.buffer === null || this.buffer.array !== this.data) {
      // Takes the old array off the card; attributes over the grown one are new.
      geometry.dispose();
      this.buffer = new InstancedInterleavedBuffer(this.data, this.stride);
      this.buffer.setUsage(DynamicDrawUsage);
      let offset = 0;
      for (const [name, size] of this.layout) {
        geometry.setAttribute(name, new InterleavedBufferAttribute(this.buffer, size, offset));
        offset += size;
      }
    }
    this.buffer.clearUpdateRanges();
    this.buffer.addUpdateRange(0, this.count * this.stride);
    this.buffer.needsUpdate = true;
    this.show();
  }

  private show(): void {
    this.version += 1;
    this.mesh.geometry.instanceCount = this.count;
    this.mesh.visible = this.count > 0;
  }

  dispose(): void {
    this.mesh.geometry.dispose();
  }
}
