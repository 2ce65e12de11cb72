import { pathFromElements, pathJumpBefore, pathPoseAt } from '../../geom/index.ts'
import type { Path, Pose } from '../../geom/types.ts'
import { bodyStance, supportRange } from './stance.ts'
import type { Reach, RigidBody, SweepRequest } from './types.ts'

/** A body is first set down at places this part of its length apart; the worst of them is then closed in on. */
const placesPerLength = 40
/** Golden section: each round keeps this part of a stretch. */
const golden = (Math.sqrt(5) - 1) / 2
const placeToleranceMm = 1e-6
/** A side that leaves the line by a fifth turns this into a tenth of what is promised where curvature changes. */
const roughToleranceMm = 5e-3

type Sides = Pick<Reach, 'leftMm' | 'rightMm'>
type Side = keyof Sides

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
  const find = sweepSideFinder(path, bodies)
  return (stationMm) => ({ stationMm, leftMm: find(stationMm, 'leftMm'), rightMm: find(stationMm, 'rightMm') })
}

/** The same for one side at a time, for those who look at a line from one side. */
export function sweepSideFinder(path: Path, bodies: readonly RigidBody[]): (stationMm: number, side: Side) => number {
  const jumps = path.elements.flatMap(({ startStationMm }, i) => (pathJumpBefore(path, i) === null ? [] : [startStationMm]))
  const finders = bodies.map((body) => bodySideFinder(path, body, jumps))
  return (stationMm, side) => finders.reduce((most, finder) => Math.max(most, finder(stationMm, side)), 0)
}

/** Where a body is set down round a station, and how far it reaches there. */
interface Looks extends Record<Side, readonly number[]> {
  readonly stationMm: number
  readonly line: Look
  /** Of the first place, on the grid. */
  readonly from: number
}

/** jumps: stations at which the path does not go on in the pose in which it came; null: a single arc, on which nothing may be taken for granted. */
function bodySideFinder(path: Path, body: RigidBody, jumps: readonly number[] | null): (stationMm: number, side: Side) => number {
  const first = body.ribs[0]
  const last = body.ribs[body.ribs.length - 1]
  if (!first || !last) return () => 0
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
  const steadySides = (curvature: number): Sides => {
    const before = steady.get(curvature)
    if (before) return before
    const arc = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 4 * lengthMm, k0: curvature, k1: curvature }])
    const find = bodySideFinder(arc, body, null)
    const sides = { leftMm: find(2 * lengthMm, 'leftMm'), rightMm: find(2 * lengthMm, 'rightMm') }
    steady.set(curvature, sides)
    return sides
  }
  const cut: Cut = new Float64Array(2)
  let looked: Looks | null = null
  const looksAt = (stationMm: number): Looks => {
    // Both sides of a station are asked one after the other.
    if (looked?.stationMm === stationMm) return looked
    const line = lookFrom(pathPoseAt(path, stationMm))
    const from = Math.max(0, Math.floor((stationMm - (last.xMm - body.front.xMm) - slack - range.fromMm) / stepMm))
    const to = Math.min(most, Math.ceil((stationMm + (body.front.xMm - first.xMm) + slack - range.fromMm) / stepMm))
    const leftMm: number[] = []
    const rightMm: number[] = []
    for (let i = from; i <= to; i++) {
      outlineCut(outline, standAt(i).pose, line, cut)
      leftMm.push(cut[0] ?? 0)
      rightMm.push(cut[1] ?? 0)
    }
    looked = { stationMm, line, from, leftMm, rightMm }
    return looked
  }
  return (stationMm, side) => {
    const [fromMm, toMm] = [stationMm - lengthMm, stationMm + lengthMm]
    if (jumps !== null && fromMm >= 0 && toMm <= path.lengthMm && !jumps.some((at) => at > fromMm && at < toMm)) {
      const curvature = steadyCurvature(path, fromMm, toMm)
      if (curvature !== null) return steadySides(curvature)[side]
    }
    const { line, from, [side]: cuts } = looksAt(stationMm)
    const at = (frontMm: number): number => {
      outlineCut(outline, jumps === null ? bodyStance(path, body, frontMm) : poseBetween(frontMm), line, cut)
      return (side === 'leftMm' ? cut[0] : cut[1]) ?? 0
    }
    // Two corners may reach nearly as far: each top that may rise above what the grid shows anywhere is closed in on.
    let best = 0
    for (const mm of cuts) best = Math.max(best, mm)
    for (let i = 0; i < cuts.length; i++) {
      const mm = cuts[i] ?? 0
      if (mm === 0 || mm < (cuts[i - 1] ?? 0) || mm <= (cuts[i + 1] ?? 0) || mm + topRise(cuts, i) <= best + noRiseMm) continue
      const low = standAt(Math.max(0, from + i - 1)).frontMm
      const high = standAt(Math.min(most, from + i + 1)).frontMm
      best = Math.max(best, goldenMost(at, low, high, jumps === null ? placeToleranceMm : roughToleranceMm))
    }
    return best
  }
}

/** What a top may rise above its place on the grid and be left alone, mm: rounding, on a straight where every place is a top. */
const noRiseMm = 1e-9

/**
 * How much higher than on the grid a top can be next to a place: as if it rose on from both sides as it came, and bent up as much once more.
 * Where the body ends (0) that side tells nothing.
 */
function topRise(cuts: readonly number[], i: number): number {
  const from = (side: 1 | -1): number => {
    const [here, near, far] = [cuts[i] ?? 0, cuts[i + side] ?? 0, cuts[i + 2 * side] ?? 0]
    if (near === 0) return 0
    const firstMm = Math.abs(here - near)
    return 2 * firstMm + (far === 0 ? firstMm : Math.abs(near - far))
  }
  const isAlone = (cuts[i - 1] ?? 0) === 0 && (cuts[i + 1] ?? 0) === 0
  return isAlone ? Infinity : Math.max(from(1), from(-1))
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

/** Corners of a body in its own frame, anticlockwise from the rear right, one after another: x, y, x, y … */
function outlineOf({ ribs }: RigidBody): readonly number[] {
  return [
    ...ribs.flatMap(({ xMm, halfWidthMm }) => [xMm, -halfWidthMm]),
    ...ribs.toReversed().flatMap(({ xMm, halfWidthMm }) => [xMm, halfWidthMm]),
  ]
}

/** Where an outline is looked at from: a place of a line and the way it runs there. */
interface Look {
  readonly x: number
  readonly y: number
  readonly cos: number
  readonly sin: number
}

const lookFrom = ({ x, y, headingRad }: Pose): Look => ({ x, y, cos: Math.cos(headingRad), sin: Math.sin(headingRad) })

/** To the left and to the right, filled anew for each cut: a sweep makes some ten thousand of them. */
type Cut = Float64Array

/** Farthest places to both sides at which the normal of a line cuts an outline that stands in a pose; 0 where it does not. */
function outlineCut(outline: readonly number[], pose: Pose | null, line: Look, cut: Cut): void {
  let [leftMm, rightMm] = [0, 0]
  cut[0] = 0
  cut[1] = 0
  if (pose === null) return
  const poseCos = Math.cos(pose.headingRad)
  const poseSin = Math.sin(pose.headingRad)
  const cos = poseCos * line.cos + poseSin * line.sin
  const sin = poseSin * line.cos - poseCos * line.sin
  const dx = pose.x - line.x
  const dy = pose.y - line.y
  // The body's middle seen from the line's pose.
  const ox = dx * line.cos + dy * line.sin
  const oy = dy * line.cos - dx * line.sin
  const lastX = outline[outline.length - 2] ?? 0
  const lastY = outline[outline.length - 1] ?? 0
  let ax = ox + lastX * cos - lastY * sin
  let ay = oy + lastX * sin + lastY * cos
  for (let i = 0; i < outline.length; i += 2) {
    const x = outline[i] ?? 0
    const y = outline[i + 1] ?? 0
    const bx = ox + x * cos - y * sin
    const by = oy + x * sin + y * cos
    if (ax <= 0 !== bx <= 0 || ax === 0) {
      const isAlong = ax === bx
      const left = isAlong ? Math.max(ay, by) : ay - ((by - ay) * ax) / (bx - ax)
      const right = isAlong ? -Math.min(ay, by) : -left
      if (left > leftMm) leftMm = left
      if (right > rightMm) rightMm = right
    }
    ax = bx
    ay = by
  }
  cut[0] = leftMm
  cut[1] = rightMm
}

function goldenMost(f: (x: number) => number, low: number, high: number, toleranceMm: number): number {
  let a = low
  let b = high
  let c = b - golden * (b - a)
  let d = a + golden * (b - a)
  let fc = f(c)
  let fd = f(d)
  let best = Math.max(fc, fd)
  while (b - a > toleranceMm) {
    if (fc >= fd) {
      b = d
      d = c
      fd = fc
      c = b - golden * (b - a)
      fc = f(c)
      best = Math.max(best, fc)
    } else {
      a = c
      c = d
      fc = fd
      d = a + golden * (b - a)
      fd = f(d)
      best = Math.max(best, fd)
    }
  }
  return best
}
