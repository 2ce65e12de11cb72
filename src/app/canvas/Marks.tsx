import { Suspense, lazy, memo } from 'react'
import type { ReactNode } from 'react'
import type { Point } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import { useDerived, usePlan, useSession } from '../context.ts'
import { MakerGhost, MakerMarks } from '../makers/MakerMarks.tsx'
import { BenchworkMarks } from './BenchworkMarks.tsx'
import { useView } from './canvasContext.ts'
import { CrossingMarks } from './CrossingMarks.tsx'
import { FindingMarks } from './FindingMarks.tsx'
import { HoverMark } from './HoverMark.tsx'
import { RoomThingMarks } from './RoomThingMarks.tsx'
import { Sketch } from './Sketch.tsx'
import { TrialLines } from './TrialLines.tsx'
import { useDesk } from '../desk.ts'
import { TrackMarks } from './TrackMarks.tsx'
import { TurnoutMarks } from './TurnoutMarks.tsx'
import { pathTransform, polylineText } from './svgPath.ts'

/** All that is drawn over the plan and is not of it: construction lines and handles of the selected thing, findings, the tool. */
export const Marks = memo(function Marks(): ReactNode {
  return (
    <g className="marks">
      <Fouling />
      <FindingMarks />
      {/* A joint with a finding must be within reach below it. */}
      <Laying />
      <Aids />
      <SelectionMarks />
      <HoverMark />
      <Survey />
      <TrialLines />
      <Running />
      <MakerGhost />
      <Sketch />
    </g>
  )
})

// What is cut and laid comes with its stage.
const RailMarks = lazy(() => import('./RailMarks.tsx'))
const RoadbedMarks = lazy(() => import('./RoadbedMarks.tsx'))

function Laying(): ReactNode {
  const stage = useSession((session) => session.stage)
  const Of = stage === 'track' ? RailMarks : stage === 'roadbed' ? RoadbedMarks : null
  return Of === null ? null : (
    <Suspense fallback={null}>
      <Of />
    </Suspense>
  )
}

// They are of no use to one who builds the room; with the first stage of track they are found.
const FoulingMarks = lazy(() => import('../running/FoulingMarks.tsx'))

function Fouling(): ReactNode {
  const hasTracks = usePlan((state) => Object.keys(state.plan.tracks).length > 0)
  const isRoom = useSession((session) => session.stage === 'room')
  return hasTracks && !isRoom ? (
    <Suspense fallback={null}>
      <FoulingMarks />
    </Suspense>
  ) : null
}

// What runs on the tracks comes with the first wish to see it.
const RunningMarks = lazy(() => import('../running/RunningMarks.tsx'))

function Running(): ReactNode {
  const isShown = useDesk((desk) => desk.bands !== null || desk.push !== null)
  return isShown ? (
    <Suspense fallback={null}>
      <RunningMarks />
    </Suspense>
  ) : null
}

// Guides and measurements come with the first of them.
const AidMarks = lazy(() => import('../aids/AidMarks.tsx'))

function Aids(): ReactNode {
  const isAny = usePlan(({ plan }) => Object.keys(plan.guides).length + Object.keys(plan.readings).length > 0)
  return isAny ? (
    <Suspense fallback={null}>
      <AidMarks />
    </Suspense>
  ) : null
}

// Measured places come with the panel that asks for them.
const SurveyMarks = lazy(() => import('../fit/SurveyMarks.tsx'))

function Survey(): ReactNode {
  const isFit = useDesk((desk) => desk.lineAct?.kind === 'fit')
  return isFit ? (
    <Suspense fallback={null}>
      <SurveyMarks />
    </Suspense>
  ) : null
}

// Several things at once are chosen by those who know the desk a little.
const SeveralMarks = lazy(() => import('../several/SeveralMarks.tsx'))

function SelectionMarks(): ReactNode {
  const selection = useSession((session) => session.selection)
  // Handles show what can be taken hold of: with another tool in the hand, nothing can.
  const isSelecting = useSession((session) => session.tool === 'select')
  if (!isSelecting) return null
  switch (selection.kind) {
    case 'none':
      return null
    case 'corner':
    case 'trackEnd':
      return (
        <SelectedTrack
          id={selection.track}
          corner={selection.kind === 'corner' ? selection.corner : null}
          end={selection.kind === 'trackEnd' ? selection.end : null}
        />
      )
    case 'several':
      return (
        <Suspense fallback={null}>
          <SeveralMarks members={selection.members} />
        </Suspense>
      )
    case 'ringPoint':
      return <SelectedBenchwork id={selection.benchwork} ring={selection.ring} index={selection.index} />
    case 'record':
      switch (selection.table) {
        case 'tracks':
          return <SelectedTrack id={selection.id} corner={null} end={null} />
        case 'turnouts':
          return <SelectedTurnout id={selection.id} />
        case 'crossings':
          return <SelectedCrossing id={selection.id} />
        case 'benchworks':
          return <SelectedBenchwork id={selection.id} ring={null} index={null} />
        case 'walls':
          return <SelectedWall id={selection.id} />
        case 'obstacles':
          return <SelectedObstacle id={selection.id} />
        case 'openings':
        case 'hatches':
        case 'joists':
        case 'portals':
          return <RoomThingMarks table={selection.table} id={selection.id} />
        case 'makers':
          return <MakerMarks id={selection.id} />
        case 'materials':
        case 'stocks':
        case 'railJoints':
        case 'ticks':
        case 'guides':
        case 'readings':
        case 'underlays':
        case 'locks':
        case 'lineClasses':
        case 'vehicles':
        case 'silences':
          return null
      }
  }
}

function SelectedTrack({
  id,
  corner,
  end,
}: {
  readonly id: string
  readonly corner: string | null
  readonly end: 'start' | 'end' | null
}): ReactNode {
  const networkTrack = useDerived((state) => state.derived.network.tracks.get(id))
  const view = useView()
  return networkTrack === undefined ? null : <TrackMarks networkTrack={networkTrack} corner={corner} end={end} view={view} />
}

function SelectedTurnout({ id }: { readonly id: string }): ReactNode {
  const networkTurnout = useDerived((state) => state.derived.network.turnouts.get(id))
  const view = useView()
  return networkTurnout === undefined ? null : <TurnoutMarks networkTurnout={networkTurnout} view={view} />
}

function SelectedCrossing({ id }: { readonly id: string }): ReactNode {
  const crossing = useDerived((state) => state.derived.network.crossings.get(id))
  const view = useView()
  return crossing === undefined ? null : <CrossingMarks crossing={crossing} view={view} />
}

function SelectedBenchwork({
  id,
  ring,
  index,
}: {
  readonly id: string
  readonly ring: number | null
  readonly index: number | null
}): ReactNode {
  const benchwork = usePlan((state) => recordFind(state.plan, 'benchworks', id))
  const view = useView()
  return benchwork === null ? null : <BenchworkMarks benchwork={benchwork} ring={ring} index={index} view={view} />
}

function SelectedWall({ id }: { readonly id: string }): ReactNode {
  const wall = usePlan((state) => recordFind(state.plan, 'walls', id))
  return wall === null ? null : <Outline points={wall.points} isClosed={wall.isClosed} />
}

function SelectedObstacle({ id }: { readonly id: string }): ReactNode {
  const obstacle = usePlan((state) => recordFind(state.plan, 'obstacles', id))
  return obstacle === null ? null : <Outline points={obstacle.outline} isClosed />
}

function Outline({ points, isClosed }: { readonly points: readonly Point[]; readonly isClosed: boolean }): ReactNode {
  const view = useView()
  return <path className="chosen-edge" transform={pathTransform(view)} d={polylineText(points, isClosed)} />
}
