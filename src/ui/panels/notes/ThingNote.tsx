import type { Floor } from '../../../core/floor/index.ts';
import { findThing } from '../../../editor/things.ts';
import { useEditor } from '../context.tsx';
import { FloorNote } from '../FloorNote.tsx';
import { DetectorNote } from './DetectorNote.tsx';
import { FurnitureNote } from './FurnitureNote.tsx';
import { GroupNote } from './GroupNote.tsx';
import { OpeningNote } from './OpeningNote.tsx';
import { LuminaireNote, SourceNote, ZoneNote } from './PlaceNotes.tsx';
import { RoomNote } from './RoomNote.tsx';
import { WorkplaceNote } from './WorkplaceNote.tsx';

interface Props {
  readonly floor: Floor;
  /** The floor before the running gesture. */
  readonly committed: Floor;
  readonly id: string;
}

/** The note of one thing, by its kind. */
export default function ThingNote({ floor, committed, id }: Props) {
  const coverage = useEditor((state) => state.coverage);
  useEditor((state) => state.coverageVersion);
  const thing = findThing(floor, id);
  const before = findThing(committed, id);
  if (thing === undefined) return <FloorNote floor={floor} />;
  switch (thing.kind) {
    case 'detector':
      return (
        <DetectorNote
          floor={floor}
          detector={thing.value}
          before={before?.kind === 'detector' ? before.value : thing.value}
        />
      );
    case 'furniture':
      return (
        <FurnitureNote
          floor={floor}
          piece={thing.value}
          before={before?.kind === 'furniture' ? before.value : thing.value}
        />
      );
    case 'workplace':
      return (
        <WorkplaceNote
          floor={floor}
          workplace={thing.value}
          verdict={coverage?.workplaces.find((each) => each.id === id)}
        />
      );
    case 'room':
      return <RoomNote floor={floor} room={thing.value} />;
    case 'opening':
      return <OpeningNote floor={floor} opening={thing.value} />;
    case 'zone':
      return <ZoneNote floor={floor} zone={thing.value} />;
    case 'source':
      return <SourceNote floor={floor} source={thing.value} />;
    case 'luminaire':
      return <LuminaireNote floor={floor} luminaire={thing.value} />;
    case 'group':
      return <GroupNote floor={floor} group={thing.value} />;
  }
}
