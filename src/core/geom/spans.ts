import { elementPoseAt } from './element.ts'
import type { Path, PathElement, Pose } from './types.ts'

/** A stretch of one element, from..to along it in mm. */
export interface PathStretch {
  readonly element: PathElement
  readonly fromMm: number
  readonly toMm: number
}

/** The same with the poses in its middle and at its end. */
export interface PathSpan extends PathStretch {
  readonly middle: Pose
  readonly end: Pose
}

/**
 * Most that a span turns, rad. Searches look at every span once and solve the few that matter: larger spans are
 * fewer but looser bounds. A quarter radian keeps a curve within 0.8 % of its span from the chord.
 */
const spanTurnRad = 0.25

/** Longest span for its length, so that a long straight does not hide behind one loose bound, mm. */
const spanLengthMm = 500

/** An element is not cut into more than this for its length alone: a straight of a kilometre must not make every search a long one. */
const spansForLength = 64

/** The path cut into short, little-turning stretches in order of station. */
export function pathStretches(path: Path): readonly PathStretch[] {
  const stretches: PathStretch[] = []
  for (const element of path.elements) {
    const { lengthMm, k0, k1 } = element
    const turn = Math.max(Math.abs(k0), Math.abs(k1)) * lengthMm
    const count = Math.max(1, Math.ceil(Math.max(turn / spanTurnRad, Math.min(lengthMm / spanLengthMm, spansForLength))))
    for (let i = 0; i < count; i++) {
      const toMm = i + 1 === count ? lengthMm : (lengthMm * (i + 1)) / count
      stretches.push({ element, fromMm: (lengthMm * i) / count, toMm })
    }
  }
  return stretches
}

/** Paths are immutable, so what is cut once per path is kept with it. Not part of any result. */
const known = new WeakMap<Path, readonly PathSpan[]>()

/** The same stretches with their poses. The same list for the same path object. */
export function pathSpans(path: Path): readonly PathSpan[] {
  const before = known.get(path)
  if (before) return before
  const spans = pathStretches(path).map(
    ({ element, fromMm, toMm }): PathSpan => ({
      element,
      fromMm,
      toMm,
      middle: elementPoseAt(element, element.start, 0.5 * (fromMm + toMm)),
      end: elementPoseAt(element, element.start, toMm),
    }),
  )
  known.set(path, spans)
  return spans
}
