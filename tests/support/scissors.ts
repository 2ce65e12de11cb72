import { pathMove, pathOffset, pathReverse, pathsJoined, pathSlice } from '../../src/core/geom/index.ts'
import type { Path } from '../../src/core/geom/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Derived } from '../../src/core/pipeline/types.ts'
import type { Plan } from '../../src/core/plan/index.ts'
import { gaugeByKey, lineClassesForGauge, railwayForGauge } from '../../src/core/standards/index.ts'
import type { NetworkTurnout } from '../../src/core/network/index.ts'
import type { TurnoutRail } from '../../src/core/turnout/types.ts'
import { aMaker, planMade } from './makers.ts'
import { aTrack, planWith } from './plans.ts'
import type { WalkPlan } from './wheelsetGround.ts'

const lengthGauges = 400

/** Two straight main tracks of a scale at these centres, and the numbers of a scissors in their middle. */
export function scissorsPair(scale: string, centresMm: number): Plan {
  const row = gaugeByKey(scale)
  if (row === null) throw new Error(`no scale ${scale}`)
  const lengthMm = lengthGauges * row.gaugeMm
  const empty = planWith({
    railway: railwayForGauge(row),
    tracks: [
      aTrack({ end: { kind: 'free', x: lengthMm, y: 0 } }),
      aTrack({
        id: 'track-2',
        name: 'Second',
        start: { kind: 'free', x: 0, y: centresMm },
        end: { kind: 'free', x: lengthMm, y: centresMm },
      }),
    ],
  })
  const lineClasses = Object.fromEntries(lineClassesForGauge(row).map((lineClass) => [lineClass.id, lineClass]))
  return { ...empty, lineClasses: { ...empty.lineClasses, ...lineClasses } }
}

export function scissorsMaker(plan: Plan, frog: number, hand: 'left' | 'right' = 'left'): ReturnType<typeof aMaker> {
  const stationMm = (lengthGauges * plan.railway.gaugeMm) / 2
  return aMaker(
    { kind: 'crossover', track: 'track-1', otherTrack: 'track-2', stationMm, hand, frog, layout: 'scissors' },
    { lineClass: 'main' },
  )
}

/** What a scissors comes to on the table. */
export const scissorsLaid = (scale: string, frog: number, centresMm: number, hand: 'left' | 'right' = 'left'): Derived => {
  const pair = scissorsPair(scale, centresMm)
  return pipelineCreate().derive(planMade(pair, scissorsMaker(pair, frog, hand)))
}

type Placed = Extract<NetworkTurnout['result'], { ok: true }>

function placed(turnout: NetworkTurnout | undefined): Placed {
  if (turnout?.result.ok !== true) throw new Error('a turnout has no place')
  return turnout.result
}

/** Every rail of the plan as the wheels meet it, plain track as well. */
export function railsOf({ network, trackwork }: Derived): readonly TurnoutRail[] {
  const moved = (rails: readonly TurnoutRail[], pose: Placed['pose']): TurnoutRail[] =>
    rails.map((rail) => ({ ...rail, gaugeLine: pathMove(rail.gaugeLine, pose) }))
  return [
    ...[...network.turnouts.values()].flatMap((turnout) => moved(placed(turnout).geometry.rails, placed(turnout).pose)),
    ...[...network.crossings.values()].flatMap(({ pose, result }) => (result.ok ? moved(result.crossing.rails, pose) : [])),
    ...[...trackwork.tracks.values()].flatMap(({ rails }) =>
      rails.map(
        ({ gaugeLine: { path, offsetMm, fromMm, toMm }, headSide, headWidthMm, footWidthMm }): TurnoutRail => ({
          role: 'stock-straight',
          gaugeLine: pathOffset(pathSlice(path, fromMm, toMm), offsetMm),
          headSide,
          headWidthMm,
          footWidthMm,
        }),
      ),
    ),
  ]
}

/** All four ways through a scissors: both tracks from points to points and on, and both crossovers. */
export function scissorsWays(derived: Derived): readonly WalkPlan[] {
  const { network } = derived
  const rails = railsOf(derived)
  const turnouts = [...network.turnouts.values()]
  const throwMm = Math.max(...turnouts.map((turnout) => placed(turnout).geometry.throwMm))
  const { gaugeMm } = network.plan.railway
  const beyondMm = 4 * gaugeMm
  const hosts = ['track-1', 'track-2'].map((id): Path => {
    const track = network.tracks.get(id)
    const stations = (network.turnoutsOn.get(id) ?? []).map(({ turnout }) => turnout.stationMm)
    if (track?.alignment.ok !== true) throw new Error('a track is not solved')
    return pathSlice(track.alignment.path, Math.min(...stations) - beyondMm, Math.max(...stations) + beyondMm)
  })
  const crossovers = [...network.tracks.values()].flatMap(({ track, alignment }): Path[] => {
    if (track.start.kind !== 'leg' || track.end.kind !== 'leg' || !alignment.ok) return []
    const [from, to] = [track.start.turnout, track.end.turnout].map((id) => placed(network.turnouts.get(id)))
    const way = (at: Placed | undefined): Path =>
      pathMove(at?.geometry.divergingRoute ?? alignment.path, at?.pose ?? { x: 0, y: 0, headingRad: 0 })
    return [pathsJoined([way(from), alignment.path, pathReverse(way(to))])]
  })
  return [...hosts, ...crossovers].map((centre) => ({ route: { name: 'straight', centre, gaugeMm }, rails, throwMm }))
}
