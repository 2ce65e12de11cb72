import { noSpread } from '../closure.ts'
import { pathFromElements, pathOffset, pathPoseAt, pathSlice, poseOffset } from '../../geom/index.ts'
import { arc, straight } from '../bend.ts'
import { frogAngle } from '../frog.ts'
import type { TurnoutRequest } from '../types.ts'
import { bentClosure } from './bent.ts'
import { asLaid, closureOrdinatesAlong, tightestRadius } from './branch.ts'
import { hostForRequest, hostPoseAt, hostRail, hostStationOf, railStationAt } from './host.ts'
import { gaugeLine, pointOf } from './types.ts'
import type { LinesResult } from './types.ts'

/**
 * One end of a gauntlet: a track that lies the heel spread to the left over the host, all rails side by side, leaves it by one arc
 * and a frog, without points. PS is where the arc begins.
 *
 * The outer rail rises from the spread to the gauge: on a straight host R (1 - cos F) + u sin F = G - h. On one that bends it is
 * found as the closure of a turnout is.
 *
 * Source: derived, the closure equation with the heel at PS and no angle there.
 */
export function gauntletLines(request: TurnoutRequest): LinesResult {
  const frogAngleRad = frogAngle(request.frog, request.frogDefinition)
  const host = hostForRequest(request, frogAngleRad)
  if (!host) return { ok: false, problem: { kind: 'tooSharp' } }
  const { gaugeMm, heelSpreadMm, toeLengthMm, heelLengthMm, tieSpacingMm } = request
  const start = poseOffset(hostPoseAt(host, 0), heelSpreadMm - gaugeMm / 2)
  const rise = gaugeMm - heelSpreadMm - toeLengthMm * Math.sin(frogAngleRad)
  const turn = 1 - Math.cos(frogAngleRad)
  if (rise <= gaugeMm * turn) return { ok: false, problem: noSpread(gaugeMm * turn - rise) }
  const bent = request.host === null ? null : bentClosure(host, request, frogAngleRad, start)
  if (request.host !== null && bent === null) return { ok: false, problem: { kind: 'tooSharp' } }
  const radius = rise / turn
  const closure = bent?.arc ?? arc(radius, frogAngleRad)
  const leadMm = bent?.frogMm ?? radius * Math.sin(frogAngleRad) + toeLengthMm * Math.cos(frogAngleRad)
  if (Math.abs(closure.k0) * gaugeMm >= 1) return { ok: false, problem: { kind: 'tooSharp' } }

  const frontMm = -tieSpacingMm
  const beside = pathOffset(pathSlice(host.centre, host.psMm + frontMm, host.psMm), heelSpreadMm - gaugeMm / 2)
  const outer = pathFromElements(pathPoseAt(beside, 0), [...beside.elements, closure, straight(toeLengthMm + heelLengthMm)])
  const frogStation = railStationAt(host, 'left', leadMm)
  const overallMm = hostStationOf(host, 'left', frogStation + heelLengthMm)
  const centre = pathOffset(outer, gaugeMm / 2)
  const ordinates = closureOrdinatesAlong(host.right, pathSlice(outer, beside.lengthMm, beside.lengthMm + closure.lengthMm))
  const radiusMm = tightestRadius(centre)
  const closureRadiusMm = Math.abs(1 / closure.k0 - gaugeMm / 2)
  return {
    ok: true,
    lines: {
      request,
      host,
      routes: [
        { name: 'straight', centre: pathSlice(host.centre, host.psMm + frontMm, host.psMm + overallMm), gaugeMm },
        { name: 'curved', centre, gaugeMm },
      ],
      lines: [
        gaugeLine('straight', 'right', hostRail(host, 'right', frontMm, overallMm)),
        gaugeLine('straight', 'left', hostRail(host, 'left', frontMm, overallMm)),
        gaugeLine('curved', 'right', outer),
        gaugeLine('curved', 'left', pathOffset(outer, gaugeMm)),
      ],
      divergences: [{ route: 'curved', frogAngleRad, switchAngleRad: 0, leadMm, radiusMm, closureRadiusMm, ordinates, ...asLaid }],
      legs: [{ leg: 'diverging', route: 'curved', pose: centre.end }],
      main: {
        points: { entryAngleRad: 0, heelAngleRad: 0, radiusMm: null, heelXMm: 0 },
        frogAngleRad,
        leadMm,
        frogPoint: pointOf(pathPoseAt(host.left, frogStation)),
        closureGaugeLineRadiusMm: 1 / Math.abs(closure.k0),
        closureRadiusMm,
        closureCurvedMm: closure.lengthMm,
        closureStraightMm: frogStation - railStationAt(host, 'left', 0) - toeLengthMm,
        radiusMm,
        ordinates,
      },
      hasHostTrack: true,
      frontMm,
      overallMm,
      heads: [],
      stressed: [{ fromMm: leadMm - toeLengthMm, toMm: leadMm + heelLengthMm }],
    },
  }
}
