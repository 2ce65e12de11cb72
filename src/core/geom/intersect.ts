import { angleBetween } from './angle.ts'
import { elementCurvatureAt, elementPoseAt } from './element.ts'
import { invariant } from './invariant.ts'
import { pathStretches } from './spans.ts'
import type { Path, PathElement, Point, Pose } from './types.ts'

/** A place that two paths share: its station on each and the turn from the direction of a to that of b, rad in (-pi, pi]. */
export interface PathMeeting {
  readonly stationA: number
  readonly stationB: number
  readonly at: Point
  readonly angleRad: number
}

/** A stretch of one element, seen from its middle. */
interface Stretch {
  readonly element: PathElement
  readonly from: number
  readonly to: number
  readonly middle: Pose
  /** Most that the direction departs from that in the middle, rad. */
  readonly swing: number
  /** Most that the line departs from the tangent in the middle, mm. */
  readonly sag: number
}

function stretchOf(element: PathElement, from: number, to: number): Stretch {
  const half = 0.5 * (to - from)
  const swing = Math.max(Math.abs(elementCurvatureAt(element, from)), Math.abs(elementCurvatureAt(element, to))) * half
  return { element, from, to, middle: elementPoseAt(element, element.start, from + half), swing, sag: 0.5 * swing * half }
}

/** One path is mostly met with many in a row. Kept for good, the stretches of 5,000 tracks would be 8 MB. Not part of any result. */
const mostKept = 4
let lately: readonly { readonly path: Path; readonly stretches: readonly Stretch[] }[] = []

function stretchesOf(path: Path): readonly Stretch[] {
  const before = lately.find((one) => one.path === path)
  if (before) return before.stretches
  const stretches = pathStretches(path).map(({ element, fromMm, toMm }) => stretchOf(element, fromMm, toMm))
  lately = [{ path, stretches }, ...lately.slice(0, mostKept - 1)]
  return stretches
}

function stretchHalves({ element, from, to }: Stretch): readonly [Stretch, Stretch] {
  const middle = 0.5 * (from + to)
  return [stretchOf(element, from, middle), stretchOf(element, middle, to)]
}

/** True when no point of b can be within the tolerance of a: b lies wholly to one side of, or beyond, the bar that a fills. */
function isApart(a: Stretch, b: Stretch, toleranceMm: number): boolean {
  const cos = Math.cos(a.middle.headingRad)
  const sin = Math.sin(a.middle.headingRad)
  const dx = b.middle.x - a.middle.x
  const dy = b.middle.y - a.middle.y
  const relative = b.middle.headingRad - a.middle.headingRad
  const halfB = 0.5 * (b.to - b.from)
  const reachAcross = a.sag + halfB * Math.abs(Math.sin(relative)) + b.sag + toleranceMm
  const reachAlong = 0.5 * (a.to - a.from) + halfB * Math.abs(Math.cos(relative)) + b.sag + toleranceMm
  return Math.abs(dy * cos - dx * sin) > reachAcross || Math.abs(dx * cos + dy * sin) > reachAlong
}

/**
 * Stretches this short that still may be parallel are searched for their nearest places instead of being divided on, mm.
 * Shorter would tell apart touches that no track has, at a cost that grows with one over it where paths run together.
 */
const touchLengthMm = 2

/** Directions closer than this count as parallel whatever their stretches, rad: Newton's step grows with one over the angle. */
const parallelRad = 1e-4

/** Newton steps for the place where both meet, or come nearest when they are parallel; held to both stretches. */
function stretchMeeting(a: Stretch, b: Stretch): { readonly s: number; readonly t: number; readonly gapMm: number } {
  let s = 0.5 * (a.from + a.to)
  let t = 0.5 * (b.from + b.to)
  let gapMm = Infinity
  let bestS = s
  let bestT = t
  for (let i = 0; i < 30; i++) {
    const p = elementPoseAt(a.element, a.element.start, s)
    const q = elementPoseAt(b.element, b.element.start, t)
    const dx = q.x - p.x
    const dy = q.y - p.y
    const gap = Math.hypot(dx, dy)
    if (gap < gapMm) {
      gapMm = gap
      bestS = s
      bestT = t
    }
    const cosP = Math.cos(p.headingRad)
    const sinP = Math.sin(p.headingRad)
    const cosQ = Math.cos(q.headingRad)
    const sinQ = Math.sin(q.headingRad)
    const cross = cosP * sinQ - sinP * cosQ
    let stepS: number
    let stepT: number
    if (Math.abs(cross) > 1e-7) {
      stepS = (dx * sinQ - dy * cosQ) / cross
      stepT = (dx * sinP - dy * cosP) / cross
    } else {
      // Side by side: each in turn is drawn up to the other.
      stepS = i % 2 === 0 ? dx * cosP + dy * sinP : 0
      stepT = i % 2 === 0 ? 0 : -(dx * cosQ + dy * sinQ)
    }
    const nextS = Math.min(a.to, Math.max(a.from, s + stepS))
    const nextT = Math.min(b.to, Math.max(b.from, t + stepT))
    if (i % 2 === 1 && Math.abs(nextS - s) + Math.abs(nextT - t) < 1e-13 * (1 + Math.abs(s) + Math.abs(t))) break
    s = nextS
    t = nextT
  }
  return { s: bestS, t: bestT, gapMm }
}

/**
 * Places where two paths meet, in order of station on a.
 *
 * Units:      mm, rad.
 * Domain:     any two paths, tolerance > 0: places nearer than it count as meeting. Meetings on the same two stretches closer
 *             together than 4 mm are one; where the paths run together for a stretch, its first place stands for all of it.
 * Exactness:  at a crossing stations to rounding divided by the sine of the angle; at a touch about the square root of tolerance
 *             times radius, as touching is itself that vague. No transverse crossing is missed.
 */
export function pathIntersections(a: Path, b: Path, toleranceMm: number): PathMeeting[] {
  invariant(toleranceMm > 0, 'a tolerance must be above 0')
  const spansA = stretchesOf(a)
  const spansB = stretchesOf(b)
  const found: PathMeeting[] = []
  for (const spanA of spansA) {
    for (const spanB of spansB) {
      const waiting: (readonly [Stretch, Stretch])[] = [[spanA, spanB]]
      for (let pair = waiting.pop(); pair; pair = waiting.pop()) {
        const [p, q] = pair
        if (isApart(p, q, toleranceMm)) continue
        const angle = Math.abs(angleBetween(p.middle.headingRad, q.middle.headingRad))
        const isTransverse = Math.min(angle, Math.PI - angle) > 2 * (p.swing + q.swing) + parallelRad
        const lengthP = p.to - p.from
        const lengthQ = q.to - q.from
        if (isTransverse || Math.max(lengthP, lengthQ) <= touchLengthMm) {
          const { s, t, gapMm } = stretchMeeting(p, q)
          if (gapMm <= toleranceMm) {
            const poseP = elementPoseAt(p.element, p.element.start, s)
            const poseQ = elementPoseAt(q.element, q.element.start, t)
            found.push({
              stationA: p.element.startStationMm + s,
              stationB: q.element.startStationMm + t,
              at: { x: poseP.x, y: poseP.y },
              angleRad: angleBetween(poseP.headingRad, poseQ.headingRad),
            })
          }
        } else if (lengthP >= lengthQ) {
          for (const part of stretchHalves(p)) waiting.push([part, q])
        } else {
          for (const part of stretchHalves(q)) waiting.push([p, part])
        }
      }
    }
  }
  return meetingsMerged(found)
}

/** Meetings closer than this along both paths are one place found from neighbouring stretches, mm. */
const mergeLengthMm = 2 * touchLengthMm

function meetingsMerged(found: readonly PathMeeting[]): PathMeeting[] {
  const merged: PathMeeting[] = []
  /** Last member of the chain that each kept meeting stands for. */
  const last: PathMeeting[] = []
  for (const meeting of found.toSorted((m, n) => m.stationA - n.stationA || m.stationB - n.stationB)) {
    const chain = last.findIndex(
      (m) => Math.abs(m.stationA - meeting.stationA) <= mergeLengthMm && Math.abs(m.stationB - meeting.stationB) <= mergeLengthMm,
    )
    if (chain >= 0) last[chain] = meeting
    else {
      merged.push(meeting)
      last.push(meeting)
    }
  }
  return merged
}
