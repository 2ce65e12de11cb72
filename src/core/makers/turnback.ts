import { spiralSolve, easementByRule } from '../alignment/index.ts'
import { angleBetween, poseAhead, poseToLocal, poseToPlan, rootBrent } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { TurnbackNumbers } from '../plan/types.ts'
import { cornerOfClass, easementsOf } from './curves.ts'
import { freeEnd } from './loop.ts'
import { done, fail } from './site.ts'
import type { Site } from './site.ts'
import type { Outcome, PartCorner, Parts } from './types.ts'

/** Two ends that look the same way within this are parallel: a kink of a hundred-millionth of a millimetre over a metre is none. */
const PARALLEL_RAD = 1e-9

const easedIn = { isIn: true, isOut: false }
const easedOut = { isIn: false, isOut: true }

/**
 * A turnback: half a turn from the free end of one track to the free end of another that lies beside it and looks the same way.
 *
 *   Two corners of 90 deg share one arc; the first has the easement in, the second the one out. The centre stands R + p off either track,
 *   so 2 (R + p) is the distance of the tracks, and the radius follows from it. Where one end lies behind, its track goes on straight.
 *
 * Outcome:  the track; or the angle between the ends, or the least distance that leaves a radius.
 */
export function turnbackMake(site: Site, numbers: TurnbackNumbers): Outcome<Parts> {
  const host = site.host(numbers.track)
  if (!host.ok) return host
  const other = site.host(numbers.otherTrack)
  if (!other.ok) return other
  const from = freeEnd(site, host.value, numbers.end)
  if (from === null) return fail({ kind: 'endNotFree', track: numbers.track, end: numbers.end })
  const to = freeEnd(site, other.value, numbers.otherEnd)
  if (to === null) return fail({ kind: 'endNotFree', track: numbers.otherTrack, end: numbers.otherEnd })
  const turn = angleBetween(from.headingRad, to.headingRad)
  if (Math.abs(turn) >= PARALLEL_RAD) return fail({ kind: 'endsApart', angleRad: Math.abs(turn) })

  const across = poseToLocal(from, to)
  const apartMm = Math.abs(across.y)
  const solved = turnbackRadius(site, apartMm)
  if (!solved.ok) return solved
  const radiusMm = solved.value
  const curve = cornerOfClass(site.lineClass, radiusMm, Math.PI / 2, easedIn)
  if (!curve.ok) return curve
  // The curve begins abreast of the end that lies farther out.
  const outMm = Math.max(0, across.x) + curve.value.tangentInMm
  const at = (x: number, y: number): Point => poseToPlan(from, { x, y })
  const corner = ({ x, y }: Point, eased: typeof easedIn): PartCorner => ({ x, y, radius: radiusMm, ...easementsOf(eased) })
  const reach = poseAhead(from, outMm)
  return done({
    parts: [
      {
        kind: 'track',
        word: '',
        start: { kind: 'free', x: from.x, y: from.y },
        corners: [corner(reach, easedIn), corner(at(outMm, across.y), easedOut)],
        end: { kind: 'free', x: to.x, y: to.y },
      },
    ],
    facts: [
      { name: 'radiusMm', value: radiusMm },
      { name: 'centresMm', value: apartMm },
      { name: 'reachMm', value: outMm },
    ],
  })
}

/** The radius with which 2 (R + p) is the distance of the tracks. */
function turnbackRadius({ lineClass, railway }: Site, apartMm: number): Outcome<number> {
  const shift = (radiusMm: number): number => {
    const easement = easementByRule(lineClass.easement, radiusMm)
    return easement.ok ? spiralSolve(easement.lengthMm, radiusMm).shiftMm : Number.NaN
  }
  const over = (radiusMm: number): number => 2 * (radiusMm + shift(radiusMm)) - apartMm
  // Under a radius of one gauge there is no curve. Long easements on small radii shift a curve by more than its radius: what fits the least
  // radius of the class is looked for from there on.
  const leastMm = over(lineClass.minRadiusMm) <= 0 ? lineClass.minRadiusMm : railway.gaugeMm
  const root = rootBrent(over, leastMm, Math.max(apartMm, 2 * leastMm), 1e-12)
  if (root.ok) return done(root.x)
  const needMm = lineClass.minRadiusMm + shift(lineClass.minRadiusMm)
  return fail({ kind: 'tooShort', what: 'turnback', haveMm: apartMm, needMm: 2 * needMm })
}
