import type { PathJump } from '../geom/index.ts'
import type { CurveElement } from '../geom/types.ts'
import { steadyReach } from '../vehicles/index.ts'
import type { RigidBody, SideReach } from '../vehicles/index.ts'

/** What a body feels of the line lies within its length; a little more, for on a bend the way is longer. */
const feelsLengths = 1.05
/** More curvatures than the bends of a large railway have; forgetting costs time and changes nothing. */
const mostKept = 4000

export const noReach: SideReach = { leftMm: 0, rightMm: 0 }

export const largerReach = (a: SideReach, b: SideReach): SideReach => ({
  leftMm: Math.max(a.leftMm, b.leftMm),
  rightMm: Math.max(a.rightMm, b.rightMm),
})

/** The most over an element: reach grows with curvature to one side and the other, so its ends tell. */
export function elementReach(bodies: readonly RigidBody[], { k0, k1 }: CurveElement): SideReach {
  let sides = bodiesReach(bodies, k0)
  if (k1 !== k0) sides = largerReach(sides, bodiesReach(bodies, k1))
  if (k0 * k1 <= 0) sides = largerReach(sides, bodiesReach(bodies, 0))
  return sides
}

const kept = new WeakMap<readonly RigidBody[], Map<number, SideReach>>()

/** The reach of bodies where they stand on one curvature. A railway has few radii: each is worked out once. */
export function bodiesReach(bodies: readonly RigidBody[], curvature: number): SideReach {
  const ofBodies = kept.get(bodies) ?? new Map<number, SideReach>()
  kept.set(bodies, ofBodies)
  const before = ofBodies.get(curvature)
  if (before !== undefined) return before
  if (ofBodies.size >= mostKept) ofBodies.clear()
  const sides = bodies.reduce((most, body) => largerReach(most, steadyReach(body, curvature)), noReach)
  ofBodies.set(curvature, sides)
  return sides
}

/** How far along a line a body feels it, mm: no body over a station touches anything farther away. */
export function bodiesFeel(bodies: readonly RigidBody[]): number {
  let most = 0
  for (const { front, rear, ribs } of bodies) {
    const places = [front.xMm + front.wheelbaseMm / 2, rear.xMm - rear.wheelbaseMm / 2, ...ribs.map(({ xMm }) => xMm)]
    most = Math.max(most, Math.max(...places) - Math.min(...places))
  }
  return most * feelsLengths
}

/** What small angles leave out. */
const jumpSlack = 1.1

/**
 * How much farther bodies reach near a jump of the line, at most. With its supports on both sides of a kink a body leaves the line between them
 * by a quarter of their distance times the turn, and its ends by what overhangs. A step tilts it as well.
 */
export function jumpReach(bodies: readonly RigidBody[], { turnRad, aheadMm, leftMm }: PathJump): number {
  const turn = Math.abs(turnRad)
  const stepMm = Math.hypot(aheadMm, leftMm)
  let most = 0
  for (const { front, rear, ribs } of bodies) {
    const apartMm = front.xMm - rear.xMm
    const overhangMm = Math.max(0, (ribs.at(-1)?.xMm ?? 0) - front.xMm, rear.xMm - (ribs[0]?.xMm ?? 0))
    const wideMm = Math.max(0, ...ribs.map(({ halfWidthMm }) => halfWidthMm))
    const byTurn = turn * Math.max(apartMm / 4, overhangMm) + wideMm * turn * turn
    most = Math.max(most, byTurn + stepMm * (1 + (apartMm > 0 ? overhangMm / apartMm : 1)))
  }
  return most * jumpSlack
}
