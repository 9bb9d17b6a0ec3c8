import { lazy, Suspense } from 'react';
import type { Floor, Group } from '../../../core/floor/index.ts';
import { refuse } from '../../../editor/edits/edit.ts';
import {
  addExtensions,
  removeFromGroups,
  type SettingsPatch,
  setGroupSettings,
  setMain,
  setServed,
} from '../../../editor/edits/groups.ts';
import { useEditorStore } from '../context.tsx';
import { makeEdit } from '../edit-actions.ts';
import { Ledger } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { NumberField } from '../NumberField.tsx';
import { nameOfId } from '../words.ts';
import { Choice, PropertyText, SetField, WrittenText } from './Properties.tsx';

const GroupPlanNote = lazy(() => import('../plans/GroupPlanNote.tsx'));

const NUMBERS = [
  { key: 'level', label: 'light level, lx', max: 100_000 },
  { key: 'delay', label: 'delay, min', max: 10_000 },
  { key: 'ventilationDelay', label: 'ventilation delay, min', max: 10_000 },
  { key: 'background', label: 'background light, %', max: 100 },
] as const;

/** A group: who leads, who extends, what it serves and ventilates, how it is set. */
export function GroupNote({ floor, group }: { readonly floor: Floor; readonly group: Group }) {
  const store = useEditorStore();
  const { id, name, main, extensions, settings } = group;
  const members = [main, ...extensions];
  const places = [
    ...floor.rooms.map((room) => ({ id: room.id as string, text: room.name })),
    ...floor.zones.map((zone) => ({ id: zone.id as string, text: zone.name })),
  ];
  const set = (patch: SettingsPatch): boolean =>
    makeEdit(store, setGroupSettings(store.getState().file, [id], patch), true);
  return (
    <>
      <NoteHead title={name} aside="group" about={id} />
      <Ledger>
        <PropertyText ids={[id]} property="name" label="name" />
        <Choice
          label="main"
          value={main}
          options={members.map((each) => ({ value: each, text: nameOfId(floor, each) }))}
          onChoose={(chosen) => makeEdit(store, setMain(store.getState().file, id, chosen), true)}
        />
      </Ledger>
      <Suspense>
        <GroupPlanNote floor={floor} id={id} />
      </Suspense>
      <SetField
        title="Extensions"
        none="none"
        chosen={extensions}
        options={floor.detectors.filter((each) => each.id !== main).map((each) => ({ id: each.id, text: each.name }))}
        plan={(file, chosen) => {
          const joining = chosen.filter((each) => !extensions.some((ext) => ext === each));
          const leaving = extensions.filter((each) => !chosen.includes(each));
          if (joining.length > 0) return addExtensions(file, id, joining);
          return leaving.length > 0 ? removeFromGroups(file, leaving) : refuse('Nothing has changed', '');
        }}
      />
      <SetField
        title="Serves"
        none="the rooms its detectors hang in"
        chosen={group.serves ?? []}
        options={places}
        plan={(file, chosen) => setServed(file, id, chosen.length === 0 ? null : chosen)}
      />
      <SetField
        title="Ventilates"
        none="not set"
        chosen={group.ventilation ?? []}
        options={places}
        plan={(file, chosen) => setServed(file, id, chosen.length === 0 ? null : chosen, 'ventilation')}
      />
      <Ledger title="Settings">
        <Choice
          label="switches on"
          value={settings.switchOn ?? ''}
          options={[
            { value: '', text: 'not set' },
            { value: 'automatic', text: 'by itself' },
            { value: 'manual', text: 'by hand' },
          ]}
          onChoose={(chosen) => set({ switchOn: chosen === '' ? null : (chosen as 'automatic' | 'manual') })}
        />
        {NUMBERS.map(({ key, label, max }) => (
          <NumberField
            key={key}
            label={label}
            value={settings[key] ?? null}
            placeholder="not set"
            rule={{ kind: 'number', min: 0, max }}
            plan={(file, value) => setGroupSettings(file, [id], { [key]: value })}
            clear={(file) => setGroupSettings(file, [id], { [key]: null })}
            subject={`${label} of ${name}`}
          />
        ))}
        <WrittenText
          label="button"
          value={settings.button ?? ''}
          placeholder="not set"
          onWrite={(text) => set({ button: text.trim() === '' ? null : text.trim() })}
        />
      </Ledger>
    </>
  );
}
