import { Suspense, lazy } from 'react'
import type { ReactNode } from 'react'
import type { Point } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import { useDerived, usePlan, useSession } from '../context.ts'
import { MakerMarks } from '../makers/MakerMarks.tsx'
import { BenchworkMarks } from './BenchworkMarks.tsx'
import { useView } from './canvasContext.ts'
import { CrossingMarks } from './CrossingMarks.tsx'
import { RoomThingMarks } from './RoomThingMarks.tsx'
import { pathTransform, polylineText } from './svgPath.ts'
import { TrackMarks } from './TrackMarks.tsx'
import { TurnoutMarks } from './TurnoutMarks.tsx'

// Several things at once are chosen by those who know the desk a little.
const SeveralMarks = lazy(() => import('../several/SeveralMarks.tsx'))

/** Construction lines and handles of what is selected. */
export function SelectionMarks(): ReactNode {
  const selection = useSession((session) => session.selection)
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
