/**
 * Lighting energy that depends on people being there, after EN 15193 (2007; 2017 keeps the structure). The formulas
 * are from memory and were held against their own continuity only: what comes out is an estimate.
 */
import type { Sourced } from '../sourced.ts';

/** How a group is controlled, and the occupancy-dependent factor F_OC of each way (EN 15193, from memory). */
export const CONTROL_FACTORS = {
  'by hand': 1,
  'by hand, swept off': 0.95,
  'by itself, dimmed': 0.95,
  'by itself, off': 0.9,
  'on by hand, dimmed by itself': 0.9,
  'on by hand, off by itself': 0.8,
} as const;

export type Control = keyof typeof CONTROL_FACTORS;

/** Hours of a year. */
const YEAR = 8760;

/** Defaults where nothing is known, kWh a m² and year (EN 15193:2017, from memory). */
export const STANDBY_DEFAULTS: { readonly [Part in 'emergency' | 'control']: Sourced<number> } = {
  emergency: { value: 1, source: 'EN 15193:2017, charging of emergency luminaires', standing: 'memory' },
  control: { value: 1.5, source: 'EN 15193:2017, standby of the control', standing: 'memory' },
};

/**
 * F_O: the share of the installed power's hours left by occupancy control.
 * @param absence F_A, share of the hours of use in which nobody is there, 0 to 1
 * @param control F_OC, 0.7 to 1
 */
export function occupancyFactor(absence: number, control: number): number {
  if (absence < 0.2) return 1 - ((1 - control) * absence) / 0.2;
  if (absence < 0.9) return control + 0.2 - absence;
  // At full absence the product is −0.
  return Math.max(0, (7 - 10 * control) * (absence - 1));
}

export interface LightingLoad {
  /** Installed power, W. */
  readonly watts: number;
  /** F_C, for constant light over the life of the lamps. */
  readonly constant: number;
  /** F_O. */
  readonly occupancy: number;
  /** F_D. */
  readonly daylight: number;
  /** Hours of use a year, by day and by night. */
  readonly day: number;
  readonly night: number;
}

/** W_L = P · F_C · F_O · (t_D · F_D + t_N) / 1000: kWh a year. F_C acts by day and by night. */
export function lightingEnergy({ watts, constant, occupancy, daylight, day, night }: LightingLoad): number {
  return (watts * constant * occupancy * (day * daylight + night)) / 1000;
}

/** What controls draw while the light is not used: kWh a m² and year, from W a m² and hours of use. */
export function standbyEnergy(wattsPerM2: number, hours: number): number {
  return (wattsPerM2 * (YEAR - hours)) / 1000;
}

/** LENI: kWh a m² and year. */
export function leni(lightingKwh: number, standbyKwhPerM2: number, areaM2: number): number {
  return lightingKwh / areaM2 + standbyKwhPerM2;
}
