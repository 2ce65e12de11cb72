import { EndType, JoinType, inflatePathsD } from 'clipper2-ts'
import { chainCut, corridorAsGiven, corridorParting } from '../alignment/index.ts'
import type { CorridorChain, CorridorNear, CorridorParting, FairCorner, FairRequest, HeldStretch } from '../alignment/index.ts'
import type { Alignment, AlignmentProblem, Traverse } from '../alignment/types.ts'
import { benchArea } from '../checks/index.ts'
import { pathFlatten, pathMove, pathPoseAt, pathStart, pointDistance, pointDot, poseAhead } from '../geom/index.ts'
import type { Path, Point, Pose } from '../geom/types.ts'
import { legPose } from '../network/index.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Corner, Id, LegEnd, LineClass, Track } from '../plan/types.ts'
import type { Derived } from './types.ts'

/** What a builder may say about an easing; null: as the railway and the line classes have it. */
export interface FairOptions {
  /** Centreline to edges of benchwork, walls and obstacles, mm. */
  readonly edgeMarginMm: number | null
  /** Centreline to centreline of other tracks, mm; null: half of both classes' track centres. */
  readonly centresMm: number | null
  /** asGiven: where the line is nearer already it may stay so, and no nearer. refuse: then it is not eased at all. */
  readonly nearness: 'asGiven' | 'refuse'
  readonly roundsMost: number
}

export type FairPlanProblem =
  | { readonly kind: 'trackMissing'; readonly track: Id }
  | { readonly kind: 'trackUnsolved'; readonly track: Id; readonly problems: readonly AlignmentProblem[] }
  | { readonly kind: 'compoundCurve'; readonly corner: Id }
  /** The benchwork is nowhere as wide as twice the margin. */
  | { readonly kind: 'corridorEmpty'; readonly marginMm: number }
  /** The margin leaves the two ends of the line in different pieces of benchwork; told where the line may not be nearer than asked. */
  | { readonly kind: 'corridorParted'; readonly parting: CorridorParting }

export type FairPlanRequest =
  | { readonly ok: true; readonly request: FairRequest; readonly near: readonly CorridorNear[]; readonly parting: CorridorParting | null }
  | { readonly ok: false; readonly problem: FairPlanProblem }

/** Edges of the room are cut into pieces of at most this, mm, for a line that is too near in one place must not be let go in others. */
const EDGE_PIECE_MM = 100

/** The same for tracks. */
const TRACK_PIECE_MM = 50

/** How far the chords that stand for another track may lie off it, mm. */
const TRACK_CHORD_MM = 0.1

/** A margin of nothing still keeps the line on the benchwork, mm. */
const LEAST_KEEP_MM = 1

/** Ends of two tracks this near, mm, and in line within this, rad, are one line that goes on. */
const CONTACT_MM = 1
const CONTACT_RAD = 0.02

/**
 * What easing a track of a plan asks: its PIs with the easements by class, the sides that its turnouts sit on held straight, and
 * the corridor of benchwork, walls, obstacles and all other tracks. Chains are labelled by table and id (`tracks:track-2`);
 * the benchwork counts as one piece (`benchworks`).
 *
 * Units:      mm.
 * Domain:     any derived plan.
 * Outcome:    the request with all places where the line is nearer than asked as it stands (but to tracks that part from it at a
 *             turnout), or why the track cannot be eased.
 * Throws:     never.
 */
export function fairRequest({ plan, network }: Derived, trackId: Id, options: FairOptions): FairPlanRequest {
  const own = network.tracks.get(trackId)
  if (own === undefined) return { ok: false, problem: { kind: 'trackMissing', track: trackId } }
  const { track, lineClass, alignment } = own
  if (!alignment.ok) return { ok: false, problem: { kind: 'trackUnsolved', track: trackId, problems: alignment.problems } }
  const corners: FairCorner[] = []
  for (const [i, corner] of track.corners.entries()) {
    const fair = cornerToEase(corner, lineClass, alignment.corners[i]?.solution)
    if (fair === null) return { ok: false, problem: { kind: 'compoundCurve', corner: corner.id } }
    corners.push(fair)
  }
  const marginMm = Math.max(LEAST_KEEP_MM, options.edgeMarginMm ?? plan.railway.edgeMarginMm)
  const area = benchArea(plan.benchworks)
  const rings = area.rings.map((ring) => ring.map(({ x, y }) => ({ x, y })))
  if (rings.length > 0 && inflatePathsD(rings, -marginMm, JoinType.Miter, EndType.Polygon).length === 0)
    return { ok: false, problem: { kind: 'corridorEmpty', marginMm } }
  const parting = rings.length === 0 || alignment.isClosed ? null : corridorParting(rings, alignment.path, marginMm)
  if (parting !== null && options.nearness === 'refuse') return { ok: false, problem: { kind: 'corridorParted', parting } }

  const asked = { chains: [...roomChains({ plan, network }, rings, marginMm), ...trackChains({ plan, network }, own, options)] }
  const { corridor, near } = options.nearness === 'asGiven' ? corridorAsGiven(asked, alignment.path) : { corridor: asked, near: [] }
  const partings = partingLabels({ plan, network }, track)
  const start = trackStart(track, alignment, network)
  const end = trackEnd(track, alignment, network)
  return {
    ok: true,
    near: near.filter(({ label }) => !partings.has(label)),
    parting,
    request: {
      start,
      corners,
      end,
      easementRule: lineClass.easement,
      held: [...turnoutStretches(trackId, alignment, network), ...endsInLine(own, [...network.tracks.values()])],
      heldCorners: [],
      corridor,
      selfKeepMm: options.centresMm ?? lineClass.trackCentresMm,
      roundsMost: options.roundsMost,
    },
  }
}

type Solved = Extract<Alignment, { ok: true }>
type Room = Pick<Derived, 'plan' | 'network'>

function cornerToEase(
  corner: Corner,
  lineClass: LineClass,
  solution: Solved['corners'][number]['solution'] | undefined,
): FairCorner | null {
  const { id, x, y, radius, easementIn, easementOut } = corner
  if (typeof radius === 'object') return null
  if (radius !== 'easement-only')
    return { id, x, y, radiusMm: radius === 'class' ? lineClass.usualRadiusMm : radius, easementIn, easementOut }
  const lengths = { easementIn: solution?.easementInMm ?? 0, easementOut: solution?.easementOutMm ?? 0 }
  return { id, x, y, radiusMm: null, ...lengths }
}

function trackStart(track: Track, alignment: Solved, network: Derived['network']): Traverse['start'] {
  if (track.start.kind === 'free') return { kind: 'free', at: { x: track.start.x, y: track.start.y } }
  return { kind: 'leg', turnout: track.start.turnout, pose: legPoseIn(network, track.start) ?? pathStart(alignment.path) }
}

function trackEnd(track: Track, alignment: Solved, network: Derived['network']): Traverse['end'] {
  if (track.end.kind === 'closed') return { kind: 'closed' }
  if (track.end.kind === 'free') {
    const { x, y } = alignment.path.end
    return { kind: 'free', at: { x, y } }
  }
  return { kind: 'leg', turnout: track.end.turnout, pose: legPoseIn(network, track.end) ?? alignment.path.end }
}

function legPoseIn(network: Derived['network'], { turnout, leg }: LegEnd): Pose | null {
  const result = network.turnouts.get(turnout)?.result
  return result === undefined ? null : legPose(result, leg)
}

const closed = (ring: readonly Point[]): readonly Point[] => [...ring, ...ring.slice(0, 1)]

function roomChains({ plan }: Room, rings: readonly (readonly Point[])[], marginMm: number): readonly CorridorChain[] {
  return [
    ...rings.map((ring) => chainCut(closed(ring), marginMm, EDGE_PIECE_MM, 'benchworks')),
    ...Object.values(plan.obstacles).map(({ id, outline }) => chainCut(closed(outline), marginMm, EDGE_PIECE_MM, `obstacles:${id}`)),
    ...Object.values(plan.walls).map(({ id, points, isClosed }) =>
      chainCut(isClosed ? closed(points) : points, marginMm, EDGE_PIECE_MM, `walls:${id}`),
    ),
  ]
}

/** All other centrelines: tracks, and the diverging routes of turnouts. */
function trackChains({ network }: Room, own: NetworkTrack, { centresMm }: FairOptions): readonly CorridorChain[] {
  const chain = (path: Path, lineClass: LineClass, label: string): CorridorChain => {
    const keepMm = centresMm ?? (own.lineClass.trackCentresMm + lineClass.trackCentresMm) / 2
    const points = pathFlatten(path, { fromMm: 0, toMm: path.lengthMm, offsetMm: 0, toleranceMm: TRACK_CHORD_MM })
    return chainCut(points, keepMm, TRACK_PIECE_MM, label)
  }
  return [
    ...[...network.tracks.values()].flatMap(({ track, alignment, lineClass }) =>
      track.id === own.track.id || !alignment.ok ? [] : [chain(alignment.path, lineClass, `tracks:${track.id}`)],
    ),
    ...[...network.turnouts.values()].flatMap(({ turnout, lineClass, result }) => {
      const isOwn = turnout.track === own.track.id || legTurnouts(own.track).includes(turnout.id)
      if (isOwn || lineClass === null || !result.ok) return []
      const { pose, geometry } = result
      return geometry.routes.flatMap(({ name, centre }) =>
        name === 'straight' ? [] : [chain(pathMove(centre, pose), lineClass, `turnouts:${turnout.id}`)],
      )
    }),
  ]
}

/** Turnouts on whose legs a track starts and ends. */
const legTurnouts = ({ start, end }: Track): readonly Id[] => [start, end].flatMap((at) => (at.kind === 'leg' ? [at.turnout] : []))

/** Labels of tracks that part from this one at a turnout: nearness to them there is no fault. */
function partingLabels({ plan }: Room, track: Track): ReadonlySet<string> {
  const hosts = legTurnouts(track).flatMap((id) => plan.turnouts[id]?.track ?? [])
  const guests = Object.values(plan.tracks).filter((other) => legTurnouts(other).some((id) => plan.turnouts[id]?.track === track.id))
  return new Set([...hosts, ...guests.map(({ id }) => id)].map((id) => `tracks:${id}`))
}

/** A turnout's ends lie on its side within this, mm. */
const ON_SIDE_MM = 1e-3

/** Stretches of the track's sides that its turnouts take. */
function turnoutStretches(trackId: Id, alignment: Solved, network: Derived['network']): readonly HeldStretch[] {
  const { polygon } = alignment
  return (network.turnoutsOn.get(trackId) ?? []).flatMap(({ result }): HeldStretch[] => {
    if (!result.ok) return []
    const { extent } = result.geometry
    const ends = [poseAhead(result.pose, extent.fromMm), poseAhead(result.pose, extent.toMm)]
    for (const [i, to] of polygon.slice(1).entries()) {
      const from = polygon[i]
      if (from === undefined) continue
      const lengthMm = pointDistance(from, to)
      const unit = { x: (to.x - from.x) / lengthMm, y: (to.y - from.y) / lengthMm }
      const along = ends.map((end) => pointDot({ x: end.x - from.x, y: end.y - from.y }, unit))
      const isOn = ends.every((end, n) => {
        const at = along[n] ?? 0
        const foot = { x: from.x + at * unit.x, y: from.y + at * unit.y }
        return at >= -ON_SIDE_MM && at <= lengthMm + ON_SIDE_MM && pointDistance(foot, end) <= ON_SIDE_MM
      })
      if (!isOn) continue
      const side = alignment.isClosed ? (i + 1) % (polygon.length - 1) : i
      return [{ side, fromMm: Math.min(...along), toMm: Math.max(...along) }]
    }
    return []
  })
}

/** A free end that another track goes on from keeps its direction. */
function endsInLine({ track, alignment }: NetworkTrack, tracks: readonly NetworkTrack[]): readonly HeldStretch[] {
  if (!alignment.ok || alignment.isClosed) return []
  const others = tracks.flatMap((other): Pose[] =>
    other.track.id === track.id || !other.alignment.ok || other.alignment.isClosed
      ? []
      : [pathStart(other.alignment.path), pathPoseAt(other.alignment.path, other.alignment.path.lengthMm)],
  )
  const goesOn = (end: Pose): boolean =>
    others.some((other) => pointDistance(end, other) < CONTACT_MM && Math.abs(Math.sin(end.headingRad - other.headingRad)) < CONTACT_RAD)
  const still = (side: number): HeldStretch => ({ side, fromMm: 0, toMm: 0 })
  return [
    ...(track.start.kind === 'free' && goesOn(pathStart(alignment.path)) ? [still(0)] : []),
    ...(track.end.kind === 'free' && goesOn(alignment.path.end) ? [still(track.corners.length)] : []),
  ]
}
