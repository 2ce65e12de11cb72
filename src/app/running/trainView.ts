import { hurdleDepth, hurdleGap } from '../../core/clearance/index.ts'
import type { Clearances, HurdleGap, LevelPlace } from '../../core/clearance/index.ts'
import { pathPoseAt, poseOffset } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { routePieceAt } from '../../core/network/index.ts'
import type { Network, Route } from '../../core/network/index.ts'
import type { Id } from '../../core/plan/types.ts'
import type { StandingBody, StandingCoupler, Support, TrainCar } from '../../core/vehicles/index.ts'
import { trainOnRoute } from '../../tools/push/push.ts'
import type { PushedTrain, TrainOnRoute } from '../../tools/push/push.ts'

/** All that is shown of a train. */
export interface TrainView {
  readonly on: TrainOnRoute
  readonly outlines: readonly (readonly Point[])[]
  /** From rail to rail. */
  readonly axles: readonly (readonly [Point, Point])[]
  readonly couplers: readonly StandingCoupler[]
  /** To the nearest thing, within a few running clearances, negative by how deep it stands in one; null: nothing, or not known yet. */
  readonly tightest: HurdleGap | null
}

/** Gaps of this many running clearances are still shown. */
const limitsShown = 6

/** Null where the train's track is gone; outlines are empty where it cannot stand. */
export function trainView(
  network: Network,
  cars: readonly TrainCar[],
  train: PushedTrain,
  clearances: Clearances | null,
): TrainView | null {
  const on = trainOnRoute(network, cars, train)
  if (on === null) return null
  if (!on.stance.ok) return { on, outlines: [], axles: [], couplers: [], tightest: null }
  const { bodies, couplers } = on.stance
  const outlines = bodies.map(outlineOf)
  const axles = bodies.flatMap((body) => axlesOf(on.route, body, network.plan.railway.gaugeMm))
  return {
    on,
    outlines,
    axles,
    couplers,
    tightest: clearances === null ? null : tightestOf(network, on.route, bodies, outlines, clearances),
  }
}

function outlineOf({ body: { ribs }, pose }: StandingBody): readonly Point[] {
  const at = (xMm: number, yMm: number): Point => ({
    x: pose.x + xMm * Math.cos(pose.headingRad) - yMm * Math.sin(pose.headingRad),
    y: pose.y + xMm * Math.sin(pose.headingRad) + yMm * Math.cos(pose.headingRad),
  })
  return [
    ...ribs.map(({ xMm, halfWidthMm }) => at(xMm, -halfWidthMm)),
    ...ribs.toReversed().map(({ xMm, halfWidthMm }) => at(xMm, halfWidthMm)),
  ]
}

/** Axles as they stand on the rails, half a wheelbase along the line to both sides of where the support stands. */
function axlesOf({ path }: Route, { body, frontMm }: StandingBody, gaugeMm: number): readonly (readonly [Point, Point])[] {
  const rearMm = frontMm - (body.front.xMm - body.rear.xMm)
  const supports: readonly (readonly [Support, number])[] = [
    [body.front, frontMm],
    [body.rear, rearMm],
  ]
  return supports.flatMap(([{ wheelbaseMm }, middleMm]) =>
    [...new Set([middleMm - wheelbaseMm / 2, middleMm + wheelbaseMm / 2])].map((stationMm): readonly [Point, Point] => {
      const pose = pathPoseAt(path, Math.min(Math.max(stationMm, 0), path.lengthMm))
      return [poseOffset(pose, gaugeMm / 2), poseOffset(pose, -gaugeMm / 2)]
    }),
  )
}

function tightestOf(
  network: Network,
  route: Route,
  bodies: readonly StandingBody[],
  outlines: readonly (readonly Point[])[],
  clearances: Clearances,
): HurdleGap | null {
  let best: HurdleGap | null = null
  for (const [i, body] of bodies.entries()) {
    const outline = outlines[i] ?? []
    const tracks = [body.frontMm, body.frontMm - (body.body.front.xMm - body.body.rear.xMm)].flatMap((alongMm) =>
      trackUnder(network, route, alongMm),
    )
    const isPassed = (other: Id): boolean =>
      tracks.some(({ track, stationMm }) => track === other || clearances.meets(track, other, stationMm))
    const withinMm = Math.max(0, best?.gapMm ?? limitsShown * clearances.limitMm)
    const found = hurdleGap(clearances.hurdles, outline, { withinMm, isPassed, place: placeOf(tracks, clearances) })
    const deep = found?.gapMm === 0 ? hurdleDepth(clearances, outline, found.name) : null
    const gap = found && deep ? { ...found, gapMm: -deep.depthMm, from: deep.at, to: deep.at } : found
    if (gap !== null && (best === null || gap.gapMm < best.gapMm)) best = gap
  }
  return best
}

/** Where a body stands of whose track it is known how high it lies; null: of none of them. */
function placeOf(under: ReturnType<typeof trackUnder>, { swept }: Clearances): LevelPlace | null {
  for (const { track, stationMm } of under) {
    const level = swept.get(track)?.line.level ?? null
    if (level !== null) return { level, stationMm }
  }
  return null
}

/** The track whose band a place of a route lies in; the way to a leg is of the track that hangs on it, before its start or beyond its end. */
function trackUnder(network: Network, { pieces }: Route, alongMm: number): readonly { readonly track: Id; readonly stationMm: number }[] {
  const piece = routePieceAt(pieces, alongMm)
  if (piece === null) return []
  if (piece.kind === 'track') {
    const { track, stationMm, isRising, fromMm } = piece
    return [{ track, stationMm: stationMm + (isRising ? 1 : -1) * (alongMm - fromMm) }]
  }
  const toLegMm = piece.isToLeg ? piece.fromMm + piece.lengthMm - alongMm : alongMm - piece.fromMm
  const host = network.turnouts.get(piece.turnout)?.turnout
  for (const { track, alignment } of network.tracks.values()) {
    if (track.start.kind === 'leg' && track.start.turnout === piece.turnout && track.start.leg === piece.leg)
      return [{ track: track.id, stationMm: -toLegMm }]
    if (track.end.kind === 'leg' && track.end.turnout === piece.turnout && track.end.leg === piece.leg && alignment.ok)
      return [{ track: track.id, stationMm: alignment.path.lengthMm + toLegMm }]
  }
  return host === undefined ? [] : [{ track: host.track, stationMm: host.stationMm }]
}

/** Where a train's head is in terms of the plan: the track it is on, or the one it is coming to. */
export function trainStation(network: Network, { route, headMm }: TrainOnRoute): { readonly track: Id; readonly stationMm: number } | null {
  return trackUnder(network, route, headMm)[0] ?? null
}
