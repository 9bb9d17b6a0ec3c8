import { Fragment, useMemo } from 'react';
import { estimateEnergy } from '../../../core/planning/settings/energy-estimate.ts';
import { STANDING_WORDS } from '../../../core/planning/sourced.ts';
import { useEditor } from '../context.tsx';
import { Dialog } from '../Dialog.tsx';
import { formatArea, formatShare } from '../format.ts';
import { nameOfId } from '../words.ts';
import './plans.css';

const kwh = (value: number): string => `${value.toFixed(0)}\u00a0kWh`;

/** What detectors save of the lighting energy: an estimate with all it rests on. */
export default function EnergyDialog() {
  const floor = useEditor((state) => state.floor);
  const coverage = useEditor((state) => state.coverage);
  const energy = useMemo(() => (coverage?.floor === floor ? estimateEnergy(coverage) : null), [coverage, floor]);
  return (
    <Dialog title="Energy estimate" className="types-sheet">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls can be reached by keys */}
      <section className="types-body" aria-label="Energy estimate" data-first tabIndex={0}>
        {energy === null ? (
          <p className="say">The floor is still being worked out.</p>
        ) : (
          <>
            <p className="say">
              {energy.saving === null
                ? 'Nothing can be estimated: no group has luminaires of stated power and rooms of known use.'
                : `Estimate: ${kwh(energy.withDetectorsKwh)} a year with detectors, ${kwh(energy.byHandKwh)} by hand: ${formatShare(energy.saving)} less. With standby ${energy.leniWithDetectors?.toFixed(2)} against ${energy.leniByHand?.toFixed(2)} kWh a m² and year.`}
            </p>
            {energy.groups.length > 0 && (
              <table className="plan-table">
                <thead>
                  <tr>
                    <th scope="col">group</th>
                    <th scope="col">W</th>
                    <th scope="col">lights</th>
                    <th scope="col">absence</th>
                    <th scope="col">with detectors</th>
                    <th scope="col">by hand</th>
                  </tr>
                </thead>
                <tbody>
                  {energy.groups.map((group) => (
                    <Fragment key={group.id}>
                      <tr className="plan-figures">
                        <th scope="row">
                          <bdi>{nameOfId(floor, group.id)}</bdi>
                        </th>
                        <td>{group.watts}</td>
                        <td>{formatArea(group.areaM2)}</td>
                        <td>{formatShare(group.absence.value)}</td>
                        <td>{kwh(group.withDetectors.kwh)}</td>
                        <td>{kwh(group.byHand.kwh)}</td>
                      </tr>
                      <tr>
                        <td colSpan={6} className="plan-words aside">
                          {group.use}, {group.withDetectors.control}. {group.absence.source} (
                          {STANDING_WORDS[group.absence.standing]}). {group.remarks.join(' ')}
                        </td>
                      </tr>
                    </Fragment>
                  ))}
                </tbody>
              </table>
            )}
            {energy.left.length > 0 && (
              <>
                <h3 className="ledger-title">Not counted</h3>
                <ul className="plan-list">
                  {energy.left.map(({ id, why }) => (
                    <li key={id}>
                      <bdi>{nameOfId(floor, id)}</bdi>. {why}
                    </li>
                  ))}
                </ul>
              </>
            )}
            <h3 className="ledger-title">What it rests on</h3>
            <ul className="plan-list">
              {energy.assumptions.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </>
        )}
      </section>
    </Dialog>
  );
}
