/** The formulas of EN 15193 against values worked out by hand from the same text (from memory), and their continuity. */
import { describe, expect, test } from 'vitest';
import {
  CONTROL_FACTORS,
  type Control,
  leni,
  lightingEnergy,
  occupancyFactor,
  standbyEnergy,
} from '../../../../src/core/planning/settings/energy.ts';

const HOURS = { day: 2250, night: 250 };

/** kWh a year of a room at so many W/m². */
function energyOf(areaM2: number, wattsPerM2: number, absence: number, daylight: number, control: Control): number {
  const occupancy = occupancyFactor(absence, CONTROL_FACTORS[control]);
  return lightingEnergy({ watts: areaM2 * wattsPerM2, constant: 1, occupancy, daylight, ...HOURS });
}

describe('the occupancy factor', () => {
  test.each([
    [0.4, 0.8, 0.6],
    [0.1, 0.9, 0.95],
    [0.98, 0.9, 0.04],
  ])('at absence %d and control %d is %d', (absence, control, expected) => {
    expect(occupancyFactor(absence, control)).toBeCloseTo(expected, 12);
  });

  test.each([
    [1, [1, 1, 1, 0.9, 0.8, 0.7, 0.6, 0.4, 0.3, 0.06, 0]],
    [0.95, [1, 0.975, 0.95, 0.85, 0.75, 0.65, 0.55, 0.35, 0.25, 0.05, 0]],
    [0.9, [1, 0.95, 0.9, 0.8, 0.7, 0.6, 0.5, 0.3, 0.2, 0.04, 0]],
    [0.8, [1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.2, 0.1, 0.02, 0]],
  ] as const)('at control %d follows its table', (control, row) => {
    const absences = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 0.9, 0.98, 1];
    row.forEach((expected, k) => {
      expect(occupancyFactor(absences[k] ?? Number.NaN, control)).toBeCloseTo(expected, 12);
    });
  });

  test('does not jump where its pieces meet, and ends at a true zero', () => {
    for (const control of Object.values(CONTROL_FACTORS)) {
      expect(occupancyFactor(0.9 - 1e-12, control)).toBeCloseTo(control - 0.7, 9);
      expect(occupancyFactor(0.9, control)).toBeCloseTo(control - 0.7, 9);
      expect(occupancyFactor(0.2 - 1e-12, control)).toBeCloseTo(occupancyFactor(0.2, control), 9);
      expect(Object.is(occupancyFactor(1, control), 0)).toBe(true);
    }
  });
});

describe('worked examples', () => {
  test('a cellular office: 315.36 kWh by hand, 236.52 switched off by itself, LENI 15.64 and 19.14', () => {
    expect(energyOf(18, 12, 0.4, 0.7, 'by hand')).toBeCloseTo(315.36, 6);
    const kwh = energyOf(18, 12, 0.4, 0.7, 'on by hand, off by itself');
    expect(kwh).toBeCloseTo(236.52, 6);
    expect(leni(kwh, 2.5, 18)).toBeCloseTo(15.64, 6);
    expect(leni(kwh, 6, 18)).toBeCloseTo(19.14, 6);
  });

  test('a corridor: 600 kWh by hand, 562.5 dimmed by itself', () => {
    expect(energyOf(60, 5, 0.4, 1, 'by hand')).toBeCloseTo(600, 6);
    expect(energyOf(60, 5, 0.4, 1, 'by itself, dimmed')).toBeCloseTo(562.5, 6);
  });

  test('a toilet: 120 kWh by hand, 80 by itself', () => {
    expect(energyOf(20, 8, 0.9, 1, 'by hand')).toBeCloseTo(120, 6);
    expect(energyOf(20, 8, 0.9, 1, 'by itself, off')).toBeCloseTo(80, 6);
  });

  test('a floor of 700 m²: 10,693.2 kWh against 12,190.0, 12.279 % saved', () => {
    const rooms: readonly [number, number, number, number, Control, number][] = [
      [400, 10, 0.2, 0.8, 'by itself, off', 7380],
      [90, 12, 0.4, 0.7, 'on by hand, off by itself', 1182.6],
      [60, 12, 0.5, 0.8, 'by itself, off', 885.6],
      [120, 5, 0.4, 1, 'by itself, dimmed', 1125],
      [30, 8, 0.9, 1, 'by itself, off', 120],
    ];
    let controlled = 0;
    let byHand = 0;
    for (const [area, watts, absence, daylight, control, expected] of rooms) {
      const kwh = energyOf(area, watts, absence, daylight, control);
      expect(kwh).toBeCloseTo(expected, 6);
      controlled += kwh;
      byHand += energyOf(area, watts, absence, daylight, 'by hand');
    }
    expect(controlled).toBeCloseTo(10_693.2, 6);
    expect(byHand).toBeCloseTo(12_190, 6);
    expect((1 - controlled / byHand) * 100).toBeCloseTo(12.279, 3);
    expect(controlled / 700).toBeCloseTo(15.276, 3);
    expect(leni(controlled, 2.5, 700)).toBeCloseTo(17.776, 6);
  });

  test('standby of 0.3 W/m² over the hours without use: 1.878 kWh a m²', () => {
    expect(standbyEnergy(0.3, 2500)).toBeCloseTo(1.878, 12);
  });
});
