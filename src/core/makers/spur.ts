import { poseToPlan } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { SpurNumbers } from '../plan/types.ts'
import { arcTangent } from './curves.ts'
import { done, fail, handOf, hostPose, signOf, straightAbout, stretchOf } from './site.ts'
import type { Site } from './site.ts'
import type { Outcome, PartCorner, Parts } from './types.ts'

/** An angle this near to the frog's is the frog's: the leg runs on straight. */
const SAME_RAD = 1e-9

/**
 * A spur: a turnout, and from its leg a track that runs beside the host or away from it.
 *
 *   In the frame of the points (x ahead, y to the diverging side) the leg rises at F. Beside the host at centres c its PI lies on y = c, a
 *   way (c - legY) / sin F from the leg; the curve there turns back by F and needs R tan(F/2) of it. The least centres follow:
 *   c = legY + R tan(F/2) sin F.
 */
export function spurMake(site: Site, numbers: SpurNumbers): Outcome<Parts> {
  const host = site.host(numbers.track)
  if (!host.ok) return host
  const shape = site.shape(0, host.value.lineClass, numbers.frog)
  if (!shape.ok) return shape
  const { facing, side, stationMm, course, lengthMm } = numbers
  const straight = straightAbout(host.value, 'stationMm', stationMm, ...stretchOf(shape.value, facing))
  if (!straight.ok) return straight

  const hand = handOf(side, facing)
  const frame = hostPose(host.value, stationMm, facing)
  const at = (x: number, y: number): Point => poseToPlan(frame, { x, y: signOf(hand) * y })
  const { frogAngleRad, legX, legY } = shape.value
  const headingRad = course.kind === 'parallel' ? 0 : course.angleRad
  const turnRad = headingRad - frogAngleRad
  const isStraight = Math.abs(turnRad) < SAME_RAD
  const tangentMm = isStraight ? 0 : arcTangent(site.lineClass.usualRadiusMm, turnRad)
  const wayMm = course.kind === 'parallel' ? (course.centresMm - legY) / Math.sin(frogAngleRad) : tangentMm
  if (wayMm < tangentMm && course.kind === 'parallel') {
    const leastMm = legY + tangentMm * Math.sin(frogAngleRad)
    return fail({ kind: 'centresTooSmall', where: 'centresMm', centresMm: course.centresMm, leastMm })
  }
  const piX = legX + wayMm * Math.cos(frogAngleRad)
  const piY = legY + wayMm * Math.sin(frogAngleRad)
  const corners: readonly PartCorner[] = isStraight ? [] : [{ ...at(piX, piY), radius: 'class', easementIn: 0, easementOut: 0 }]
  const behindMm = tangentMm + lengthMm
  const end = at(piX + behindMm * Math.cos(headingRad), piY + behindMm * Math.sin(headingRad))
  return done({
    parts: [
      { kind: 'turnout', word: '', host: { kind: 'plan', id: numbers.track }, stationMm, facing, hand, frog: numbers.frog },
      { kind: 'track', word: '', start: { kind: 'leg', turnout: 0 }, corners, end: { kind: 'free', ...end } },
    ],
    facts: [{ name: 'reachMm', value: piX + behindMm * Math.cos(headingRad) }],
  })
}
