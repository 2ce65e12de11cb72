import { pathFromElements, pathMove, pathNearest, pathOffset, pathPoseAt, pointDistance, pointRotate } from '../../src/core/geom/index.ts'
import type { CurveElement } from '../../src/core/geom/index.ts'
import { gaugeByKey, lineClassesForGauge, railwayForGauge } from '../../src/core/standards/index.ts'
import { frogDistances, turnoutRequest, turnoutSolve } from '../../src/core/turnout/index.ts'
import type { TurnoutKind as PlanKind } from '../../src/core/plan/types.ts'
import type { HostLine, TurnoutGeometry, TurnoutRail, TurnoutRailRole, TurnoutRequest } from '../../src/core/turnout/index.ts'

export const inch = 25.4

/** No. 6 in HO, as a builder works it by hand in inches: gauge .650, 11 ft points, heel .090, thickness .005, toe .750. */
export const ho6: TurnoutRequest = {
  kind: { kind: 'plain' },
  host: null,
  gaugeMm: 0.65 * inch,
  ratio: 87.1,
  frog: 6,
  frogDefinition: 'isosceles',
  hand: 'left',
  points: 'straight',
  pointLengthMm: 1.515 * inch,
  pointThicknessMm: 0.005 * inch,
  heelSpreadMm: 0.09 * inch,
  entryAngleRad: 0,
  toeLengthMm: 0.75 * inch,
  heelLengthMm: 1.2 * inch,
  flangewayMm: 0.048 * inch,
  checkGaugeMm: 0.607 * inch,
  railHeadMm: 0.034 * inch,
  railFootMm: 0.069 * inch,
  tieLengthMm: (102 / 87.1) * inch,
  tieWidthMm: (9 / 87.1) * inch,
  tieSpacingMm: (20 / 87.1) * inch,
  foulingMm: 1.75 * inch,
}

/** The standard turnout of a scale: everything as a new plan's main line gives it. */
export function requestOfScale(
  key: string,
  frog: number,
  points: 'straight' | 'curved',
  hand: 'left' | 'right' = 'left',
  kind: PlanKind = { kind: 'plain' },
): TurnoutRequest {
  const row = gaugeByKey(key)
  const main = row && lineClassesForGauge(row)[0]
  if (!row || !main) throw new Error(`no scale ${key}`)
  const build = {
    points,
    pointLengthMm: 'standard',
    pointThicknessMm: 'standard',
    heelSpreadMm: 'standard',
    toeLengthMm: 'standard',
    heelLengthMm: 'standard',
  } as const
  return turnoutRequest({ ...railwayForGauge(row), title: '' }, main, { frog, hand, build, kind })
}

/** The solved turnout; a refused request fails the test with its problem. */
export function solved(request: TurnoutRequest): TurnoutGeometry {
  const result = turnoutSolve(request)
  if (!result.ok) throw new Error(`not solved: ${JSON.stringify(result.problem)}`)
  return result.turnout
}

/** The one rail of a role. */
export function railOf(turnout: TurnoutGeometry, role: TurnoutRailRole): TurnoutRail {
  const [rail, ...more] = turnout.rails.filter((candidate) => candidate.role === role)
  if (!rail || more.length > 0) throw new Error(`${role}: expected one rail`)
  return rail
}

/** A host of these elements as seen from a turnout whose PS lies `psMm` along it. */
export function hostOf(elements: readonly CurveElement[], psMm: number): HostLine {
  const path = pathFromElements({ x: 0, y: 0, headingRad: 0 }, elements)
  const { x, y, headingRad } = pathPoseAt(path, psMm)
  const { x: backX, y: backY } = pointRotate({ x: -x, y: -y }, -headingRad)
  return { path: pathMove(path, { x: backX, y: backY, headingRad: -headingRad }), psMm }
}

/** A host of one curvature, long enough for any turnout. */
export function hostOfCurvature(k: number): HostLine {
  return hostOf([{ lengthMm: 6000, k0: k, k1: k }], 1000)
}

/** A wing bends at the knuckle with tangents of one head; where lines are curved the knuckle lies a little farther on. */
const bendHeads = 1.5

/** A face lies on its line to this, mm: offsets of bent hosts are good to 1e-7. */
const faceToleranceMm = 1e-6

/** The places of a route's gauge lines, behind its points, where no rail's face lies and no frog is near: there must be none. */
export function routesBare({ request, routes, rails, frogs, divergences }: TurnoutGeometry): string[] {
  const heel = request.kind.kind === 'gauntlet' ? 0 : request.pointLengthMm + request.railHeadMm
  const faces = rails.filter(({ role }) => !role.startsWith('guard') && !role.startsWith('check'))
  return routes.flatMap(({ name, centre, gaugeMm }) =>
    [1, -1].flatMap((side) => {
      const line = pathOffset(centre, (side * gaugeMm) / 2)
      return Array.from({ length: 80 }, (_, i) => heel + ((line.lengthMm - heel) * i) / 79).flatMap((station) => {
        const at = pathPoseAt(line, station)
        const isInFrog = frogs.some((frog) => {
          const { knuckle, halfInch } = frogDistances(frog.angleRad, request)
          return pointDistance(frog.at, at) < Math.max(knuckle, halfInch) + bendHeads * request.railHeadMm
        })
        const isOnRail = faces.some((rail) => pathNearest(rail.gaugeLine, at).distanceMm < faceToleranceMm)
        return isInFrog || isOnRail ? [] : [`${name} ${side} at ${station.toFixed(2)} of ${divergences.length}`]
      })
    }),
  )
}
