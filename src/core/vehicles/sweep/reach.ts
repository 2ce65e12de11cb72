import { pathFromElements, pathPoseAt } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { bodyStance, supportRange } from './stance.ts'
import type { Reach, RigidBody, SweepRequest } from './types.ts'

/** A body is first set down at places this part of its length apart; the worst of them is then closed in on. */
const placesPerLength = 40
/** Golden section: each round keeps this part of a stretch. */
const golden = (Math.sqrt(5) - 1) / 2
const placeToleranceMm = 1e-6
/** A side that leaves the line by a fifth turns this into a thousandth of what is promised where curvature changes. */
const roughToleranceMm = 1e-4

type Sides = Pick<Reach, 'leftMm' | 'rightMm'>

const none: Sides = { leftMm: 0, rightMm: 0 }

/** A body set down at one place. */
interface Stand {
  readonly frontMm: number
  readonly pose: Pose | null
}

/**
 * How far bodies reach to both sides of a line, wherever they stand on it.
 *
 * At a station the line's normal is cut with the outline of the body, for the body at any place: the farthest cut to the left and to
 * the right is the reach. The place is sought on a grid of exact stances and then by golden section, between them on a cubic; at a corner
 * the cut ends at once, which that takes as well. Where curvature does not change for a body's length both ways, one such search serves all stations.
 *
 * Units:      mm.
 * Domain:     curves wider than the body is long. Where no place of the body covers a station its reach is 0.
 * Exactness:  on constant curvature the closed formula (swing) to 1e-6 mm; on easements the envelope to better than 0.01 mm.
 * Throws:     never for a path of finite numbers. Source: derived.
 */
export function sweepReach({ path, bodies, stations }: SweepRequest): readonly Reach[] {
  return stations.map(sweepReachFinder(path, bodies))
}

/** The same for one station after another, in any order; where a body was set down it is not set down again. */
export function sweepReachFinder(path: Path, bodies: readonly RigidBody[]): (stationMm: number) => Reach {
  const finders = bodies.map((body) => bodyReachFinder(path, body, true))
  return (stationMm) => {
    let [leftMm, rightMm] = [0, 0]
    for (const finder of finders) {
      const sides = finder(stationMm)
      leftMm = Math.max(leftMm, sides.leftMm)
      rightMm = Math.max(rightMm, sides.rightMm)
    }
    return { stationMm, leftMm, rightMm }
  }
}

function bodyReachFinder(path: Path, body: RigidBody, mayBeSteady: boolean): (stationMm: number) => Sides {
  const first = body.ribs[0]
  const last = body.ribs[body.ribs.length - 1]
  if (!first || !last) return () => none
  const lengthMm = last.xMm - first.xMm
  const outline = outlineOf(body)
  const stepMm = lengthMm / placesPerLength
  const range = supportRange(path, body.front)
  const stands = new Map<number, Stand>()
  const standAt = (index: number): Stand => {
    const before = stands.get(index)
    if (before) return before
    const frontMm = Math.min(range.fromMm + index * stepMm, range.toMm)
    const stand = { frontMm, pose: bodyStance(path, body, frontMm) }
    stands.set(index, stand)
    return stand
  }
  const most = Math.max(0, Math.ceil((range.toMm - range.fromMm) / stepMm))
  /** Pose between the places of the grid: a cubic through four of them, the exact one where four are not to be had. */
  const poseBetween = (frontMm: number): Pose | null => {
    const first = Math.min(Math.max(Math.floor((frontMm - range.fromMm) / stepMm) - 1, 0), most - 4)
    const a = first < 0 ? null : standAt(first).pose
    const [b, c, d] = a === null ? [] : [1, 2, 3].map((i) => standAt(first + i).pose)
    const share = (frontMm - range.fromMm) / stepMm - first
    return !a || !b || !c || !d || share > 3 ? bodyStance(path, body, frontMm) : poseCubic(a, b, c, d, share)
  }
  // The body covers a station for front supports from the front end there to the rear end there, and a little more on curves.
  const slack = 0.05 * lengthMm
  const steady = new Map<number, Sides>()
  const steadyReach = (curvature: number): Sides => {
    const before = steady.get(curvature)
    if (before) return before
    const arc = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 4 * lengthMm, k0: curvature, k1: curvature }])
    const reach = bodyReachFinder(arc, body, false)(2 * lengthMm)
    steady.set(curvature, reach)
    return reach
  }
  return (stationMm) => {
    if (mayBeSteady && stationMm >= lengthMm && stationMm <= path.lengthMm - lengthMm) {
      const curvature = steadyCurvature(path, stationMm - lengthMm, stationMm + lengthMm)
      if (curvature !== null) return steadyReach(curvature)
    }
    const line = pathPoseAt(path, stationMm)
    const from = Math.max(0, Math.floor((stationMm - (last.xMm - body.front.xMm) - slack - range.fromMm) / stepMm))
    const to = Math.min(most, Math.ceil((stationMm + (body.front.xMm - first.xMm) + slack - range.fromMm) / stepMm))
    const worst = (side: 1 | -1): number => {
      const at = (frontMm: number): number => {
        const pose = mayBeSteady ? poseBetween(frontMm) : bodyStance(path, body, frontMm)
        return pose === null ? 0 : outlineCut(outline, pose, line, side)
      }
      const cuts = Array.from({ length: to - from + 1 }, (_, i) => {
        const { pose } = standAt(from + i)
        return pose === null ? 0 : outlineCut(outline, pose, line, side)
      })
      // Two corners may reach nearly as far: whichever the grid shows higher, each top is closed in on.
      return cuts.reduce((best, cut, i) => {
        if (cut === 0 || cut < (cuts[i - 1] ?? 0) || cut <= (cuts[i + 1] ?? 0)) return Math.max(best, cut)
        const low = standAt(Math.max(0, from + i - 1)).frontMm
        const high = standAt(Math.min(most, from + i + 1)).frontMm
        return Math.max(best, cut, goldenMost(at, low, high, mayBeSteady ? roughToleranceMm : placeToleranceMm))
      }, 0)
    }
    return { leftMm: worst(1), rightMm: worst(-1) }
  }
}

/** The curvature of a stretch if it is one; null where it changes. */
function steadyCurvature(path: Path, fromMm: number, toMm: number): number | null {
  let curvature: number | null = null
  for (const { startStationMm, lengthMm, k0, k1 } of path.elements) {
    if (startStationMm + lengthMm <= fromMm || startStationMm >= toMm) continue
    if (k0 !== k1 || (curvature !== null && curvature !== k0)) return null
    curvature = k0
  }
  return curvature
}

/**
 * The pose at a share 0 to 3 of the way over four poses at equal steps. Off by the fourth power of the step and the cube of curvature;
 * where curvature jumps by its jump and a twentieth of the step's square, a few thousandths of a millimetre.
 */
function poseCubic(a: Pose, b: Pose, c: Pose, d: Pose, t: number): Pose {
  const [t1, t2, t3] = [t - 1, t - 2, t - 3]
  const [wa, wb, wc, wd] = [(-t1 * t2 * t3) / 6, (t * t2 * t3) / 2, (-t * t1 * t3) / 2, (t * t1 * t2) / 6]
  // Headings of neighbours may be a whole turn apart.
  const turn = (heading: number): number => {
    const away = heading - b.headingRad
    return away - 2 * Math.PI * Math.round(away / (2 * Math.PI))
  }
  return {
    x: wa * a.x + wb * b.x + wc * c.x + wd * d.x,
    y: wa * a.y + wb * b.y + wc * c.y + wd * d.y,
    headingRad: b.headingRad + wa * turn(a.headingRad) + wc * turn(c.headingRad) + wd * turn(d.headingRad),
  }
}

/** Corners of a body in its own frame, anticlockwise from the rear right. */
function outlineOf({ ribs }: RigidBody): readonly Point[] {
  return [
    ...ribs.map(({ xMm, halfWidthMm }) => ({ x: xMm, y: -halfWidthMm })),
    ...ribs.toReversed().map(({ xMm, halfWidthMm }) => ({ x: xMm, y: halfWidthMm })),
  ]
}

/** Farthest place to a side at which the normal of a line cuts an outline that stands in a pose; 0 where it does not. */
function outlineCut(outline: readonly Point[], pose: Pose, line: Pose, side: 1 | -1): number {
  const turn = pose.headingRad - line.headingRad
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  const [dx, dy] = [pose.x - line.x, pose.y - line.y]
  const [lc, ls] = [Math.cos(line.headingRad), Math.sin(line.headingRad)]
  // The body's middle seen from the line's pose.
  const [ox, oy] = [dx * lc + dy * ls, dy * lc - dx * ls]
  let best = 0
  const last = outline[outline.length - 1]
  if (!last) return 0
  let [ax, ay] = [ox + last.x * cos - last.y * sin, oy + last.x * sin + last.y * cos]
  for (const corner of outline) {
    const [bx, by] = [ox + corner.x * cos - corner.y * sin, oy + corner.x * sin + corner.y * cos]
    if (ax <= 0 !== bx <= 0 || ax === 0) {
      const y = ax === bx ? side * Math.max(side * ay, side * by) : ay + ((by - ay) * (0 - ax)) / (bx - ax)
      best = Math.max(best, side * y)
    }
    ;[ax, ay] = [bx, by]
  }
  return best
}

function goldenMost(f: (x: number) => number, low: number, high: number, toleranceMm: number): number {
  let [a, b] = [low, high]
  let [c, d] = [b - golden * (b - a), a + golden * (b - a)]
  let [fc, fd] = [f(c), f(d)]
  let best = Math.max(fc, fd)
  while (b - a > toleranceMm) {
    if (fc >= fd) {
      ;[b, d, fd] = [d, c, fc]
      c = b - golden * (b - a)
      fc = f(c)
      best = Math.max(best, fc)
    } else {
      ;[a, c, fc] = [c, d, fd]
      d = a + golden * (b - a)
      fd = f(d)
      best = Math.max(best, fd)
    }
  }
  return best
}
