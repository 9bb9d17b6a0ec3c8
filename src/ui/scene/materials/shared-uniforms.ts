/** Uniforms every material of the scene reads. One object, so a change of theme or camera is written once. */
import { Vector2, Vector3 } from 'three';
import type { Theme } from '../../../editor/store.ts';
import { PALETTES } from '../../tokens.ts';
import { COLOUR_COUNT, listAmounts, listColours, listRamp, RAMP_STEPS } from '../paint.ts';

interface Uniform<Value> {
  value: Value;
}

export interface SharedUniforms {
  readonly palette: Uniform<Vector3[]>;
  /** Paper to ink. */
  readonly ramp: Uniform<Vector3[]>;
  /** Tone of a height: x + y * (height / ceiling) ** 2.2. */
  readonly tone: Uniform<Vector2>;
  readonly amounts: Uniform<Vector3[]>;
  /** Size of the canvas, CSS px. */
  readonly viewport: Uniform<Vector2>;
  /** Device px per CSS px. */
  readonly dpr: Uniform<number>;
  /** CSS px per metre where the camera looks at the floor; exact everywhere in plan. */
  readonly pxPerMetre: Uniform<number>;
  /** Height at which walls are cut, metres. */
  readonly cut: Uniform<number>;
  /** 0 in plan, 1 in model and walk, between while the plan leans up. */
  readonly lean: Uniform<number>;
  /** 1 on a walk. */
  readonly walk: Uniform<number>;
}

const vectors = (count: number): Vector3[] => Array.from({ length: count }, () => new Vector3());

export function createSharedUniforms(): SharedUniforms {
  return {
    palette: { value: vectors(COLOUR_COUNT) },
    ramp: { value: vectors(RAMP_STEPS) },
    tone: { value: new Vector2() },
    amounts: { value: vectors(5) },
    viewport: { value: new Vector2(1, 1) },
    dpr: { value: 1 },
    pxPerMetre: { value: 1 },
    cut: { value: 1 },
    lean: { value: 0 },
    walk: { value: 0 },
  };
}

/** Writes a theme's colours into the uniforms. */
export function paintUniforms(uniforms: SharedUniforms, theme: Theme): void {
  const write = (into: readonly Vector3[], flat: readonly number[]) => {
    into.forEach((vector, i) => {
      vector.fromArray(flat as number[], 3 * i);
    });
  };
  write(uniforms.palette.value, listColours(theme));
  write(uniforms.ramp.value, listRamp(theme));
  write(uniforms.amounts.value, listAmounts(theme));
  const { base, span } = PALETTES[theme].tone;
  uniforms.tone.value.set(base, span);
}
