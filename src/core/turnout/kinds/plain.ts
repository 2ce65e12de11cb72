import { pathSlice } from '../../geom/index.ts'
import { frogAngle } from '../frog.ts'
import type { TurnoutRequest } from '../types.ts'
import { branchSolve, divergenceOf } from './branch.ts'
import { hostForRequest, hostRail } from './host.ts'
import { gaugeLine } from './types.ts'
import type { LinesResult } from './types.ts'

/** A left-hand turnout of one diverging route: the through route is the host, straight or bent. */
export function plainLines(request: TurnoutRequest): LinesResult {
  const frogAngleRad = frogAngle(request.frog, request.frogDefinition)
  const host = hostForRequest(request, frogAngleRad)
  if (!host) return { ok: false, problem: { kind: 'tooSharp' } }
  const result = branchSolve(request, host, frogAngleRad)
  if (!result.ok) return result
  const { branch } = result
  const { overallMm } = branch
  const { gaugeMm, pointLengthMm, toeLengthMm, heelLengthMm } = request
  const through = pathSlice(host.centre, host.psMm, host.psMm + overallMm)
  const point = (route: 'straight' | 'curved', side: 'left' | 'right') => ({ lengthMm: pointLengthMm, against: { route, side } }) as const
  return {
    ok: true,
    lines: {
      request,
      host,
      routes: [
        { name: 'straight', centre: through, gaugeMm },
        { name: 'curved', centre: branch.centre, gaugeMm },
      ],
      lines: [
        gaugeLine('straight', 'right', hostRail(host, 'right', branch.frontMm, overallMm)),
        gaugeLine('curved', 'left', branch.stock),
        { ...gaugeLine('straight', 'left', hostRail(host, 'left', 0, overallMm)), pointAtStart: point('curved', 'left') },
        {
          ...gaugeLine('curved', 'right', branch.outer),
          pointAtStart: point('straight', 'right'),
        },
      ],
      divergences: [divergenceOf('curved', branch)],
      legs: [{ leg: 'diverging', route: 'curved', pose: branch.centre.end }],
      main: branch,
      hasHostTrack: true,
      frontMm: branch.frontMm,
      overallMm,
      heads: [{ stationMm: 0, ahead: 1, side: 1 }],
      stressed: [
        { fromMm: 0, toMm: branch.points.heelXMm },
        { fromMm: branch.leadMm - toeLengthMm, toMm: branch.leadMm + heelLengthMm },
      ],
    },
  }
}
