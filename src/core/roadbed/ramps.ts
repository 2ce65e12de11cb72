import { crossingStationOn, crossingTaken, turnoutStretch } from '../network/index.ts'
import type { NetworkTrack, Stretch } from '../network/index.ts'
import type { Derived } from '../pipeline/types.ts'
import type { Id, LineClass } from '../plan/types.ts'
import { stretchesFree } from '../track/index.ts'
import { heightLess, trackHeight } from './heights.ts'
import { rampShaped } from './ramp.ts'
import type { RampShape } from './ramp.ts'
import type { RoadbedProblem, RoadbedRamp } from './types.ts'

/** Rounding of stations and heights, mm. */
const grainMm = 1e-3

interface Start {
  readonly id: string
  readonly from: RoadbedRamp['from']
  readonly startMm: number
  readonly direction: 1 | -1
  readonly shape: RampShape
}

/**
 * Ramps of every track that hangs on a turnout or runs over a crossing of another height. A turnout lies wholly on the height of its host's class, a
 * crossing on that of its first track's; a ramp starts at the first tie of the track's own, behind the long ones, and where the track's own roadbed
 * begins. taken: stretches that lie on what turnouts and crossings add, by track.
 */
export function rampsOf(
  derived: Derived,
  taken: ReadonlyMap<Id, readonly Stretch[]>,
): { readonly ramps: readonly RoadbedRamp[]; readonly problems: readonly RoadbedProblem[] } {
  const ramps: RoadbedRamp[] = []
  const problems: RoadbedProblem[] = []
  for (const track of derived.network.tracks.values()) {
    const trackId = track.track.id
    const onOthers = taken.get(trackId) ?? []
    const starts = rampStarts(derived, track, onOthers)
    if (isLevelAcross(track, onOthers, starts)) continue
    for (const start of starts) {
      const { shape, id, startMm, direction } = start
      ramps.push({ id, track: trackId, from: start.from, startMm, direction, ...shape })
      const roomMm = rampRoom(derived, track, start, starts)
      const at = { ramp: id, track: trackId, stationMm: startMm }
      if (shape.lengthMm > roomMm + 1e-6) {
        const rampThatDoes = roomMm > 0 ? Math.abs(shape.dropMm) / roomMm : null
        problems.push({ kind: 'rampTooLong', ...at, neededMm: shape.lengthMm, roomMm, rampThatDoes })
      }
      const thinnest = Math.min(...shape.thickness.map(({ thicknessMm }) => thicknessMm))
      if (thinnest < -1e-6) problems.push({ kind: 'rampTooLow', ...at, missingMm: -thinnest })
    }
  }
  return { ramps, problems }
}

/** Whether a track lies wholly on what turnouts at its ends add, and these are of one height: then nothing of it is lower. */
function isLevelAcross({ alignment }: NetworkTrack, onOthers: readonly Stretch[], starts: readonly Start[]): boolean {
  if (!alignment.ok || starts.length < 2) return false
  const free = stretchesFree(alignment.path.lengthMm, alignment.isClosed, onOthers)
  const drops = starts.map(({ shape }) => shape.dropMm)
  return free.every(({ fromMm, toMm }) => toMm - fromMm < grainMm) && Math.max(...drops) - Math.min(...drops) < grainMm
}

function rampStarts(derived: Derived, { track, lineClass, alignment }: NetworkTrack, taken: readonly Stretch[]): readonly Start[] {
  const { network, trackwork } = derived
  const { railway } = derived.plan
  if (!alignment.ok) return []
  const { path, isClosed } = alignment
  const stations = (trackwork.tracks.get(track.id)?.ties ?? []).map(({ stationMm }) => stationMm)
  const own = trackHeight(railway, lineClass)
  const shapeFrom = (other: LineClass): RampShape | null =>
    rampShaped({
      less: heightLess(trackHeight(railway, other), own),
      ownMm: own.roadbedMm,
      grade: railway.laying.roadbedRamp,
      shimMm: railway.laying.shimMm,
    })
  const atEnds = (['start', 'end'] as const).flatMap((name): readonly Start[] => {
    const end = track[name]
    const turnout = end.kind === 'leg' ? network.turnouts.get(end.turnout) : undefined
    if (!turnout?.result.ok || turnout.lineClass === null) return []
    const shape = shapeFrom(turnout.lineClass)
    if (shape === null) return []
    const direction = name === 'start' ? 1 : -1
    const tieMm = direction === 1 ? Math.min(path.lengthMm, ...stations) : Math.max(0, ...stations)
    const startMm = beyondTaken(tieMm, direction, taken)
    return [{ id: `${track.id}:${name}`, from: { kind: 'turnout', turnout: turnout.turnout.id }, startMm, direction, shape }]
  })
  const atCrossings = (network.crossingsOn.get(track.id) ?? []).flatMap((crossing): readonly Start[] => {
    const first = network.tracks.get(crossing.track)
    if (crossing.other !== track.id || !crossing.result.ok || !first) return []
    const shape = shapeFrom(first.lineClass)
    if (shape === null) return []
    const atMm = crossingStationOn(crossing, track.id)
    return ([-1, 1] as const).map((direction) => ({
      id: `${track.id}:${crossing.id}:${direction === 1 ? 'beyond' : 'before'}`,
      from: { kind: 'crossing', crossing: crossing.id },
      startMm: beyondTaken(nextStation(stations, atMm, direction, isClosed ? path.lengthMm : null) ?? atMm, direction, taken),
      direction,
      shape,
    }))
  })
  return [...atEnds, ...atCrossings]
}

/** A station, or the end of the stretch that it lies in, as one goes that way. */
function beyondTaken(atMm: number, direction: 1 | -1, taken: readonly Stretch[]): number {
  return taken.reduce((at, { fromMm, toMm }) => (fromMm <= at && at <= toMm ? (direction === 1 ? toMm : fromMm) : at), atMm)
}

/** The first of the stations beyond a place, as one goes that way. */
function nextStation(stations: readonly number[], atMm: number, direction: 1 | -1, roundMm: number | null): number | null {
  let best: { readonly station: number; readonly away: number } | null = null
  for (const station of stations) {
    const along = direction * (station - atMm)
    const away = roundMm === null || along > 0 ? along : along + roundMm
    if (away > 0 && (best === null || away < best.away)) best = { station, away }
  }
  return best?.station ?? null
}

/** How far a ramp can run: to the next turnout or crossing, the track's end, or its share where another comes towards it. */
function rampRoom({ network }: Derived, { track, alignment }: NetworkTrack, start: Start, all: readonly Start[]): number {
  if (!alignment.ok) return 0
  const { path, isClosed } = alignment
  const { startMm, direction } = start
  const taken = [
    ...(network.turnoutsOn.get(track.id) ?? []).flatMap(({ turnout, result }) =>
      result.ok ? turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm) : [],
    ),
    ...(network.crossingsOn.get(track.id) ?? []).flatMap((crossing) => crossingTaken(crossing, track.id) ?? []),
  ]
  const towards = taken.map(({ fromMm, toMm }) => direction * ((direction === 1 ? fromMm : toMm) - startMm))
  const isWithin = taken.some(({ fromMm, toMm }) => fromMm < startMm && startMm < toMm)
  const round = isClosed ? towards.map((away) => (away < -1e-6 ? away + path.lengthMm : away)) : towards
  const end = isClosed ? [] : [direction === 1 ? path.lengthMm - startMm : startMm]
  const free = isWithin ? 0 : Math.max(0, Math.min(Infinity, ...round.filter((away) => away >= -1e-6), ...end))
  const roomMm = Number.isFinite(free) ? free : path.lengthMm
  const against = all.flatMap((other) => {
    const away = direction * (other.startMm - startMm)
    return other !== start && other.direction !== direction && away > 0 && away <= roomMm ? [{ away, other }] : []
  })
  const [next] = against.toSorted((a, b) => a.away - b.away)
  return next ? (next.away * start.shape.lengthMm) / (start.shape.lengthMm + next.other.shape.lengthMm) : roomMm
}
