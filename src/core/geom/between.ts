import { angleWrap } from './angle.ts'
import { clothoidPose } from './clothoid.ts'
import type { CurveElement, Pose } from './types.ts'

const mostSteps = 20
const closeEnough = 1e-13

/**
 * The one element that leads from a pose to another: curvature changes evenly and the turn is the least possible.
 *
 * With the chord as unit, the element starts at angle a to it and ends at angle b: heading a + (b - a - c) s + c s^2 for
 * s of 0 to 1 with one unknown c, for which the end lies on the chord: Newton from c = 3 (a + b), which is its value for
 * small angles. Length is the chord over the run that this gives.
 *
 * Domain:     poses apart; angles to the chord below a right angle. Outside: null.
 * Exactness:  end pose to 1e-12 of the chord.
 * Source:     derived; the small-angle start after the cubic with the same end slopes.
 */
export function elementBetween(from: Pose, to: Pose): CurveElement | null {
  const dx = to.x - from.x
  const dy = to.y - from.y
  const chord = Math.hypot(dx, dy)
  if (!(chord > 0)) return null
  const chordRad = Math.atan2(dy, dx)
  const a = angleWrap(from.headingRad - chordRad)
  const b = angleWrap(to.headingRad - chordRad)
  if (!(Math.abs(a) < Math.PI / 2 && Math.abs(b) < Math.PI / 2)) return null
  const endAt = (c: number): Pose => clothoidPose({ x: 0, y: 0, headingRad: a }, b - a - c, 2 * c, 1)
  let c = 3 * (a + b)
  for (let i = 0; i < mostSteps; i++) {
    const end = endAt(c)
    if (Math.abs(end.y) < closeEnough) {
      const lengthMm = chord / end.x
      return { lengthMm, k0: (b - a - c) / lengthMm, k1: (b - a + c) / lengthMm }
    }
    const step = 1e-6
    const slope = (endAt(c + step).y - endAt(c - step).y) / (2 * step)
    c -= end.y / slope
  }
  return null
}
