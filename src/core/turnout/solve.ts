import { pathFromElements, poseAhead } from '../geom/index.ts'
import { straight } from './bend.ts'
import { closureOrdinates, closureSolve } from './closure.ts'
import { frogAngle } from './frog.ts'
import { turnoutMirror } from './mirror.ts'
import { pointsSolve } from './points.ts'
import { turnoutRails } from './rails.ts'
import { requestProblem } from './requestCheck.ts'
import { outerOffset, skeletonBuild } from './skeleton.ts'
import type { Skeleton } from './skeleton.ts'
import { gapsBetweenTies } from './ties/gapBays.ts'
import { throwBarStation } from './ties/lay.ts'
import { turnoutTies } from './ties/turnoutTies.ts'
import type { TurnoutGap, TurnoutGeometry, TurnoutRequest, TurnoutResult } from './types.ts'

const mmPerInch = 25.4
/**
 * Throw at the tip: 4 1/2 in full size, and on models with their wide flangeways at least this many of them.
 * [NMRA-S-3.2-2010] leaves between gauge and points spread 1.31 flangeways in HO and 1.25 in O.
 */
const throwInches = 4.5
const throwFlangeways = 1.3

/**
 * A turnout on a straight host, from gauge and frog number to every rail and tie.
 *
 * Units:      mm on the model, rad.
 * Domain:     frog number 2 to 30; any gauge. The host is straight.
 * Exactness:  up to rounding. Gauge is exact along the straight route behind the point's tip and along the diverging
 *             route from the tip of the curved point (t / tan S and a rail head around the stock rail's bend excepted).
 * Outcome:    the geometry, or the first problem with the value that would do. NaN and infinities are problems.
 * Throws:     never.
 * Source:     parts: pointsSolve, closureSolve, frogDistances; each names its own.
 */
export function turnoutSolve(request: TurnoutRequest): TurnoutResult {
  const problem = requestProblem(request)
  if (problem !== null) return { ok: false, problem }
  const frogAngleRad = frogAngle(request.frog, request.frogDefinition)
  const points = pointsSolve(request, frogAngleRad)
  if (!points.ok) return points
  const closure = closureSolve(request, points.points, frogAngleRad)
  if (!closure.ok) return closure
  const left = turnoutLay(skeletonBuild({ ...request, hand: 'left' }, frogAngleRad, points.points, closure.closure))
  return { ok: true, turnout: request.hand === 'left' ? left : turnoutMirror(left) }
}

function turnoutLay(skeleton: Skeleton): TurnoutGeometry {
  const { request, frogAngleRad, points, closure, frog, frogPoint, toe } = skeleton
  const { gaugeMm: gauge, railHeadMm: head, tieSpacingMm } = request
  const closureRadiusMm = closure.gaugeLineRadiusMm - gauge / 2
  const divergingRoute = outerOffset(skeleton, gauge / 2)
  const { rails, frontX } = turnoutRails(skeleton)
  const throwAt = { stationMm: 0, ahead: 1, side: 1 } as const
  const ties = turnoutTies(request, {
    hasHostTrack: true,
    routes: [{ centre: divergingRoute }],
    heads: [throwAt],
    stressed: [
      { fromMm: 0, toMm: points.heelXMm },
      { fromMm: closure.leadMm - request.toeLengthMm, toMm: closure.leadMm + request.heelLengthMm },
    ],
  })
  const lastTieX = ties.at(-1)?.stationMm ?? 0
  const overallMm = closure.leadMm + request.heelLengthMm
  const throwMm = Math.max((throwInches * mmPerInch) / request.ratio, throwFlangeways * request.flangewayMm)
  const gaps: TurnoutGap[] = [
    { at: { x: closure.leadMm - request.toeLengthMm, y: frogPoint.y }, rail: 'closure-straight' },
    { at: { x: toe.x, y: toe.y }, rail: 'closure-curved' },
    { at: { x: overallMm, y: frogPoint.y }, rail: 'frog-straight' },
    { at: pointOf(skeleton.outer.end), rail: 'frog-curved' },
  ]
  const straightRoute = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [straight(overallMm)])
  const ordinates = closureOrdinates(request.heelSpreadMm, points, closure, frogAngleRad)
  const divergingRadiusMm = points.radiusMm === null ? closureRadiusMm : Math.min(closureRadiusMm, points.radiusMm - gauge / 2)
  const halfInchPoint = pointOf(poseAhead({ ...frogPoint, headingRad: frogAngleRad / 2 }, frog.halfInch * Math.cos(frogAngleRad / 2)))
  return {
    request,
    routes: [
      { name: 'straight', centre: straightRoute, gaugeMm: gauge },
      { name: 'curved', centre: divergingRoute, gaugeMm: gauge },
    ],
    frogs: [
      {
        kind: 'vee',
        at: frogPoint,
        headingRad: frogAngleRad / 2,
        angleRad: frogAngleRad,
        number: 1 / (2 * Math.tan(frogAngleRad / 2)),
        lines: [
          { route: 'straight', side: 'left', stationMm: closure.leadMm },
          { route: 'curved', side: 'right', stationMm: skeleton.outer.lengthMm - request.heelLengthMm },
        ],
        actualPoint: halfInchPoint,
        unguardedMm: 0,
      },
    ],
    divergences: [
      {
        route: 'curved',
        frogAngleRad,
        switchAngleRad: points.heelAngleRad,
        leadMm: closure.leadMm,
        radiusMm: divergingRadiusMm,
        closureRadiusMm,
        ordinates,
      },
    ],
    legs: [{ leg: 'diverging', route: 'curved', pose: divergingRoute.end }],
    frogAngleRad,
    switchAngleRad: points.heelAngleRad,
    heelAngleRad: points.heelAngleRad,
    pointRadiusMm: points.radiusMm,
    leadMm: closure.leadMm,
    closureRadiusMm,
    closureGaugeLineRadiusMm: closure.gaugeLineRadiusMm,
    divergingRadiusMm,
    closureStraightMm: closure.straightMm,
    closureCurvedMm: closure.curvedMm,
    throatMm: frog.throat,
    overallMm,
    foulingMm: foulingDistance(gauge, request.foulingMm, frogAngleRad),
    throwMm,
    ordinates,
    rails,
    ties,
    gaps: gapsBetweenTies(gaps, rails, ties),
    // The throw bar lies between the two head blocks; its wire is taken as thick as a rail head.
    throwHole: {
      at: { x: throwBarStation(ties, throwAt, tieSpacingMm), y: 0 },
      slotLengthMm: throwMm + 2 * head,
      slotWidthMm: Math.min(2 * head, tieSpacingMm - request.tieWidthMm),
    },
    straightRoute,
    divergingRoute,
    leg: divergingRoute.end,
    frogPoint,
    halfInchPoint,
    extent: { fromMm: frontX, toMm: Math.max(overallMm, lastTieX + request.tieWidthMm / 2) },
  }
}

function pointOf({ x, y }: { readonly x: number; readonly y: number }): { readonly x: number; readonly y: number } {
  return { x, y }
}

/**
 * Fouling point: distance beyond the theoretical frog point, along the straight route, at which the centrelines stand
 * f apart, measured square to the straight route; the diverging route straight on at the frog angle.
 *
 *   At a distance s along the diverging route from abreast of the frog point the separation is
 *   G/2 (1 + cos F) + s sin F, at x = s cos F - G/2 sin F, therefore
 *   x = (f - G/2 (1 + cos F)) / tan F - G/2 sin F.
 *
 * Units:      mm. Domain: f > G, so that the place lies behind the frog point's straight. Exact up to rounding. Derived.
 */
export function foulingDistance(gaugeMm: number, foulingMm: number, frogAngleRad: number): number {
  const half = gaugeMm / 2
  return (foulingMm - half * (1 + Math.cos(frogAngleRad))) / Math.tan(frogAngleRad) - half * Math.sin(frogAngleRad)
}
