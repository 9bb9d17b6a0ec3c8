import { useMemo } from 'react';
import type { Coverage } from '../../../core/coverage/index.ts';
import {
  differsFromProposal,
  proposeSettingsOf,
  SETTING_WORDS,
  type SettingProposal,
} from '../../../core/planning/settings/propose-settings.ts';
import { STANDING_WORDS } from '../../../core/planning/sourced.ts';
import { setGroupSettings } from '../../../editor/edits/groups.ts';
import { useEditorStore } from '../context.tsx';
import { makeEdit } from '../edit-actions.ts';

interface Props {
  readonly coverage: Coverage;
  readonly version: number;
  readonly id: string;
}

/** Settings that follow from the use of what a group serves, the reason of each beside it. */
export function GroupSettingsNote({ coverage, version, id }: Props) {
  const store = useEditorStore();
  // biome-ignore lint/correctness/useExhaustiveDependencies: the coverage changes in place; its version tells
  const proposed = useMemo(() => proposeSettingsOf(coverage, id), [coverage, version, id]);
  if (proposed === undefined) return null;
  const { settings, remarks } = proposed;
  const differing = settings.filter(differsFromProposal);
  const take = (): void => {
    const patch = Object.fromEntries(differing.map(({ name, proposed: { value } }) => [name, value]));
    makeEdit(store, setGroupSettings(store.getState().file, [id], patch), true);
  };
  return (
    <section className="plan-part" aria-label="Settings by use">
      <h3 className="ledger-title">
        Settings by use
        {settings.length > 0 && (
          <span className="words">
            {differing.length === 0 ? (
              <span className="aside">set so</span>
            ) : (
              <button type="button" className="word" onClick={take}>
                Take these
              </button>
            )}
          </span>
        )}
      </h3>
      <ul className="plan-reasons">
        {settings.map((setting) => (
          <li key={setting.name}>
            <span className="plan-value">
              {SETTING_WORDS[setting.name].label} <b>{say(setting, setting.proposed.value)}</b>
              {differsFromProposal(setting) && (
                <span className="aside"> now {setting.now === undefined ? 'not set' : say(setting, setting.now)}</span>
              )}
            </span>
            <span className="aside">
              {setting.use}: {setting.proposed.source} ({STANDING_WORDS[setting.proposed.standing]})
            </span>
          </li>
        ))}
      </ul>
      {remarks.map((remark) => (
        <p key={remark} className="plan-remark">
          {remark}
        </p>
      ))}
    </section>
  );
}

function say({ name }: SettingProposal, value: string | number): string {
  if (value === 'automatic') return 'by itself';
  if (value === 'manual') return 'by hand';
  return `${value}\u00a0${SETTING_WORDS[name].unit}`;
}
