import { angleWrap } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { bodyStance } from '../sweep/stance.ts'
import type { RigidBody } from '../sweep/types.ts'
import { couplerOffsets } from './offsets.ts'
import { bodyPlaces } from './places.ts'
import type { StandingBody, StandingCoupler, TrainCar, TrainStance } from './types.ts'

/** Distances along the line are closed in on to this, mm. */
const toleranceMm = 1e-9
/** Each step leaves a small part of the miss; what is not found in so many cannot stand. */
const mostSteps = 60

/** What ties a body to the one ahead of it: a drawbar from point to point, or (0) only the distance along the train. */
interface Tie {
  readonly from: Point
  readonly fromHeadingRad: number
  /** On the body behind, from its middle forwards. */
  readonly xMm: number
  readonly lengthMm: number
}

/**
 * A train where it stands: every body on the line, the cars a drawbar's length apart, which is what both couplers make from pin to pin
 * when their faces meet. headMm: the middle of the front support of the first body, along the path.
 *
 * Bodies of one engine keep their distance along the train; their joints do not swing out.
 *
 * Units:      mm on the model.
 * Exactness:  pivots and pins to 1e-9 mm. Play and slack are not counted. Source: derived.
 * Outcome:    not ok where the path ends under the train or bends too sharply for it.
 */
export function trainStance(path: Path, cars: readonly TrainCar[], headMm: number): TrainStance {
  const bodies: StandingBody[] = []
  const couplers: StandingCoupler[] = []
  for (const [index, car] of cars.entries()) {
    const places = bodyPlaces(car)
    const before = cars[index - 1]
    for (const [i, body] of car.bodies.entries()) {
      const last = bodies.at(-1)
      const place = places[i] ?? 0
      const tie = last === undefined ? null : i === 0 && before ? coupled(before, last, car, place) : joined(places, i, last, body)
      const stood = tie === null || last === undefined ? stand(path, body, headMm) : standTied(path, body, last, tie)
      if (stood === null) return { ok: false, reason: failure(path, body, last?.frontMm ?? headMm, last === undefined), car: index }
      if (tie !== null && i === 0) {
        const pin = placeOn(stood.pose, tie.xMm)
        const ahead = { pin: tie.from, headingRad: tie.fromHeadingRad, reachMm: before?.pinMm ?? 0 }
        const behind = { pin, headingRad: stood.pose.headingRad, reachMm: car.pinMm }
        couplers.push({ car: index - 1, aheadPin: tie.from, behindPin: pin, ...couplerOffsets(ahead, behind) })
      }
      bodies.push({ car: index, body, ...stood })
    }
  }
  return { ok: true, bodies, couplers }
}

function placeOn({ x, y, headingRad }: Pose, xMm: number): Point {
  return { x: x + xMm * Math.cos(headingRad), y: y + xMm * Math.sin(headingRad) }
}

/** Pin to pin. */
function coupled(before: TrainCar, last: StandingBody, car: TrainCar, place: number): Tie {
  const rearPin = before.pinMm - before.overCouplersMm / 2 - (bodyPlaces(before).at(-1) ?? 0)
  return {
    from: placeOn(last.pose, rearPin),
    fromHeadingRad: last.pose.headingRad,
    xMm: car.overCouplersMm / 2 - car.pinMm - place,
    lengthMm: before.pinMm + car.pinMm,
  }
}

/** Both bodies meet half way between the front support of the one behind and the rear support of the one ahead. */
function joined(places: readonly number[], i: number, last: StandingBody, body: RigidBody): Tie {
  const [ahead, behind] = [places[i - 1] ?? 0, places[i] ?? 0]
  const jointMm = (ahead + last.body.rear.xMm + behind + body.front.xMm) / 2
  return { from: placeOn(last.pose, jointMm - ahead), fromHeadingRad: last.pose.headingRad, xMm: jointMm - behind, lengthMm: 0 }
}

type Stood = Pick<StandingBody, 'pose' | 'frontMm'>

function stand(path: Path, body: RigidBody, frontMm: number): Stood | null {
  const pose = bodyStance(path, body, frontMm)
  return pose === null ? null : { pose, frontMm }
}

function standTied(path: Path, body: RigidBody, last: StandingBody, tie: Tie): Stood | null {
  // As on a straight line at first.
  let frontMm = last.frontMm - (last.body.front.xMm - xOf(last.pose, tie.from)) - tie.lengthMm - (tie.xMm - body.front.xMm)
  for (let step = 0; step < mostSteps; step++) {
    const stood = stand(path, body, frontMm)
    if (stood === null) return null
    const pin = placeOn(stood.pose, tie.xMm)
    const missing = apart(tie, pin, stood.pose.headingRad) - tie.lengthMm
    if (Math.abs(missing) <= toleranceMm) return stood
    frontMm += missing
  }
  return null
}

/** Of a point on a body's middle line, from its middle forwards. */
function xOf({ x, y, headingRad }: Pose, point: Point): number {
  return (point.x - x) * Math.cos(headingRad) + (point.y - y) * Math.sin(headingRad)
}

/** From a point behind to the one it is tied to, below 0 once it is ahead of it; for a joint only the part along both bodies. */
function apart({ from, fromHeadingRad, lengthMm }: Tie, pin: Point, headingRad: number): number {
  const [dx, dy] = [from.x - pin.x, from.y - pin.y]
  const along =
    (dx * (Math.cos(headingRad) + Math.cos(fromHeadingRad)) + dy * (Math.sin(headingRad) + Math.sin(fromHeadingRad))) /
    // Half of a whole turn between the two names of west would turn the sign.
    (2 * Math.cos(angleWrap(headingRad - fromHeadingRad) / 2))
  return lengthMm === 0 ? along : Math.hypot(dx, dy) * (along < 0 ? -1 : 1)
}

function failure(path: Path, body: RigidBody, frontMm: number, isHead: boolean): 'pathAhead' | 'pathBehind' | 'curve' {
  if (isHead && frontMm + body.front.wheelbaseMm / 2 > path.lengthMm) return 'pathAhead'
  const neededMm = body.front.xMm - body.rear.xMm + body.rear.wheelbaseMm / 2
  const slackMm = neededMm / 2
  const startMm = isHead ? frontMm : frontMm - neededMm
  return startMm - neededMm - slackMm < 0 ? 'pathBehind' : 'curve'
}
