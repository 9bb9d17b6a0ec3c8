import type { BodyLevel, WorkplaceResult } from '../../../core/coverage/result.ts';
import type { Floor, Workplace } from '../../../core/floor/index.ts';
import { isResultStale } from '../../../editor/store.ts';
import { useEditor } from '../context.tsx';
import { formatShare, joinNames } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { nameOf, nameOfId } from '../words.ts';
import { PlaceFields } from './PlaceNotes.tsx';
import { PropertyChoice, PropertyNumber, PropertyText } from './Properties.tsx';

const LEVELS: Readonly<Record<BodyLevel, string>> = {
  body: 'the whole body',
  shoulders: 'the shoulders',
  head: 'the head only',
  none: 'nothing',
};

interface Props {
  readonly floor: Floor;
  readonly workplace: Workplace;
  /** At once, from the coverage. */
  readonly verdict: WorkplaceResult | undefined;
}

export function WorkplaceNote({ floor, workplace, verdict }: Props) {
  // Only the complete check asks what hides it.
  const checked = useEditor((state) => state.result?.workplaces.find((each) => each.id === workplace.id));
  const stale = useEditor(isResultStale);
  const { id } = workplace;
  const ids = [id];
  const need = formatShare(floor.analysis.workplaceShare);
  return (
    <>
      <NoteHead
        title={nameOf(floor, { kind: 'workplace', value: workplace })}
        aside={workplace.posture}
        about={verdict?.met === false ? id : undefined}
      >
        {verdict === undefined
          ? null
          : `It is ${formatShare(verdict.share)} seen; ${need} is needed. It is ${verdict.met ? 'met' : 'not met'}.`}
      </NoteHead>
      {verdict !== undefined && (
        <Ledger>
          <Row label="share seen" aside={`${need} needed`}>
            <span className={verdict.met ? undefined : 'failing'}>{formatShare(verdict.share)}</span>
          </Row>
          <Row label="what is seen" wide>
            {LEVELS[verdict.level]}
          </Row>
          <Row label="verdict" wide>
            {verdict.met ? 'met' : <span className="failing">not met</span>}
          </Row>
          <Row label="seen by" wide>
            {sayIds(floor, verdict.seenBy, 'no serving detector')}
          </Row>
          {verdict.seenByOther.length > 0 && (
            <Row label="seen by other groups" wide>
              {sayIds(floor, verdict.seenByOther, 'none')}
            </Row>
          )}
          <Row label="hidden by" wide>
            <span className={stale ? 'aside' : undefined}>
              {checked === undefined ? '' : sayIds(floor, checked.hiddenBy, 'nothing')}
            </span>
          </Row>
        </Ledger>
      )}
      <Ledger>
        <PropertyText ids={ids} property="name" label="name" />
        <PropertyChoice
          ids={ids}
          property="posture"
          label="posture"
          options={[
            { value: 'seated', text: 'seated' },
            { value: 'standing', text: 'standing' },
          ]}
        />
        <PropertyNumber
          ids={ids}
          property="radius"
          label="radius"
          value={workplace.radius}
          rule={{ kind: 'length', above: 0, max: 10 }}
          subject={`Radius of ${workplace.name}`}
        />
        <PropertyNumber
          ids={ids}
          property="facing"
          isOptional
          label="faces"
          rule={{ kind: 'angle', min: -360, max: 360 }}
          subject={`Facing of ${workplace.name}`}
        />
        <PlaceFields id={id} name={`Workplace ${workplace.name}`} at={workplace.at} />
      </Ledger>
    </>
  );
}

function sayIds(floor: Floor, ids: readonly string[], none: string) {
  return ids.length === 0 ? none : <bdi>{joinNames(ids.map((id) => nameOfId(floor, id)))}</bdi>;
}
