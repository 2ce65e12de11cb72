import { pathFromElements, pathPoseAt, pathSlice, poseAhead, poseOffset } from '../geom/index.ts'
import type { CurveElement, Path, Pose } from '../geom/types.ts'
import { bend, chainStart, elementsOffset, straight } from './bend.ts'
import { coverBehindFlangeways } from './requestCheck.ts'
import type { Skeleton } from './skeleton.ts'
import { stockRails } from './stockRail.ts'
import type { HeadWidth, TurnoutRail, TurnoutRailRole } from './types.ts'

/** Angle at which guard and wing rails open at their ends [NEM-124 p. 2, guide value]. */
const flareAngleRad = (5 * Math.PI) / 180
/** A flare opens the flangeway by this part of itself. Common practice, no source. */
const flareOpensFlangeways = 0.5
/** Ahead of the throat the guarded part begins this many flangeways early. Common practice, no source. */
const coverAheadFlangeways = 2

/**
 * All rails of a left-hand turnout.
 *
 * Facing the points: the straight stock rail and the outer rail of the diverging route are on the right, the curved
 * stock rail and the inner rail of the straight route on the left. A rail that carries or guards the straight route's
 * wheels is `-straight`. Points are drawn closed, each against its stock rail.
 */
export function turnoutRails(skeleton: Skeleton): { readonly rails: TurnoutRail[]; readonly frontX: number } {
  const { request } = skeleton
  const stock = stockRails(skeleton)
  const rail = (role: TurnoutRailRole, headSide: 1 | -1, gaugeLine: Path): TurnoutRail => ({
    role,
    gaugeLine,
    headSide,
    headWidthMm: request.railHeadMm,
    footWidthMm: request.railFootMm,
  })
  const rails: TurnoutRail[] = [
    rail('stock-straight', -1, stock.straight),
    rail('stock-curved', 1, stock.curved),
    ...pointAndClosureRails(skeleton, rail),
    ...frogRails(skeleton, rail),
    ...guardRails(skeleton, rail),
  ]
  return { rails, frontX: stock.frontX }
}

type RailOf = (role: TurnoutRailRole, headSide: 1 | -1, gaugeLine: Path) => TurnoutRail

function pointAndClosureRails(skeleton: Skeleton, rail: RailOf): TurnoutRail[] {
  const { request, closure, outerParts, tip, heel } = skeleton
  const innerY = request.gaugeMm / 2
  const pointStraight = pathFromElements({ x: 0, y: innerY, headingRad: 0 }, [straight(request.pointLengthMm)])
  const planed = { startHeadMm: request.pointThicknessMm, headTaper: pointTaper(skeleton) }
  return [
    { ...rail('point-straight', 1, pointStraight), ...planed },
    { ...rail('point-curved', -1, pathFromElements(tip, [outerParts[0]])), ...planed },
    rail('closure-straight', 1, pathFromElements(pointStraight.end, [straight(closure.straightMm)])),
    rail('closure-curved', -1, pathFromElements(heel, [outerParts[1]])),
  ]
}

/**
 * A planed curved point is told in this many even tapers; against the true curve of its stock rail they are out by a
 * sixty-fourth of a rail head, a hundredth of a millimetre in HO.
 */
const curvedTapers = 4

/** A point is planed to lie against its stock rail: where the gap is narrower than a rail head the head is as wide as the gap. */
function pointTaper({ request, points }: Skeleton): HeadWidth[] {
  const { pointThicknessMm: t, railHeadMm, pointLengthMm } = request
  const head = Math.min(railHeadMm, request.heelSpreadMm)
  if (points.radiusMm === null) {
    const full = Math.min((head - t) / Math.sin(points.heelAngleRad), pointLengthMm)
    return [
      { alongMm: 0, headMm: t },
      { alongMm: full, headMm: head },
    ]
  }
  const { radiusMm, entryAngleRad } = points
  const turn = Math.acos(Math.cos(entryAngleRad) - (head - t) / radiusMm) - entryAngleRad
  return Array.from({ length: curvedTapers + 1 }, (_, i) => {
    const turned = (turn * i) / curvedTapers
    // cos S0 - cos(S0 + turned), without cancelling.
    const opened = 2 * Math.sin(entryAngleRad + turned / 2) * Math.sin(turned / 2)
    return { alongMm: radiusMm * turned, headMm: t + radiusMm * opened }
  })
}

/**
 * The frog: from each toe a wing rail along the gauge line to the knuckle, bent there to run one flangeway off the vee's
 * far gauge line; and the two rails of the vee from the half-inch point to the heel. Each vee rail has half of the vee
 * until there is room for its full head.
 */
function frogRails(skeleton: Skeleton, rail: RailOf): TurnoutRail[] {
  const { request, frogAngleRad: f, frog, frogPoint, toe, closure } = skeleton
  const head = request.railHeadMm
  // From the knuckle the wing's line runs flangeway / tan F to abreast of the theoretical point; the bend is over by then.
  const toPoint = request.flangewayMm / Math.tan(f)
  const tangent = Math.min(head, toPoint)
  const toBend = Math.max(0, request.toeLengthMm - frog.knuckle - tangent)
  const wingBehind = toPoint - tangent + frog.halfInch + coverBehindFlangeways * request.flangewayMm
  const wing = (start: Pose, turn: 1 | -1): Path =>
    pathFromElements(start, [
      straight(toBend),
      bend(turn * f, tangent),
      straight(wingBehind),
      bend(turn * flareAngleRad, head),
      straight(flareLength(request.flangewayMm)),
    ])
  const vee = (headingRad: number): Path =>
    pathFromElements(poseAhead({ ...frogPoint, headingRad }, frog.halfInch), [straight(request.heelLengthMm - frog.halfInch)])
  const edge = Math.min(frog.halfInch * Math.tan(f / 2), head)
  const filed = {
    startHeadMm: edge,
    headTaper: [
      { alongMm: 0, headMm: edge },
      { alongMm: Math.max(frog.fullHeads - frog.halfInch, 0), headMm: head },
    ],
  }
  return [
    rail('wing-straight', 1, wing({ x: closure.leadMm - request.toeLengthMm, y: frogPoint.y, headingRad: 0 }, 1)),
    rail('wing-curved', -1, wing(toe, -1)),
    { ...rail('frog-straight', 1, vee(0)), ...filed },
    { ...rail('frog-curved', -1, vee(f)), ...filed },
  ]
}

/**
 * A guard rail on each route, its face the check gauge off the frog's gauge line. The parallel part reaches from ahead of
 * the throat, where the wheel loses its rail, to behind the actual point [NMRA-RP-13.5]; both ends flare.
 */
function guardRails(skeleton: Skeleton, rail: RailOf): TurnoutRail[] {
  const { request, frog, frogPoint, outer } = skeleton
  const ahead = frog.knuckle + coverAheadFlangeways * request.flangewayMm
  const behind = frog.halfInch + coverBehindFlangeways * request.flangewayMm
  const straightStart: Pose = { x: frogPoint.x - ahead, y: frogPoint.y - request.checkGaugeMm, headingRad: 0 }

  const pointStation = outer.lengthMm - request.heelLengthMm
  const guarded = pathSlice(outer, Math.max(0, pointStation - ahead), pointStation + behind)
  const start = poseOffset(pathPoseAt(guarded, 0), request.checkGaugeMm)
  return [
    rail('guard-straight', 1, flared(skeleton, straightStart, [straight(ahead + behind)], 1)),
    rail('guard-curved', -1, flared(skeleton, start, elementsOffset(guarded.elements, request.checkGaugeMm), -1)),
  ]
}

/** A parallel part with a flare at each end; `side` is where the rail lies and to which it opens. */
function flared({ request }: Skeleton, start: Pose, parallel: readonly CurveElement[], side: 1 | -1): Path {
  const flare = straight(flareLength(request.gaugeMm - request.checkGaugeMm))
  const turn = bend(side * flareAngleRad, request.railHeadMm)
  return pathFromElements(chainStart([flare, turn], start), [flare, turn, ...parallel, turn, flare])
}

function flareLength(flangewayMm: number): number {
  return (flareOpensFlangeways * flangewayMm) / Math.sin(flareAngleRad)
}
