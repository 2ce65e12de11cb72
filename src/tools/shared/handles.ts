import type { Point, Pose } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { Derived } from '../../core/pipeline/types.ts'
import { legHolders, recordFind } from '../../core/plan/index.ts'
import type { Benchwork, Id, Plan, Track, TurnoutLeg } from '../../core/plan/types.ts'

/** Where the parts of a track that one can take hold of are, as the line uses them (PIs projected on a leg's tangent). */
export interface TrackHandles {
  readonly corners: readonly Point[]
  /** Null for a loop, and where a leg is not in its place. */
  readonly start: Point | null
  readonly end: Point | null
  /** Sides by number: side i runs to corner i, the last one to the end. A loop's side 0 comes from its last corner. */
  readonly sides: readonly (readonly [Point, Point])[]
}

const handlesByTrack = new WeakMap<NetworkTrack, TrackHandles>()

export function trackHandles(networkTrack: NetworkTrack): TrackHandles {
  const known = handlesByTrack.get(networkTrack)
  if (known !== undefined) return known
  const made = handlesMade(networkTrack.track, networkTrack.alignment.polygon)
  handlesByTrack.set(networkTrack, made)
  return made
}

function handlesMade(track: Track, polygon: readonly Point[]): TrackHandles {
  const count = track.corners.length
  if (track.end.kind === 'closed') {
    const corners = polygon.length > count ? polygon.slice(0, count) : track.corners
    const sides = corners.map((corner, i): readonly [Point, Point] => [corners.at(i - 1) ?? corner, corner])
    return { corners, start: null, end: null, sides }
  }
  if (polygon.length !== count + 2) {
    const start = track.start.kind === 'free' ? track.start : null
    const end = track.end.kind === 'free' ? track.end : null
    return { corners: track.corners, start, end, sides: chainSides([...some(start), ...track.corners, ...some(end)]) }
  }
  return { corners: polygon.slice(1, -1), start: polygon[0] ?? null, end: polygon.at(-1) ?? null, sides: chainSides(polygon) }
}

function some(point: Point | null): readonly Point[] {
  return point === null ? [] : [point]
}

function chainSides(points: readonly Point[]): readonly (readonly [Point, Point])[] {
  return points.slice(1).map((to, i) => [points[i] ?? to, to])
}

/** A leg of a turnout in its place, and the track that has it. */
export interface LegPlace {
  readonly turnout: Id
  readonly leg: TurnoutLeg
  readonly pose: Pose
  readonly takenBy: Id | null
}

const legsByNetwork = new WeakMap<Derived['network'], readonly LegPlace[]>()

/** All legs that a track can start from or end at. */
export function legPlaces(derived: Derived): readonly LegPlace[] {
  const known = legsByNetwork.get(derived.network)
  if (known !== undefined) return known
  const holders = legHolders(derived.plan)
  const places: LegPlace[] = []
  for (const [id, { result }] of derived.network.turnouts) {
    if (!result.ok) continue
    for (const { leg, pose } of result.legs) {
      places.push({ turnout: id, leg, pose, takenBy: holders.get(id)?.find((holder) => holder.leg === leg)?.track ?? null })
    }
  }
  legsByNetwork.set(derived.network, places)
  return places
}

/** Pose of a leg in its place; null: it has none. */
export function legPoseIn(derived: Derived, turnout: Id, leg: TurnoutLeg): Pose | null {
  return legPlaces(derived).find((one) => one.turnout === turnout && one.leg === leg)?.pose ?? null
}

/** A ring of benchwork by number: -1 the outline, 0.. a hole. */
export function benchworkRing(benchwork: Benchwork, ring: number): readonly Point[] {
  return ring < 0 ? benchwork.outline : (benchwork.holes[ring] ?? [])
}

/** Each ring of a piece of benchwork with its number. */
export function benchworkRings(benchwork: Benchwork): readonly (readonly [number, readonly Point[]])[] {
  return [[-1, benchwork.outline], ...benchwork.holes.map((hole, i): readonly [number, readonly Point[]] => [i, hole])]
}

/** The stored corner and its number. */
export function trackCorner(plan: Plan, trackId: Id, cornerId: Id): { readonly track: Track; readonly index: number } | null {
  const track = recordFind(plan, 'tracks', trackId)
  if (track === null) return null
  const index = track.corners.findIndex((corner) => corner.id === cornerId)
  return index < 0 ? null : { track, index }
}
