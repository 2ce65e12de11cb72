import { elementCurvatureAt, elementPoseAt } from './element.ts'
import { invariant } from './invariant.ts'
import { poseOffset } from './pose.ts'
import type { Path, PathElement } from './types.ts'

/** How far the offset path of an easement may lie beside the true offset line, mm. */
const offsetToleranceMm = 1e-7

/**
 * The line at a constant distance from a path, as a path of its own.
 *
 * The offset d of a line or an arc is a line or an arc: curvature k / (1 - k d), length (1 - k d) times. That of an easement
 * is no easement, but a short piece of it nearly is: over a piece of length u its curvature bends away from an even change by
 * at most |d k'^2| u^2 / (4 (1 - k d)^3), and with end curvatures and length exact and the start of each piece put where it
 * truly is, the line within the piece departs by less than that times u^2 / 8. The pieces are as many as keeps this below 1e-7 mm.
 *
 * Units:      mm, left positive.
 * Domain:     1 - k d > 0 all along: the offset must not reach a centre of curvature.
 * Throws:     InvariantError outside the domain. Source: derived.
 */
export function pathOffset(path: Path, offsetMm: number): Path {
  const elements: PathElement[] = []
  let station = 0
  for (const element of path.elements) {
    const count = pieceCount(element, offsetMm)
    for (let i = 0; i < count; i++) {
      const from = (element.lengthMm * i) / count
      const to = (element.lengthMm * (i + 1)) / count
      const [k0, k1] = [elementCurvatureAt(element, from), elementCurvatureAt(element, to)]
      const [stretch0, stretch1] = [1 - k0 * offsetMm, 1 - k1 * offsetMm]
      invariant(stretch0 > 0 && stretch1 > 0, 'an offset must not reach the centre of a curve')
      const lengthMm = (to - from) * 0.5 * (stretch0 + stretch1)
      elements.push({
        lengthMm,
        k0: k0 / stretch0,
        k1: k1 / stretch1,
        startStationMm: station,
        start: poseOffset(elementPoseAt(element, element.start, from), offsetMm),
      })
      station += lengthMm
    }
  }
  return { elements, lengthMm: station, end: poseOffset(path.end, offsetMm) }
}

function pieceCount({ lengthMm, k0, k1 }: PathElement, offsetMm: number): number {
  if (k0 === k1 || offsetMm === 0) return 1
  const sharpness = (k1 - k0) / lengthMm
  const stretch = Math.min(1 - k0 * offsetMm, 1 - k1 * offsetMm)
  invariant(stretch > 0, 'an offset must not reach the centre of a curve')
  const bend = (Math.abs(offsetMm) * sharpness * sharpness) / (4 * stretch ** 3)
  return Math.max(1, Math.ceil(lengthMm * (bend / (8 * offsetToleranceMm)) ** 0.25))
}
