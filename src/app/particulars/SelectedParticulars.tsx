import { lazy, useLayoutEffect } from 'react'
import type { ComponentType, ReactNode } from 'react'
import type { Id, TableName } from '../../core/plan/types.ts'
import type { Selection } from '../../store/types.ts'
import { MaterialParticulars } from '../stock/MaterialParticulars.tsx'
import { StockParticulars } from '../stock/StockParticulars.tsx'
import { GuideParticulars, ReadingParticulars } from '../aids/AidParticulars.tsx'
import { LockRow } from '../several/LockRow.tsx'
import { SeveralParticulars } from '../several/SeveralParticulars.tsx'
import { CornerParticulars } from './CornerParticulars.tsx'
import { CrossingParticulars } from './CrossingParticulars.tsx'
import { LineClassParticulars } from './LineClassParticulars.tsx'
import { OpeningParticulars } from './OpeningParticulars.tsx'
import { HatchParticulars, JoistParticulars, PortalParticulars, SilenceParticulars } from './RoomThingParticulars.tsx'
import { BenchworkParticulars, ObstacleParticulars, WallParticulars } from './RoomParticulars.tsx'
import type { ExplainedIn } from '../../words/explained.ts'
import { Explained } from './Explained.tsx'
import { FindingsList } from './recordParts.tsx'
import type { RecordAt } from './recordParts.tsx'
import { RailJointParticulars } from './RailJointParticulars.tsx'
import { TrackEndParticulars } from './TrackEndParticulars.tsx'
import { TrackParticulars } from './TrackParticulars.tsx'
import { TurnoutParticulars } from './TurnoutParticulars.tsx'
import { VehicleParticulars } from './VehicleParticulars.tsx'

// Makers come when the first one is asked for.
const UnderlayParticulars = lazy(() => import('../underlay/UnderlayParticulars.tsx'))
const MakerParticulars = lazy(() => import('../makers/MakerParticulars.tsx'))

// null: set in a list of its own, never selected.
const ofRecord: { readonly [T in TableName]: ComponentType<{ readonly id: Id }> | null } = {
  materials: MaterialParticulars,
  stocks: StockParticulars,
  railJoints: RailJointParticulars,
  ticks: null,
  lineClasses: LineClassParticulars,
  vehicles: VehicleParticulars,
  walls: WallParticulars,
  obstacles: ObstacleParticulars,
  openings: OpeningParticulars,
  benchworks: BenchworkParticulars,
  hatches: HatchParticulars,
  joists: JoistParticulars,
  portals: PortalParticulars,
  silences: SilenceParticulars,
  tracks: TrackParticulars,
  turnouts: TurnoutParticulars,
  crossings: CrossingParticulars,
  makers: MakerParticulars,
  guides: GuideParticulars,
  readings: ReadingParticulars,
  underlays: UnderlayParticulars,
  locks: null,
}

const explainedOf: { readonly [T in TableName]?: ExplainedIn } = {
  tracks: 'track',
  turnouts: 'turnout',
  crossings: 'crossing',
  lineClasses: 'lineClass',
  vehicles: 'vehicle',
  walls: 'room',
  obstacles: 'room',
  openings: 'room',
  benchworks: 'room',
  hatches: 'room',
  joists: 'room',
  portals: 'room',
  stocks: 'stock',
  materials: 'stock',
  railJoints: 'joint',
  makers: 'maker',
  guides: 'aid',
}

/** What lies in the plan and can be moved by mistake. */
const lockable: ReadonlySet<TableName> = new Set([
  'walls',
  'obstacles',
  'openings',
  'benchworks',
  'hatches',
  'joists',
  'portals',
  'tracks',
  'turnouts',
  'guides',
  'underlays',
])

type Selected = Exclude<Selection, { kind: 'none' }>

/** The numbers of what is selected, and what was found there. */
export function SelectedParticulars({ selection }: { readonly selection: Selected }): ReactNode {
  const at = placeOf(selection)
  // Another kind of thing is read from its top; from corner to corner the hand stays at the same number.
  const kind = selection.kind === 'record' ? selection.table : selection.kind
  return (
    <>
      <FromTop key={kind} />
      <NumbersOf selection={selection} />
      {at === null ? null : <FindingsList {...at} />}
    </>
  )
}

function FromTop(): ReactNode {
  useLayoutEffect(() => {
    const column = document.querySelector('.right')
    if (column !== null) column.scrollTop = 0
  }, [])
  return null
}

function placeOf(selection: Selected): RecordAt | null {
  switch (selection.kind) {
    case 'record':
      return selection
    case 'corner':
      return { table: 'tracks', id: selection.track, corner: selection.corner }
    case 'trackEnd':
      return { table: 'tracks', id: selection.track }
    case 'ringPoint':
      return { table: 'benchworks', id: selection.benchwork }
    case 'several':
      return null
  }
}

function NumbersOf({ selection }: { readonly selection: Selected }): ReactNode {
  switch (selection.kind) {
    case 'record': {
      const OfRecord = ofRecord[selection.table]
      const of = explainedOf[selection.table]
      return (
        OfRecord && (
          <>
            <OfRecord key={selection.id} id={selection.id} />
            {lockable.has(selection.table) ? <LockRow table={selection.table} id={selection.id} /> : null}
            {of === undefined ? null : <Explained key={`${selection.id} words`} of={of} />}
          </>
        )
      )
    }
    case 'several':
      return <SeveralParticulars members={selection.members} />
    case 'corner':
      return (
        <>
          <CornerParticulars key={`${selection.track} ${selection.corner}`} trackId={selection.track} cornerId={selection.corner} />
          <Explained key={`${selection.track} ${selection.corner} words`} of="corner" />
        </>
      )
    case 'trackEnd':
      return (
        <>
          <TrackEndParticulars key={`${selection.track} ${selection.end}`} trackId={selection.track} end={selection.end} />
          <Explained key={`${selection.track} ${selection.end} words`} of="trackEnd" />
        </>
      )
    case 'ringPoint':
      return (
        <>
          <BenchworkParticulars key={selection.benchwork} id={selection.benchwork} />
          <Explained key={`${selection.benchwork} words`} of="room" />
        </>
      )
  }
}
