import { Suspense, lazy } from 'react'
import type { ComponentType, ReactNode } from 'react'
import type { Id, TableName } from '../../core/plan/types.ts'
import { useSession } from '../context.ts'
import { useDesk } from '../desk.ts'
import { CornerParticulars } from './CornerParticulars.tsx'
import { CrossingParticulars } from './CrossingParticulars.tsx'
import { LineClassParticulars } from './LineClassParticulars.tsx'
import { RailwayParticulars } from './RailwayParticulars.tsx'
import { BenchworkParticulars, ObstacleParticulars, WallParticulars } from './RoomParticulars.tsx'
import { TrackEndParticulars } from './TrackEndParticulars.tsx'
import { TrackParticulars } from './TrackParticulars.tsx'
import { TurnoutParticulars } from './TurnoutParticulars.tsx'
import { VehicleParticulars } from './VehicleParticulars.tsx'

// What is done to a line comes when it is first asked for.
const LineActPanel = lazy(() => import('../lineActs/LineActPanel.tsx'))

// Makers come when the first one is asked for.
const MakerDraftPanel = lazy(() => import('../makers/MakerDraftPanel.tsx'))
const MakerParticulars = lazy(() => import('../makers/MakerParticulars.tsx'))

const ofRecord: { readonly [T in TableName]: ComponentType<{ readonly id: Id }> } = {
  lineClasses: LineClassParticulars,
  vehicles: VehicleParticulars,
  walls: WallParticulars,
  obstacles: ObstacleParticulars,
  benchworks: BenchworkParticulars,
  tracks: TrackParticulars,
  turnouts: TurnoutParticulars,
  crossings: CrossingParticulars,
  makers: MakerParticulars,
}

/** The numbers of what is selected; of the railway when nothing is. */
export function Particulars(): ReactNode {
  const act = useDesk((desk) => desk.lineAct)
  if (act === null) return <OfSelection />
  return (
    <Suspense fallback={null}>
      <LineActPanel key={JSON.stringify(act)} act={act} />
    </Suspense>
  )
}

function OfSelection(): ReactNode {
  const selection = useSession((session) => session.selection)
  const draft = useDesk((desk) => desk.makerDraft)
  if (draft !== null) {
    return (
      <Suspense fallback={null}>
        <MakerDraftPanel key={draft.id} maker={draft} />
      </Suspense>
    )
  }
  switch (selection.kind) {
    case 'none':
      return <RailwayParticulars />
    case 'record': {
      const OfRecord = ofRecord[selection.table]
      return (
        <Suspense fallback={null}>
          <OfRecord key={selection.id} id={selection.id} />
        </Suspense>
      )
    }
    case 'corner':
      return <CornerParticulars key={`${selection.track} ${selection.corner}`} trackId={selection.track} cornerId={selection.corner} />
    case 'trackEnd':
      return <TrackEndParticulars key={`${selection.track} ${selection.end}`} trackId={selection.track} end={selection.end} />
    case 'ringPoint':
      return <BenchworkParticulars key={selection.benchwork} id={selection.benchwork} />
  }
}
