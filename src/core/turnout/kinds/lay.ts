import { pathCurvatureAt, pathFromElements, pathNearest, pathPoseAt, pathStart, rootBrent } from '../../geom/index.ts'
import type { CurveElement, Path } from '../../geom/types.ts'
import { frogDistances, frogLengthsAt } from '../frog.ts'
import { throwOf } from '../throw.ts'
import { pathAcross } from '../ties/across.ts'
import { gapsBetweenTies } from '../ties/gapBays.ts'
import { throwBarStation } from '../ties/lay.ts'
import { turnoutTies } from '../ties/turnoutTies.ts'
import type { TurnoutGeometry } from '../types.ts'
import { specialWork } from '../work/solve.ts'
import { hostPoseAt } from './host.ts'
import type { Host } from './host.ts'
import { pointOf } from './types.ts'
import type { TurnoutLines } from './types.ts'

const stationToleranceMm = 1e-10
/** No two tracks of a turnout are followed farther apart than this many gauges. */
const mostApartGauges = 20

/** Rails, ties and all that is measured from the lines of a left-hand turnout. */
export function turnoutLay(found: TurnoutLines): TurnoutGeometry {
  const { request, host, routes, main, overallMm, frontMm, heads } = found
  const { tieSpacingMm } = request
  const { frogAngleRad, points } = main
  const work = specialWork({
    lines: found.lines,
    measures: request,
    gaugeMm: request.gaugeMm,
    frogLengthsOf: (angleRad) => frogLengthsAt(request, frogAngleRad, angleRad),
  })
  const rails = found.finish ? found.finish(work.rails) : work.rails
  const runOn = routes.map((route) => ({ ...route, centre: routeRunOn(host, route.centre) }))
  const ties = turnoutTies(request.host === null ? request : { ...request, host: { path: host.centre, psMm: host.psMm } }, {
    hasHostTrack: found.hasHostTrack,
    routes: (request.host === null ? routes : runOn).filter(({ name }) => name !== 'straight'),
    heads,
    stressed: found.stressed,
    gaps: work.gaps,
    rails,
  })
  const throwMm = found.throwMm ?? throwOf(request)
  const halfInch = frogDistances(frogAngleRad, request).halfInch
  const diverging = routes.find(({ name }) => name === 'curved') ?? routes[0]
  const divergingRoute = diverging ? diverging.centre : host.centre
  const frog = work.frogs.find(({ at }) => Math.hypot(at.x - main.frogPoint.x, at.y - main.frogPoint.y) < halfInch)
  return {
    request,
    routes,
    frogs: work.frogs,
    lines: found.finish ? null : found.lines,
    divergences: found.divergences,
    legs: found.legs,
    frogAngleRad,
    switchAngleRad: points.heelAngleRad,
    heelAngleRad: points.heelAngleRad,
    pointRadiusMm: points.radiusMm,
    leadMm: main.leadMm,
    closureRadiusMm: main.closureRadiusMm,
    closureGaugeLineRadiusMm: main.closureGaugeLineRadiusMm,
    divergingRadiusMm: main.radiusMm,
    closureStraightMm: main.closureStraightMm,
    closureCurvedMm: main.closureCurvedMm,
    throatMm: frogDistances(frogAngleRad, request).throat,
    overallMm,
    foulingMm:
      foulingStation(
        host,
        runOn.map(({ centre }) => centre),
        request.foulingMm,
        frogAngleRad,
      ) - main.leadMm,
    throwMm,
    ordinates: main.ordinates,
    rails,
    ties,
    gaps: gapsBetweenTies(work.gaps, rails, ties),
    // The throw bar lies between the two head blocks.
    throwHoles: heads.map((head) => ({
      at: pointOf(hostPoseAt(host, throwBarStation(ties, head, tieSpacingMm))),
      throwMm,
    })),
    divergingRoute,
    leg: divergingRoute.end,
    frogPoint: main.frogPoint,
    halfInchPoint: frog?.actualPoint ?? main.frogPoint,
    extent: { fromMm: frontMm, toMm: Math.max(overallMm, (ties.at(-1)?.stationMm ?? 0) + request.tieWidthMm / 2) },
  }
}

/** Behind its end a route is run on in pieces of so many gauges. */
const runOnGauges = 2

/**
 * A route with what follows on it behind its end, where it counts as bent like the host: at an unchanging angle to it, so with the
 * curvature k cos(angle) / (1 - k d) at a distance d from it.
 */
function routeRunOn(host: Host, route: Path): Path {
  const { centre, gaugeMm } = host
  const abreast = pathNearest(centre, route.end)
  const angle = route.end.headingRad - pathPoseAt(centre, abreast.stationMm).headingRad
  const step = runOnGauges * gaugeMm
  const pieces: CurveElement[] = []
  let offset = abreast.offsetMm
  for (let at = abreast.stationMm; at + step <= centre.lengthMm && Math.abs(offset) < mostApartGauges * gaugeMm; at += step) {
    const k = pathCurvatureAt(centre, at + step / 2)
    const middle = offset + (step / 2) * Math.tan(angle) * (1 - k * offset)
    const shrunk = 1 - k * middle
    if (shrunk <= 0) break
    const own = (k * Math.cos(angle)) / shrunk
    pieces.push({ lengthMm: (step * shrunk) / Math.cos(angle), k0: own, k1: own })
    offset += step * Math.tan(angle) * shrunk
  }
  return pathFromElements(pathStart(route), [...route.elements, ...pieces])
}

/**
 * Fouling point: distance behind PS along the host at which neighbouring centrelines stand f apart, measured square to the host;
 * behind the turnout the routes count as bent like the host. Of three routes, where the later of both pairs does.
 */
function foulingStation(host: Host, routes: readonly Path[], foulingMm: number, frogAngleRad: number): number {
  const apart = (station: number): number => {
    const offsets = routes.flatMap((route) => pathAcross(route, hostPoseAt(host, station))?.offsetMm ?? 0).toSorted((a, b) => a - b)
    return Math.min(...offsets.slice(1).map((offset, i) => offset - (offsets[i] ?? 0)))
  }
  const last = host.centre.lengthMm - host.psMm
  const root = rootBrent((station) => apart(station) - foulingMm, 0, last, stationToleranceMm)
  // Beyond what is read of a host that winds up: straight on at the frog angle.
  return root.ok ? root.x : last + (foulingMm - apart(last)) / Math.tan(frogAngleRad)
}
