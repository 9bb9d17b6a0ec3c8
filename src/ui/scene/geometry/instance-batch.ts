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
  private readonly stride: number;
  private readonly layout: readonly (readonly [string, number])[];
  private count = 0;
  private buffer: InstancedInterleavedBuffer | null = null;

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
    this.mesh.renderOrder = renderOrder;
    this.mesh.visible = false;
    this.layout = layout;
    this.stride = layout.reduce((sum, [, size]) => sum + size, 0);
    this.data = new Float32Array(this.stride * 32);
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
    if (at + this.stride > this.data.length) {
      const grown = new Float32Array(this.data.length * 2);
      grown.set(this.data);
      this.data = grown;
    }
    this.count++;
    return at;
  }

  /** Makes what was added what is drawn. */
  flush(): void {
    const { geometry } = this.mesh;
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
    geometry.instanceCount = this.count;
    this.mesh.visible = this.count > 0;
  }

  dispose(): void {
    this.mesh.geometry.dispose();
  }
}
