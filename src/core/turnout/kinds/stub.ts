import { pathSlice } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { frogAngle } from '../frog.ts'
import type { RailPart, TurnoutRail, TurnoutRequest } from '../types.ts'
import { railOf } from '../work/railOf.ts'
import type { Side } from '../work/types.ts'
import { branchSolve, divergenceOf } from './branch.ts'
import { hostForRequest, hostRail } from './host.ts'
import { gaugeLine } from './types.ts'
import type { LinesResult } from './types.ts'

/**
 * A stub turnout: no points. The host's own rails are moved over by the heel spread from one pair of fixed rails to the other; PS is
 * where they are held, the point length that of the moved rails. Straight: they turn at PS by S, sin S = throw / length. Curved: they
 * are bent along the closure's own curve, so that one curve runs from PS to the toe.
 *
 *   R = (G - throw - u sin F) / (cos S - cos F),   throw = R (1 - cos S) for moved rails that are bent along.
 *
 * Drawn set for the through route; the parts that move are told as points.
 *
 * Source:   [D] for the shape; the straight form is that of the old track books.
 */
export function stubLines(asked: TurnoutRequest): LinesResult {
  const request: TurnoutRequest = { ...asked, pointThicknessMm: 0 }
  const frogAngleRad = frogAngle(request.frog, request.frogDefinition)
  const host = hostForRequest(request, frogAngleRad)
  if (!host) return { ok: false, problem: { kind: 'tooSharp' } }
  const result = branchSolve(request, host, frogAngleRad)
  if (!result.ok) return result
  const { branch } = result
  const { gaugeMm, pointLengthMm, toeLengthMm, heelLengthMm, tieSpacingMm } = request
  const { overallMm, inner, innerHeelMm, outer } = branch
  const frontMm = -tieSpacingMm
  const moved = (side: Side): TurnoutRail => rail('point', side, hostRail(host, side, 0, pointLengthMm))
  const held = (side: Side): TurnoutRail => rail('stock', side, hostRail(host, side, frontMm, 0))
  const rail = (part: RailPart, side: Side, path: Path): TurnoutRail => railOf(request, part, gaugeLine('straight', side, path), path, side)
  return {
    ok: true,
    lines: {
      request,
      host,
      routes: [
        { name: 'straight', centre: pathSlice(host.centre, host.psMm, host.psMm + overallMm), gaugeMm },
        { name: 'curved', centre: branch.centre, gaugeMm },
      ],
      lines: [
        gaugeLine('straight', 'right', hostRail(host, 'right', pointLengthMm, overallMm)),
        gaugeLine('curved', 'left', pathSlice(inner, innerHeelMm, inner.lengthMm)),
        gaugeLine('straight', 'left', hostRail(host, 'left', pointLengthMm, overallMm)),
        gaugeLine('curved', 'right', pathSlice(outer, pointLengthMm, outer.lengthMm)),
      ],
      divergences: [divergenceOf('curved', branch)],
      legs: [{ leg: 'diverging', route: 'curved', pose: branch.centre.end }],
      main: branch,
      hasHostTrack: true,
      frontMm,
      overallMm,
      // The throw bar lies at the free ends, on the side of what moves.
      heads: [{ stationMm: pointLengthMm, ahead: -1, side: 1 }],
      stressed: [
        { fromMm: 0, toMm: pointLengthMm },
        { fromMm: branch.leadMm - toeLengthMm, toMm: branch.leadMm + heelLengthMm },
      ],
      throwMm: request.heelSpreadMm,
      finish: (rails) => [...(['right', 'left'] as const).flatMap((side) => [held(side), moved(side)]), ...rails.map(closureNamed)],
    },
  }
}

/** Between the moved rails and the frog the rails are closures: the inner ones, whose line has no point to be known by. */
function closureNamed(rail: TurnoutRail): TurnoutRail {
  const { role, headSide } = rail
  if (role === 'stock-straight' && headSide === 1) return { ...rail, role: 'closure-straight' }
  return role === 'stock-curved' && headSide === -1 ? { ...rail, role: 'closure-curved' } : rail
}
