/** What `check` says about groups, settings, energy and masks when it is asked: as a document, and as tables. */
import { createCoverage } from '../core/coverage/index.ts';
import type { Floor } from '../core/floor/index.ts';
import { describeCable } from '../core/planning/groups/cable.ts';
import { type GroupLimit, type GroupPlan, planGroups } from '../core/planning/groups/group-plan.ts';
import { type GroupsProposal, proposeGroups } from '../core/planning/groups/propose-groups.ts';
import type { Alternative } from '../core/planning/masks/alternatives.ts';
import { type MaskPlan, type MaskSubject, planMasks } from '../core/planning/masks/plan-masks.ts';
import type { PeopleCost } from '../core/planning/masks/trial.ts';
import { type EnergyEstimate, estimateEnergy } from '../core/planning/settings/energy-estimate.ts';
import {
  differsFromProposal,
  type GroupSettings,
  proposeSettings,
  SETTING_WORDS,
} from '../core/planning/settings/propose-settings.ts';
import { STANDING_WORDS } from '../core/planning/sourced.ts';
import { type Column, escapeText, formatMetres, formatTable, wrapText } from './text.ts';
import type { Output } from './verb.ts';

interface AskedPlans {
  readonly groups?: boolean;
  readonly settings?: boolean;
  readonly energy?: boolean;
  readonly masks?: boolean;
}

interface Answer {
  readonly key: string;
  readonly document: unknown;
  readonly text: string;
}

type Style = Pick<Output, 'width' | 'colour'>;

const RIGHT = 'right';

/** Plans for one floor, in the order in which they are listed in the help. */
export function answerPlans(floor: Floor, asked: AskedPlans, output: Output): Answer[] {
  const answers: Answer[] = [];
  const coverage = createCoverage(floor);
  if (asked.groups) {
    const plans = planGroups(coverage);
    const proposal = proposeGroups(coverage);
    const document = { format: 'lacuna-groups/1', floor: floor.name, groups: plans, proposal };
    answers.push({ key: 'groupPlans', document, text: writeGroups(floor, plans, proposal, output) });
  }
  if (asked.settings) {
    const groups = proposeSettings(coverage);
    const document = { format: 'lacuna-settings/1', floor: floor.name, groups };
    answers.push({ key: 'settings', document, text: writeSettings(floor, groups, output) });
  }
  if (asked.energy) {
    const energy = estimateEnergy(coverage);
    const document = { format: 'lacuna-energy/1', floor: floor.name, ...energy };
    answers.push({ key: 'energy', document, text: writeEnergy(floor, energy, output) });
  }
  if (asked.masks) {
    const plans = planMasks(floor, null, (share) => output.progress(`Masks: ${Math.round(share * 100)} %`));
    const document = { format: 'lacuna-masks/1', floor: floor.name, plans };
    answers.push({ key: 'masks', document, text: writeMasks(floor, plans, output) });
  }
  output.progress('');
  return answers;
}

function titled(style: Style, title: string, lines: readonly string[]): string {
  return [style.colour ? `\u001b[1m${title}\u001b[22m` : title, ...lines].join('\n');
}

function nameIn(things: readonly { readonly id: string; readonly name: string }[], id: string): string {
  const name = things.find((thing) => thing.id === id)?.name ?? '';
  return name === '' || name === id ? id : `${name} (${id})`;
}

function bullets(style: Style, lines: readonly string[]): string[] {
  return lines.flatMap((line) => {
    const [first, ...rest] = wrapText(escapeText(line), Math.max(40, style.width - 4));
    return [`  - ${first ?? ''}`, ...rest.map((each) => `    ${each}`)];
  });
}

function sayLimit(limit: GroupLimit | undefined, digits: number): string {
  if (limit === undefined) return '';
  const bound = limit.limit === null ? 'no limit stated' : `of ${limit.limit.toFixed(digits)}`;
  return `${limit.value.toFixed(digits)} ${bound}${limit.met === false ? ', too much' : ''}`;
}

function writeGroups(floor: Floor, plans: readonly GroupPlan[], proposal: GroupsProposal, style: Style): string {
  const lines: string[] = [];
  if (plans.length === 0) lines.push('The floor has no groups.');
  else {
    const columns: Column[] = [
      { title: 'group' },
      { title: 'main' },
      { title: 'extensions', flush: RIGHT },
      { title: 'cable m', flush: RIGHT },
      { title: 'lights m²', flush: RIGHT },
      { title: 'daylight' },
      { title: 'spot m', flush: RIGHT },
      { title: 'in the spot' },
    ];
    const limitOf = (plan: GroupPlan, kind: GroupLimit['kind']) => plan.limits.find((each) => each.kind === kind);
    const rows = plans.map((plan) => [
      nameIn(floor.groups, plan.id),
      nameIn(floor.detectors, plan.main),
      sayLimit(limitOf(plan, 'extensions'), 0),
      sayLimit(limitOf(plan, 'cable'), 1),
      formatMetres(plan.ownM2),
      plan.daylight,
      plan.spot === null ? 'none' : formatMetres(plan.spot.radius),
      plan.spot?.faults.map(({ id }) => nameIn([...floor.furniture, ...floor.luminaires], id)).join(', ') ?? '',
    ]);
    lines.push(...formatTable(columns, rows));
    const legs = plans.flatMap((plan) =>
      plan.cable.legs.map((leg, k) => [
        k === 0 ? nameIn(floor.groups, plan.id) : '',
        nameIn(floor.detectors, leg.from),
        nameIn(floor.detectors, leg.to),
        formatMetres(leg.planM),
        formatMetres(leg.dropM),
        formatMetres(leg.totalM),
      ]),
    );
    if (legs.length > 0) {
      const legColumns: Column[] = [
        { title: 'cable of' },
        { title: 'from' },
        { title: 'to' },
        { title: 'plan m', flush: RIGHT },
        { title: 'drops m', flush: RIGHT },
        { title: 'with reserve m', flush: RIGHT },
      ];
      lines.push('', ...formatTable(legColumns, legs));
      const [first] = plans;
      if (first !== undefined) lines.push('', ...wrapText(describeCable(first.cable.options), style.width));
    }
    const remarks = plans.flatMap((plan) =>
      plan.remarks.map((remark) => `${nameIn(floor.groups, plan.id)}: ${remark}`),
    );
    if (remarks.length > 0) lines.push('', ...bullets(style, remarks));
  }
  return [titled(style, 'Groups', lines), titled(style, 'Groups proposed', sayProposal(floor, proposal, style))].join(
    '\n\n',
  );
}

function sayProposal(floor: Floor, { groups, left, isSame }: GroupsProposal, style: Style): string[] {
  if (isSame) return ['The groups are as they would be proposed.'];
  const columns: Column[] = [
    { title: 'group' },
    { title: 'main' },
    { title: 'extensions' },
    { title: 'serves' },
    { title: 'cable m', flush: RIGHT },
  ];
  const rows = groups.map((group) => [
    group.keeps === null ? `${group.name}, new` : nameIn(floor.groups, group.keeps),
    nameIn(floor.detectors, group.main),
    group.extensions.map((id) => nameIn(floor.detectors, id)).join(', '),
    group.serves.map((id) => nameIn([...floor.rooms, ...floor.zones], id)).join(', '),
    group.cable.totalM.toFixed(1),
  ]);
  const remarks = [
    ...groups.map((group) => `${group.name}: ${group.reasons.join(' ')}`),
    ...left.map(({ detector, why }) => `${nameIn(floor.detectors, detector)}: ${why}`),
  ];
  return [...formatTable(columns, rows), '', ...bullets(style, remarks)];
}

function writeSettings(floor: Floor, groups: readonly GroupSettings[], style: Style): string {
  if (groups.length === 0) return titled(style, 'Settings', ['The floor has no groups.']);
  const columns: Column[] = [
    { title: 'group' },
    { title: 'setting' },
    { title: 'now', flush: RIGHT },
    { title: 'proposed', flush: RIGHT },
    { title: '' },
    { title: 'as for' },
    { title: 'source', flush: RIGHT },
  ];
  const sources: string[] = [];
  const cite = (source: string): string => {
    if (!sources.includes(source)) sources.push(source);
    return `[${sources.indexOf(source) + 1}]`;
  };
  const rows = groups.flatMap(({ id, settings }) =>
    settings.map((setting, k) => {
      const { label, unit } = SETTING_WORDS[setting.name];
      const say = (value: string | number) => `${value} ${unit}`.trim();
      return [
        k === 0 ? nameIn(floor.groups, id) : '',
        label,
        setting.now === undefined ? 'not set' : say(setting.now),
        say(setting.proposed.value),
        differsFromProposal(setting) ? 'differs' : '',
        setting.use,
        cite(`${setting.proposed.source} (${STANDING_WORDS[setting.proposed.standing]})`),
      ];
    }),
  );
  const remarks = groups.flatMap((group) =>
    group.remarks.map((remark) => `${nameIn(floor.groups, group.id)}: ${remark}`),
  );
  return titled(style, 'Settings', [
    ...(rows.length > 0 ? formatTable(columns, rows) : []),
    ...(sources.length > 0 ? [''] : []),
    ...sources.flatMap((source, k) => wrapText(`[${k + 1}] ${source}`, style.width)),
    ...(remarks.length > 0 ? ['', ...bullets(style, remarks)] : []),
  ]);
}

function writeEnergy(floor: Floor, energy: EnergyEstimate, style: Style): string {
  const { groups, left, saving } = energy;
  const headline =
    saving === null
      ? 'Nothing can be estimated: no group has luminaires of stated power and rooms of known use.'
      : `Estimate: ${Math.round(energy.withDetectorsKwh)} kWh a year with detectors, ${Math.round(energy.byHandKwh)} by hand: ${(saving * 100).toFixed(1)} % less. LENI ${formatMetres(energy.leniWithDetectors ?? 0)} against ${formatMetres(energy.leniByHand ?? 0)} kWh/(m² a), standby included.`;
  const columns: Column[] = [
    { title: 'group' },
    { title: 'use' },
    { title: 'W', flush: RIGHT },
    { title: 'm²', flush: RIGHT },
    { title: 'absence', flush: RIGHT },
    { title: 'F_O', flush: RIGHT },
    { title: 'kWh', flush: RIGHT },
    { title: 'by hand', flush: RIGHT },
    { title: 'control' },
  ];
  const rows = groups.map((group) => [
    nameIn(floor.groups, group.id),
    group.use,
    String(group.watts),
    formatMetres(group.areaM2),
    formatMetres(group.absence.value),
    formatMetres(group.withDetectors.occupancyFactor),
    group.withDetectors.kwh.toFixed(0),
    group.byHand.kwh.toFixed(0),
    group.withDetectors.control,
  ]);
  const remarks = [
    ...groups.flatMap((group) => group.remarks.map((remark) => `${nameIn(floor.groups, group.id)}: ${remark}`)),
    ...left.map(({ id, why }) => `${nameIn(floor.groups, id)} is not counted. ${why}`),
  ];
  return titled(style, 'Energy', [
    ...wrapText(headline, style.width),
    ...(rows.length > 0 ? ['', ...formatTable(columns, rows)] : []),
    ...(remarks.length > 0 ? ['', ...bullets(style, remarks)] : []),
    '',
    'What it rests on:',
    ...bullets(style, energy.assumptions),
  ]);
}

function writeMasks(floor: Floor, plans: readonly MaskPlan[], style: Style): string {
  if (plans.length === 0)
    return titled(style, 'Masks', ['Nothing is seen that should not be: no source, no nobody zone, no spill.']);
  const columns: Column[] = [
    { title: 'hide' },
    { title: 'from' },
    { title: 'masks (turn; from straight down)' },
    { title: 'costs' },
    { title: 'or' },
  ];
  const rows = plans.flatMap((plan) =>
    plan.parts.map((part, k) => [
      k === 0 ? saySubject(floor, plan.subject) : '',
      nameIn(floor.detectors, part.detector),
      part.masks.map((mask) => `${mask.from}–${mask.to}°; ${mask.inner}–${mask.outer}°`).join(', '),
      sayCost(floor, part.cost),
      part.alternatives.map((alternative) => sayAlternative(floor, alternative)).join('; ') || 'nothing else found',
    ]),
  );
  const remarks = plans.flatMap((plan) =>
    plan.remarks.map((remark) => `${saySubject(floor, plan.subject)}: ${remark}`),
  );
  return titled(style, 'Masks', [
    ...formatTable(columns, rows),
    ...(remarks.length > 0 ? ['', ...bullets(style, remarks)] : []),
    '',
    ...wrapText(
      'Each is the smallest mask in whole degrees and 2° more on every side (own choice). What it costs is worked out anew with the mask in place.',
      style.width,
    ),
  ]);
}

function saySubject(floor: Floor, subject: MaskSubject): string {
  switch (subject.kind) {
    case 'source':
      return nameIn(floor.sources, subject.id);
    case 'zone':
      return nameIn(floor.zones, subject.id);
    case 'spill':
      return `${nameIn(floor.rooms, subject.room)} from ${nameIn([...floor.groups, ...floor.detectors], subject.group)}`;
  }
}

function sayCost(floor: Floor, { seatedM2, walkingM2, workplaces, zones, entrances }: PeopleCost): string {
  const lost = [
    ...workplaces.map((id) => nameIn(floor.workplaces, id)),
    ...zones.map((id) => nameIn(floor.zones, id)),
    ...entrances,
  ];
  return `${formatMetres(seatedM2)} m² seated, ${formatMetres(walkingM2)} walking${lost.length > 0 ? `, loses ${lost.join(', ')}` : ', nobody'}`;
}

function sayAlternative(floor: Floor, alternative: Alternative): string {
  switch (alternative.kind) {
    case 'move':
      return `move by ${formatMetres(alternative.by)} m to ${alternative.at.map(formatMetres).join(', ')}`;
    case 'turn':
      return `turn to ${alternative.turn}°`;
    case 'type':
      return `use ${nameIn(floor.types, alternative.type)}`;
  }
}
