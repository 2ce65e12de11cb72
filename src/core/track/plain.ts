import { pathPoseAt } from '../geom/index.ts'
import type { Id, TurnoutLeg } from '../plan/types.ts'
import type { Path } from '../geom/types.ts'
import { crossingStretch, crossingTaken, turnoutStretch } from '../network/index.ts'
import type { Stretch } from '../network/index.ts'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { stretchesFree } from './stretches.ts'
import { tieStations } from './tieSpacing.ts'
import { longTiesPastLeg, slantReach, tiesReach } from './turnoutTrack.ts'
import type { PlainTrack, Rail, Tie } from './types.ts'

const quarterTurn = Math.PI / 2

/** A turnout at whose leg a track starts or ends. */
export interface LegOf {
  readonly turnout: NetworkTurnout
  readonly leg: TurnoutLeg
}

/** What plain track is laid from: the line, the turnouts on it and its crossings, and the legs at which it starts and ends. */
export interface PlainRequest {
  readonly track: NetworkTrack
  readonly turnouts: readonly NetworkTurnout[]
  readonly crossings: readonly NetworkCrossing[]
  readonly startLeg: LegOf | null
  readonly endLeg: LegOf | null
}

/**
 * Rails and ties of what turnouts and crossings leave of a track.
 *
 * Rails stand half a gauge off the line; a turnout has its own from its front to the heel of its frog, a crossing from heel to heel. Ties stand square
 * to the line, evenly between the ties of neighbouring turnouts, and end half a spacing before an open end. At a leg they
 * begin behind the turnout's last long tie.
 *
 * Exactness:  offsets exact at the point.
 * Outcome:    no rails and no ties for a track that is not solved. Never throws.
 */
export function plainTrackLay({ track, turnouts, crossings, startLeg, endLeg }: PlainRequest): PlainTrack {
  const { alignment, railway, lineClass } = track
  const trackId = track.track.id
  if (!alignment.ok) return { trackId, rails: [], ties: [] }
  const { path, isClosed } = alignment
  const set = turnouts.flatMap(({ turnout, result }) => (result.ok ? [{ turnout, geometry: result.geometry }] : []))
  const railsTaken = [
    ...set.map(({ turnout, geometry }) => turnoutStretch(turnout, geometry.extent.fromMm, geometry.overallMm)),
    ...crossings.flatMap((crossing) => crossingTaken(crossing, trackId) ?? []),
  ]
  const tiesTaken = [
    ...set.map(({ turnout, geometry }) => {
      const { fromMm, toMm } = tiesReach(geometry.ties)
      return turnoutStretch(turnout, fromMm, toMm)
    }),
    ...crossings.flatMap((crossing) => crossingTies(crossing, trackId, railway) ?? []),
  ]
  const stations = plainTieStations(path, isClosed, tiesTaken, lineClass.tieSpacingMm, legTies(startLeg), legTies(endLeg))
  return {
    trackId,
    rails: stretchesFree(path.lengthMm, isClosed, railsTaken).flatMap((stretch) => plainRails(path, stretch, railway)),
    ties: stations.map((station) => tieAt(path, isClosed, station, railway)),
  }
}

/** What is found takes many looks at the line, and is asked for twice. Not part of any result. */
const known = new WeakMap<NetworkCrossing, Map<Id, { readonly railway: NetworkTrack['railway']; readonly stretch: Stretch | null }>>()

/** Stretch of a track on which the ties of a crossing lie as near to it as its own would; null: none do. */
export function crossingTies(crossing: NetworkCrossing, trackId: Id, railway: NetworkTrack['railway']): Stretch | null {
  if (!crossing.result.ok) return null
  const ofCrossing = known.get(crossing) ?? new Map<Id, { railway: NetworkTrack['railway']; stretch: Stretch | null }>()
  known.set(crossing, ofCrossing)
  const before = ofCrossing.get(trackId)
  if (before?.railway === railway) return before.stretch
  const { request, ties } = crossing.result.crossing
  const mine = crossing.track === trackId ? request.first : request.second
  const reach = slantReach(ties, mine.path, { lengthMm: railway.tieLengthMm, widthMm: railway.tieWidthMm })
  const stretch = reach === null ? null : crossingStretch(crossing, trackId, reach.fromMm - mine.atMm, reach.toMm - mine.atMm)
  ofCrossing.set(trackId, { railway, stretch })
  return stretch
}

function plainRails(path: Path, { fromMm, toMm }: Stretch, railway: NetworkTrack['railway']): Rail[] {
  const rail = (role: 'left' | 'right', headSide: 1 | -1): Rail => ({
    role,
    gaugeLine: { path, offsetMm: (headSide * railway.gaugeMm) / 2, fromMm, toMm },
    headSide,
    headWidthMm: railway.railHeadMm,
    footWidthMm: railway.railFootMm,
  })
  return [rail('left', 1), rail('right', -1)]
}

function tieAt(path: Path, isClosed: boolean, station: number, railway: NetworkTrack['railway']): Tie {
  const stationMm = isClosed ? station - path.lengthMm * Math.floor(station / path.lengthMm) : station
  const { x, y, headingRad } = pathPoseAt(path, stationMm)
  return { centre: { x, y }, axisRad: headingRad + quarterTurn, lengthMm: railway.tieLengthMm, widthMm: railway.tieWidthMm, stationMm }
}

/** How far along its leg a track still lies on ties of the turnout; null: no leg. */
function legTies(at: LegOf | null): number | null {
  if (at === null || !at.turnout.result.ok) return null
  const { geometry } = at.turnout.result
  const own = geometry.legs.find(({ leg }) => leg === at.leg)
  return own ? Math.max(0, longTiesPastLeg(geometry, own.pose)) : null
}

/** Stations of the ties of plain track. */
function plainTieStations(
  path: Path,
  isClosed: boolean,
  taken: readonly Stretch[],
  spacingMm: number,
  startLegMm: number | null,
  endLegMm: number | null,
): number[] {
  const length = path.lengthMm
  const sorted = taken.toSorted((a, b) => a.fromMm - b.fromMm)
  const [first] = sorted
  if (isClosed && !first) return [0, ...tieStations({ fromMm: 0, toMm: length }, spacingMm)]
  // Where ties are already; an open end counts as a tie half a spacing beyond it.
  const there: readonly Stretch[] =
    isClosed && first
      ? [...sorted, { fromMm: first.fromMm + length, toMm: first.toMm + length }]
      : [
          { fromMm: -Infinity, toMm: startLegMm ?? -spacingMm / 2 },
          ...sorted,
          { fromMm: length - (endLegMm ?? -spacingMm / 2), toMm: Infinity },
        ]
  let behind = -Infinity
  return there.flatMap(({ fromMm, toMm }) => {
    const gap: Stretch = { fromMm: behind, toMm: fromMm }
    behind = Math.max(behind, toMm)
    return gap.fromMm === -Infinity ? [] : tieStations(gap, spacingMm)
  })
}
