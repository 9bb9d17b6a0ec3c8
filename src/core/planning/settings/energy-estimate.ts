/** What detectors save of the lighting energy of a floor: an estimate, with all it rests on. */
import type { Coverage } from '../../coverage/index.ts';
import { tidy } from '../../coverage/measure.ts';
import type { ServingGroup } from '../../coverage/serving.ts';
import type { Floor, Group, GroupId, Luminaire } from '../../floor/index.ts';
import type { Raster } from '../../sight/index.ts';
import { ENERGY_AREA, planGroups, servedRooms, usesOf } from '../groups/group-plan.ts';
import type { Sourced } from '../sourced.ts';
import { CONTROL_FACTORS, type Control, leni, lightingEnergy, occupancyFactor, STANDBY_DEFAULTS } from './energy.ts';
import type { Use } from './uses.ts';

/** One way of switching a group, and what it uses a year. */
export interface EnergyCase {
  readonly control: Control;
  /** F_OC and F_O. */
  readonly controlFactor: number;
  readonly occupancyFactor: number;
  readonly kwh: number;
}

export interface GroupEnergy {
  readonly id: GroupId;
  readonly use: string;
  readonly watts: number;
  /** What it lights, nearer to its detectors than to another group's. */
  readonly areaM2: number;
  readonly absence: Sourced<number>;
  readonly hours: Sourced<readonly [day: number, night: number]>;
  readonly withDetectors: EnergyCase;
  readonly byHand: EnergyCase;
  /** What holds for this group alone, plain words. */
  readonly remarks: readonly string[];
}

export interface EnergyEstimate {
  readonly groups: readonly GroupEnergy[];
  /** Groups that are not counted, and why. */
  readonly left: readonly { readonly id: GroupId; readonly why: string }[];
  /** Lighting, kWh a year, of the groups counted. */
  readonly withDetectorsKwh: number;
  readonly byHandKwh: number;
  /** Share of the lighting energy by hand that is saved; null: nothing is counted. */
  readonly saving: number | null;
  /** Of all that the counted groups serve, each place once. */
  readonly areaM2: number;
  /** kWh a m² and year, standby included; null: nothing is counted. */
  readonly leniWithDetectors: number | null;
  readonly leniByHand: number | null;
  /** All that the figures rest on, plain words. */
  readonly assumptions: readonly string[];
}

/** The control that settings make of a group; light not said to come by itself or by hand is taken to come by itself. */
function controlOf(settings: Group['settings']): Control {
  const dims = (settings.background ?? 0) > 0;
  if (settings.switchOn === 'manual') return dims ? 'on by hand, dimmed by itself' : 'on by hand, off by itself';
  return dims ? 'by itself, dimmed' : 'by itself, off';
}

/** Estimates the lighting energy of every group with luminaires of stated power and a known use. */
export function estimateEnergy(coverage: Coverage): EnergyEstimate {
  const { floor, serving, grid } = coverage;
  const plans = planGroups(coverage);
  const groups: GroupEnergy[] = [];
  const left: { id: GroupId; why: string }[] = [];
  const counted: Raster[] = [];
  for (const each of serving.groups) {
    if (each.group === null) continue;
    const plan = plans.find(({ id }) => id === each.group?.id);
    const found = estimateGroup(floor, each, each.group, plan?.ownM2 ?? 0);
    if (typeof found === 'string') left.push({ id: each.group.id, why: found });
    else {
      groups.push(found);
      counted.push(each.area);
    }
  }
  const areaM2 = tidy(countUnion(counted, grid.lattice.nx) * grid.lattice.cell ** 2);
  const sum = (read: (group: GroupEnergy) => EnergyCase) => groups.reduce((total, group) => total + read(group).kwh, 0);
  const withDetectorsKwh = sum((group) => group.withDetectors);
  const byHandKwh = sum((group) => group.byHand);
  const { emergency, control } = STANDBY_DEFAULTS;
  return {
    groups,
    left,
    withDetectorsKwh,
    byHandKwh,
    saving: byHandKwh > 0 ? 1 - withDetectorsKwh / byHandKwh : null,
    areaM2,
    leniWithDetectors: areaM2 > 0 ? leni(withDetectorsKwh, emergency.value + control.value, areaM2) : null,
    leniByHand: areaM2 > 0 ? leni(byHandKwh, emergency.value, areaM2) : null,
    assumptions: ASSUMPTIONS,
  };
}

function estimateGroup(floor: Floor, serving: ServingGroup, group: Group, areaM2: number): GroupEnergy | string {
  const wired = floor.luminaires.filter((each) => each.group === group.id && !each.emergency);
  if (wired.length === 0) return 'No luminaire names this group.';
  const powered = wired.filter((each): each is Luminaire & { readonly watts: number } => each.watts !== undefined);
  const watts = powered.reduce((total, each) => total + each.watts, 0);
  if (watts === 0) return 'Its luminaires state no power.';
  const uses = [...new Set(usesOf(floor, serving).map((found) => found?.use))];
  const [use, ...others] = uses;
  if (use === undefined || others.includes(undefined))
    return servedRooms(floor, serving).length === 0
      ? 'It serves no room.'
      : 'The use of a room it serves is not said, or not in the table.';
  if (others.length > 0) return `It serves several uses (${uses.map((each) => each?.name).join(', ')}).`;
  const remarks: string[] = [];
  if (powered.length < wired.length)
    remarks.push(`${wired.length - powered.length} of its ${wired.length} luminaires state no power and are left out.`);
  if (group.settings.switchOn === undefined)
    remarks.push('It does not say whether light comes by itself or by hand: by itself is taken.');
  const isLarge = areaM2 > ENERGY_AREA.value + 1e-9 && use.isMeeting !== true;
  if (isLarge)
    remarks.push(`It lights more than ${ENERGY_AREA.value} m²: no credit, F_O = 1 both ways (EN 15193, from memory).`);
  return {
    id: group.id,
    use: use.name,
    watts,
    areaM2,
    absence: use.absence,
    hours: use.hours,
    withDetectors: estimateCase(use, watts, controlOf(group.settings), isLarge),
    byHand: estimateCase(use, watts, 'by hand', isLarge),
    remarks,
  };
}

function estimateCase(use: Use, watts: number, control: Control, isLarge: boolean): EnergyCase {
  const controlFactor = CONTROL_FACTORS[control];
  const occupancy = isLarge ? 1 : occupancyFactor(use.absence.value, controlFactor);
  const [day, night] = use.hours.value;
  const kwh = lightingEnergy({ watts, constant: 1, occupancy, daylight: 1, day, night });
  return { control, controlFactor, occupancyFactor: occupancy, kwh };
}

/** Cells set in any of some rasters. */
function countUnion(rasters: readonly Raster[], nx: number): number {
  const cells = new Set<number>();
  for (const raster of new Set(rasters)) {
    for (let k = 0; k < raster.bits.length; k++) {
      let bits: number = raster.bits[k]!;
      const row = Math.floor(k / raster.words);
      while (bits !== 0) {
        const bit: number = 31 - Math.clz32(bits & -bits);
        bits &= bits - 1;
        cells.add((raster.j0 + row) * nx + 32 * (raster.w0 + k - row * raster.words) + bit);
      }
    }
  }
  return cells.size;
}

const ASSUMPTIONS: readonly string[] = [
  'An estimate after EN 15193, whose formulas and factors are from memory: verify before use.',
  'Hours of use and absence come from the use of the room (an open transcription of DIN V 18599-10, or EN 15193 from memory).',
  'No daylight credit and no constant-light credit: F_D = 1 and F_C = 1.',
  'Compared with switching by hand alone: F_OC = 1, same luminaires, same hours.',
  `Groups over ${ENERGY_AREA.value} m² get no credit, meeting rooms excepted (EN 15193, from memory).`,
  `LENI takes ${STANDBY_DEFAULTS.emergency.value} kWh/(m² a) for emergency charging, and with detectors ${STANDBY_DEFAULTS.control.value} kWh/(m² a) for their standby (EN 15193:2017, from memory).`,
  'Only luminaires that name a group and state their power are counted; emergency luminaires are not.',
  'Field studies saw savings of about 24 % on average from occupancy control (Williams and others 2012); estimates for single rooms stray widely.',
];
