import { useId, useMemo, useState } from 'react';
import type { Floor } from '../../../core/floor/index.ts';
import { ENERGY_AREA, OPEN_PLAN_AREA, planGroups } from '../../../core/planning/groups/group-plan.ts';
import { type GroupsProposal, proposeGroups } from '../../../core/planning/groups/propose-groups.ts';
import { takeProposedGroups } from '../../../editor/edits/plans.ts';
import { useEditor, useEditorStore } from '../context.tsx';
import { Dialog } from '../Dialog.tsx';
import { closeDialog } from '../dialog-state.ts';
import { makeEdit } from '../edit-actions.ts';
import { count, formatMetres, joinNames } from '../format.ts';
import { Choice } from '../notes/Properties.tsx';
import { nameOfId } from '../words.ts';
import './plans.css';

/** Groups as they are and as they would be proposed; one step takes them all. */
export default function GroupsDialog() {
  const store = useEditorStore();
  const floor = useEditor((state) => state.floor);
  const coverage = useEditor((state) => state.coverage);
  const tick = useId();
  const [apartByDaylight, setApart] = useState(true);
  const [most, setMost] = useState('');
  const now = useMemo(() => (coverage?.floor === floor ? planGroups(coverage) : []), [coverage, floor]);
  const proposal = useMemo(
    () =>
      coverage?.floor === floor
        ? proposeGroups(coverage, { apartByDaylight, mostM2: most === '' ? null : Number(most) })
        : null,
    [coverage, floor, apartByDaylight, most],
  );
  const take = (): void => {
    if (proposal !== null && makeEdit(store, takeProposedGroups(store.getState().file, proposal), true)) closeDialog();
  };
  return (
    <Dialog title="Propose groups" className="types-sheet">
      <section className="types-body" aria-label="Proposed groups">
        <div className="words">
          <label className="tick" htmlFor={tick}>
            <input
              id={tick}
              type="checkbox"
              data-first
              checked={apartByDaylight}
              onChange={(event) => setApart(event.target.checked)}
            />
            Windows apart from farther in
          </label>
          <div className="plan-limit">
            <Choice
              label="one group lights at most"
              value={most}
              options={[
                { value: '', text: 'no limit' },
                { value: String(ENERGY_AREA.value), text: '30 m², energy credit' },
                { value: String(OPEN_PLAN_AREA.value), text: '55.74 m², US open plan' },
              ]}
              onChoose={setMost}
            />
          </div>
        </div>
        {proposal === null ? (
          <p className="say">The floor is still being worked out.</p>
        ) : (
          <>
            <p className="say" role="status">
              {sayHeadline(floor, proposal)}
            </p>
            <div className="plan-tables">
              <table className="plan-table">
                <caption className="ledger-title">As they are</caption>
                <Head />
                <tbody>
                  {now.map((plan) => (
                    <tr key={plan.id}>
                      <th scope="row">
                        <bdi>{nameOfId(floor, plan.id)}</bdi>
                      </th>
                      <td>{nameOfId(floor, plan.main)}</td>
                      <td>{plan.extensions.length}</td>
                      <td>{formatMetres(plan.cable.totalM)}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
              <table className="plan-table">
                <caption className="ledger-title">As proposed</caption>
                <Head />
                <tbody>
                  {proposal.groups.map((group) => (
                    <tr key={group.main}>
                      <th scope="row">
                        <bdi>{group.name}</bdi>
                        {group.keeps === null && <b> new</b>}
                        <span className="aside plan-why">{group.reasons.join(' ')}</span>
                      </th>
                      <td>{nameOfId(floor, group.main)}</td>
                      <td>{group.extensions.length}</td>
                      <td>{formatMetres(group.cable.totalM)}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          </>
        )}
      </section>
      <div className="sheet-note words">
        <button type="button" className="word" disabled={proposal === null || proposal.isSame} onClick={take}>
          Take these groups
        </button>
        <span>Settings of groups that stay are kept. One step: Ctrl Z takes it back.</span>
      </div>
    </Dialog>
  );
}

function Head() {
  return (
    <thead>
      <tr>
        <th scope="col">group</th>
        <th scope="col">main</th>
        <th scope="col">extensions</th>
        <th scope="col">cable</th>
      </tr>
    </thead>
  );
}

function sayHeadline(floor: Floor, { groups, gone, left, isSame }: GroupsProposal): string {
  if (isSame) return 'The groups are as they would be proposed.';
  if (groups.length === 0) return 'There is no detector in a room to group.';
  const fresh = groups.filter(({ keeps }) => keeps === null).length;
  const cable = groups.reduce((sum, group) => sum + group.cable.totalM, 0);
  const parts = [
    `${count(groups.length, 'group')} with ${formatMetres(cable)} of cable in all`,
    ...(fresh > 0 ? [`${fresh} new`] : []),
    ...(gone.length > 0 ? [`without ${joinNames(gone.map(({ id }) => nameOfId(floor, id)))}`] : []),
    ...(left.length > 0 ? [`${count(left.length, 'detector')} in no group`] : []),
  ];
  return `${parts.join(', ')}.`;
}
