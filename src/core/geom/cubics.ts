import { poseSlot } from './clothoid.ts'
import { elementCurvatureAt, elementPoseAt, elementPoseInto, elementSharpness } from './element.ts'
import { pathElementStretches, type PathStretch } from './flatten.ts'
import { invariant } from './invariant.ts'
import { pathOffsetPoint } from './path.ts'
import { pointAdd, pointCross, pointPolar, pointScale, pointSubtract } from './point.ts'
import { poseOffset } from './pose.ts'
import type { Path, PathElement, Point } from './types.ts'

/** Cubic Bezier segments in a row; each starts where the one before it ends. */
export interface CubicPath {
  readonly start: Point
  readonly segments: readonly { readonly c1: Point; readonly c2: Point; readonly to: Point }[]
}

/** Where the offset line is at distance s along an element, its direction of travel as a unit vector and its own curvature. */
interface OffsetPlace {
  readonly at: Point
  readonly tangent: Point
  readonly curvature: number
  /** 1 - k d: mm of offset line to the mm of centreline; 0 or less where the offset reaches the centre of curvature. */
  readonly stretch: number
}

function offsetPlaceAt(element: PathElement, s: number, offsetMm: number): OffsetPlace {
  const pose = poseOffset(elementPoseAt(element, element.start, s), offsetMm)
  const k = elementCurvatureAt(element, s)
  const stretch = 1 - k * offsetMm
  return { at: pose, tangent: pointPolar(pose.headingRad, 1), curvature: k / stretch, stretch }
}

interface Cubic {
  readonly from: Point
  readonly c1: Point
  readonly c2: Point
  readonly to: Point
}

/**
 * Handle lengths with which a cubic has the given tangents and curvatures at both ends.
 *
 * Exactness:  error of the sixth order in the length of the piece; falls back on a third of the arc length, of the fourth order,
 *             where the equations have no near solution (nearly straight pieces, where it is as good).
 * Source:     [HERMITE-1987], from memory.
 */
function handleLengths(a: OffsetPlace, b: OffsetPlace, arcLengthMm: number): readonly [number, number] {
  const third = arcLengthMm / 3
  const chord = pointSubtract(b.at, a.at)
  const turn = pointCross(a.tangent, b.tangent)
  const riseA = pointCross(a.tangent, chord)
  const riseB = pointCross(chord, b.tangent)
  let first = third
  let second = third
  for (let i = 0; i < 12; i++) {
    // turn * second + 1.5 kA first^2 = riseA   and   turn * first + 1.5 kB second^2 = riseB
    const missA = turn * second + 1.5 * a.curvature * first * first - riseA
    const missB = turn * first + 1.5 * b.curvature * second * second - riseB
    const slopeA = 3 * a.curvature * first
    const slopeB = 3 * b.curvature * second
    const determinant = slopeA * slopeB - turn * turn
    if (Math.abs(determinant) <= 1e-12) return [third, third]
    const stepFirst = (missA * slopeB - missB * turn) / determinant
    const stepSecond = (missB * slopeA - missA * turn) / determinant
    first -= stepFirst
    second -= stepSecond
    if (Math.abs(stepFirst) + Math.abs(stepSecond) <= 1e-12 * arcLengthMm) break
  }
  const isNear = Math.abs(first - third) < 0.25 * third && Math.abs(second - third) < 0.25 * third
  return isNear ? [first, second] : [third, third]
}

/** Places within a piece where the exact line is compared with the cubic: as many as give each lobe of a sixth-order error two. */
const checks = 12

const exact = poseSlot()

/**
 * Largest distance from exact points of the offset line to the cubic, mm. Of all that drawing a track takes this is asked most often: it
 * counts in plain numbers and leaves nothing behind.
 */
function cubicError({ from, c1, c2, to }: Cubic, element: PathElement, fromMm: number, lengthMm: number, offsetMm: number): number {
  let worst = 0
  for (let i = 1; i < checks; i++) {
    elementPoseInto(exact, element, fromMm + (i / checks) * lengthMm)
    const headingRad = exact[2] ?? 0
    const x = (exact[0] ?? 0) - offsetMm * Math.sin(headingRad)
    const y = (exact[1] ?? 0) + offsetMm * Math.cos(headingRad)
    let t = i / checks
    let missX = x - bezier(from.x, c1.x, c2.x, to.x, t)
    let missY = y - bezier(from.y, c1.y, c2.y, to.y, t)
    for (let step = 0; step < 4; step++) {
      const slopeX = bezierSlope(from.x, c1.x, c2.x, to.x, t)
      const slopeY = bezierSlope(from.y, c1.y, c2.y, to.y, t)
      const speed = slopeX * slopeX + slopeY * slopeY
      if (speed === 0) break
      t = Math.min(1, Math.max(0, t + (missX * slopeX + missY * slopeY) / speed))
      missX = x - bezier(from.x, c1.x, c2.x, to.x, t)
      missY = y - bezier(from.y, c1.y, c2.y, to.y, t)
    }
    worst = Math.max(worst, Math.hypot(missX, missY))
  }
  return worst
}

function bezier(a: number, b: number, c: number, d: number, t: number): number {
  const u = 1 - t
  return u * u * u * a + 3 * t * u * (u * b + t * c) + t * t * t * d
}

function bezierSlope(a: number, b: number, c: number, d: number, t: number): number {
  const u = 1 - t
  return 3 * (u * u * (b - a) + 2 * t * u * (c - b) + t * t * (d - c))
}

/** No piece is halved more often: a million pieces to an element is past any paper. */
const deepest = 20

function elementCubics(element: PathElement, fromMm: number, toMm: number, offsetMm: number, toleranceMm: number, depth: number): Cubic[] {
  const a = offsetPlaceAt(element, fromMm, offsetMm)
  const b = offsetPlaceAt(element, toMm, offsetMm)
  const lengthMm = toMm - fromMm
  const arcLengthMm = lengthMm * 0.5 * (a.stretch + b.stretch)
  const hasCusp = a.stretch * b.stretch <= 0
  const turn = lengthMm * Math.max(Math.abs(elementCurvatureAt(element, fromMm)), Math.abs(elementCurvatureAt(element, toMm)))
  if (turn <= Math.PI / 2 || depth >= deepest) {
    const [first, second] = hasCusp ? [arcLengthMm / 3, arcLengthMm / 3] : handleLengths(a, b, arcLengthMm)
    const cubic: Cubic = {
      from: a.at,
      c1: pointAdd(a.at, pointScale(a.tangent, first)),
      c2: pointSubtract(b.at, pointScale(b.tangent, second)),
      to: b.at,
    }
    const isStraight = elementSharpness(element) === 0 && element.k0 === 0
    if (isStraight || depth >= deepest) return [cubic]
    if (cubicError(cubic, element, fromMm, lengthMm, offsetMm) <= toleranceMm) return [cubic]
  }
  const middle = 0.5 * (fromMm + toMm)
  return [
    ...elementCubics(element, fromMm, middle, offsetMm, toleranceMm, depth + 1),
    ...elementCubics(element, middle, toMm, offsetMm, toleranceMm, depth + 1),
  ]
}

/**
 * Cubic Bezier segments that follow the line at an offset within a tolerance.
 *
 * Domain:     0 <= from <= to <= length, tolerance > 0. Tangents agree at joins, so the printed line has no kink.
 * Exactness:  every segment is checked against exact points of the offset line and halved until it holds the tolerance.
 * Throws:     InvariantError outside the domain.
 */
export function pathToCubics(path: Path, { fromMm, toMm, offsetMm, toleranceMm }: PathStretch): CubicPath {
  invariant(toleranceMm > 0, 'a tolerance must be above 0')
  const cubics = pathElementStretches(path, fromMm, toMm).flatMap((stretch) =>
    elementCubics(stretch.element, stretch.fromMm, stretch.toMm, offsetMm, toleranceMm, 0),
  )
  return {
    start: cubics[0]?.from ?? pathOffsetPoint(path, fromMm, offsetMm),
    segments: cubics.map(({ c1, c2, to }) => ({ c1, c2, to })),
  }
}
