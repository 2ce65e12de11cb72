import { poseOffset, poseToPlan, rootBrent } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { WyeNumbers } from '../plan/types.ts'
import { cornerOfClass, easementsOf, radiusOf } from './curves.ts'
import type { Shape } from './shape.ts'
import { done, fail, handOf, hostPose, signOf, stationOn, straightAbout } from './site.ts'
import type { Host, Site } from './site.ts'
import type { Outcome, PartCorner, Parts } from './types.ts'

const bothEased = { isIn: true, isOut: true }

/** A wye solved in the frame of its tail's foot: x along the host, y along the tail. */
interface Solved {
  readonly nearPs: number
  readonly farPs: number
  readonly nearPi: Point
  readonly farPi: Point
  readonly tailStationMm: number
  readonly tailPs: number
}

/**
 * A wye on a straight of its host: two turnouts that look at each other, a tail square to the host, and its points.
 *
 *   The near leg leaves at F and turns 90 deg - F into the tail; its curve begins at the leg itself. Behind it stand, on the tail, the tail's
 *   points, which face it from the far end of the tail, so that their frog's long ties end where that curve ends. The tail's other leg comes
 *   back at the frog angle T of the tail and meets the far leg's line; the curve there turns 90 deg - F - T and begins at the far leg.
 *   All lengths follow from the radius; so does the base, PS to PS.
 *
 * Outcome:  the wye; where no straight holds its base, the base it needs and the largest radius that would fit.
 */
export function wyeMake(site: Site, numbers: WyeNumbers): Outcome<Parts> {
  const opened = site.host(numbers.track)
  if (!opened.ok) return opened
  const host = opened.value
  const near = site.shape(0, host.lineClass, numbers.frog)
  if (!near.ok) return near
  const far = site.shape(1, host.lineClass, numbers.frog)
  if (!far.ok) return far
  const tail = site.shape(2, site.lineClass, numbers.tailFrog)
  if (!tail.ok) return tail
  const shapes = [near.value, far.value, tail.value] as const
  const radiusMm = radiusOf(numbers.radius, site.lineClass)
  const solved = wyeSolve(site, shapes, radiusMm)
  if (!solved.ok) return solved
  const wye = solved.value
  const { stationMm, side } = numbers
  const low = wye.nearPs + near.value.fromMm
  const high = wye.farPs - far.value.fromMm
  const placed = wyePlace(site, host, numbers, shapes, [low, high], radiusMm)
  if (!placed.ok) return placed

  // The foot need not lie on the straight by itself, but the two points do: the frame is carried over from one of them.
  const along = hostPose(host, stationMm + wye.nearPs, 'rising')
  const frame: Pose = { ...poseToPlan(along, { x: -wye.nearPs, y: 0 }), headingRad: along.headingRad }
  const sign = signOf(side)
  const at = ({ x, y }: Point): Point => poseToPlan(frame, { x, y: sign * y })
  const corner = (point: Point): PartCorner => ({ ...at(point), radius: numbers.radius, ...easementsOf(bothEased) })
  const end = poseOffset(frame, sign * (wye.tailPs + numbers.tailMm))
  return done({
    parts: [
      {
        kind: 'turnout',
        word: 'A',
        host: { kind: 'plan', id: numbers.track },
        stationMm: stationOn(host, stationMm + wye.nearPs),
        facing: 'rising',
        hand: side,
        frog: numbers.frog,
      },
      {
        kind: 'turnout',
        word: 'B',
        host: { kind: 'plan', id: numbers.track },
        stationMm: stationOn(host, stationMm + wye.farPs),
        facing: 'falling',
        hand: handOf(side, 'falling'),
        frog: numbers.frog,
      },
      {
        kind: 'track',
        word: 'tail',
        start: { kind: 'leg', turnout: 0 },
        corners: [corner(wye.nearPi)],
        end: { kind: 'free', x: end.x, y: end.y },
      },
      {
        kind: 'turnout',
        word: 'tail',
        host: { kind: 'made', track: 0 },
        stationMm: wye.tailStationMm,
        facing: 'falling',
        hand: side,
        frog: numbers.tailFrog,
      },
      { kind: 'track', word: 'leg', start: { kind: 'leg', turnout: 1 }, corners: [corner(wye.farPi)], end: { kind: 'leg', turnout: 2 } },
    ],
    facts: [
      { name: 'baseMm', value: wye.farPs - wye.nearPs },
      { name: 'reachMm', value: wye.tailPs + numbers.tailMm },
      { name: 'radiusMm', value: radiusMm },
    ],
  })
}

function wyeSolve(site: Site, [near, far, tail]: readonly [Shape, Shape, Shape], radiusMm: number): Outcome<Solved> {
  const f = near.frogAngleRad
  const t = tail.frogAngleRad
  const turnNear = Math.PI / 2 - f
  const turnFar = Math.PI / 2 - f - t
  const nearCurve = cornerOfClass(site.lineClass, radiusMm, turnNear, bothEased)
  if (!nearCurve.ok) return nearCurve
  const farCurve = cornerOfClass(site.lineClass, radiusMm, -turnFar, bothEased)
  if (!farCurve.ok) return farCurve

  const nearPi = { x: 0, y: near.legY + nearCurve.value.tangentInMm * Math.sin(f) }
  const nearLegX = -nearCurve.value.tangentInMm * Math.cos(f)
  const curveEndY = nearPi.y + nearCurve.value.tangentOutMm
  const farPiY = far.legY + farCurve.value.tangentInMm * Math.sin(f)
  // The tail's leg must reach the far PI with room for the curve; a small radius would have its points farther out.
  const leastLegY = farPiY + farCurve.value.tangentOutMm * Math.cos(t)
  const tailPs = Math.max(curveEndY + tail.toMm, leastLegY + tail.legX)
  const tailLegY = tailPs - tail.legX
  const wayMm = (tailLegY - farPiY) / Math.cos(t)
  const farPi = { x: tail.legY + wayMm * Math.sin(t), y: farPiY }
  const farLegX = farPi.x + farCurve.value.tangentInMm * Math.cos(f)
  return done({
    nearPs: nearLegX - near.legX,
    farPs: farLegX + far.legX,
    nearPi,
    farPi,
    tailPs,
    tailStationMm: nearCurve.value.totalLengthMm + tailPs - curveEndY,
  })
}

/** Radii are looked at downwards in steps of this factor until one fits, then refined; under this many gauges no curve is worth a name. */
const STEP_DOWN = 0.9
const leastRadiusGauges = 4

function wyePlace(
  site: Site,
  host: Host,
  { stationMm }: WyeNumbers,
  shapes: readonly [Shape, Shape, Shape],
  [low, high]: readonly [number, number],
  radiusMm: number,
): Outcome<null> {
  const straight = straightAbout(host, 'stationMm', stationMm, low, high)
  if (straight.ok) return done(null)
  const haveMm = Math.max(0, ...host.straights.map(({ fromMm, toMm }) => toMm - fromMm))
  if (straight.problem.kind !== 'station' || straight.problem.nearestMm.length > 0) return straight
  const overMm = (radius: number): number => {
    const solved = wyeSolve(site, shapes, radius)
    if (!solved.ok) return Number.NaN
    return solved.value.farPs - shapes[1].fromMm - solved.value.nearPs - shapes[0].fromMm - haveMm
  }
  let fits = radiusMm * STEP_DOWN
  while (!(overMm(fits) <= 0) && fits > leastRadiusGauges * site.railway.gaugeMm) fits *= STEP_DOWN
  const root = rootBrent(overMm, fits, Math.min(radiusMm, fits / STEP_DOWN), 1e-3)
  return fail({ kind: 'baseTooShort', haveMm, needMm: high - low, mostRadiusMm: root.ok ? Math.floor(root.x * 10) / 10 : null })
}
