/** Two states of a floor on one plane: what has gone blind, what stays blind, what is seen at last. */
import type { Coverage, PlaneName } from '../../coverage/index.ts';
import { BLIND, SEEN } from '../../coverage/index.ts';
import type { Lattice } from '../../sight/index.ts';

/** Codes of a cell; `SAME` covers cells seen in both states and those where nobody can be now. */
export const SAME = 0;
export const BLIND_NOW = 1;
export const BLIND_STILL = 2;
export const SEEN_NOW = 3;

export interface Difference {
  readonly plane: PlaneName;
  readonly height: number;
  /** Of the newer state. */
  readonly lattice: Lattice;
  /** A code per cell of the newer state, `codes[j * nx + i]`. */
  readonly codes: Uint8Array;
  /** Square metres of each code. */
  readonly areaM2: { readonly blindNow: number; readonly blindStill: number; readonly seenNow: number };
}

/** Compares cell by cell; a cell of the newer state is held against the older cell that holds its centre. */
export function computeDifference(old: Coverage, now: Coverage, plane: PlaneName): Difference {
  const { lattice } = now.grid;
  const before = old.grid.lattice;
  const [was, is] = [old[plane].state, now[plane].state];
  const codes = new Uint8Array(lattice.nx * lattice.ny);
  const counts = [0, 0, 0, 0];
  for (let j = 0; j < lattice.ny; j++) {
    const y = lattice.y0 + (j + 0.5) * lattice.cell;
    const jb = Math.floor((y - before.y0) / before.cell);
    for (let i = 0; i < lattice.nx; i++) {
      const k = j * lattice.nx + i;
      const state = is[k]!;
      if (state !== BLIND && state !== SEEN) continue;
      const ib = Math.floor((lattice.x0 + (i + 0.5) * lattice.cell - before.x0) / before.cell);
      const holds = ib >= 0 && jb >= 0 && ib < before.nx && jb < before.ny;
      const wasBlind = holds && was[jb * before.nx + ib] === BLIND;
      const code = state === BLIND ? (wasBlind ? BLIND_STILL : BLIND_NOW) : wasBlind ? SEEN_NOW : SAME;
      codes[k] = code;
      counts[code] = counts[code]! + 1;
    }
  }
  const area = (code: number) => Math.round(counts[code]! * lattice.cell * lattice.cell * 1e10) / 1e10;
  return {
    plane,
    height: now[plane].height,
    lattice,
    codes,
    areaM2: { blindNow: area(BLIND_NOW), blindStill: area(BLIND_STILL), seenNow: area(SEEN_NOW) },
  };
}
