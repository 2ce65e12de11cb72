import type { Design, DesignCorner } from '../fair/design.ts'
import { cornerSplit } from '../fair/moves.ts'
import { traceCorner } from './begin.ts'
import { easementsOf, noLines, stationOwner } from './fitted.ts'
import type { Fitted } from './fitted.ts'
import { agreedOffset } from './offsets.ts'

/** A corner that turns less than this, rad, is not split: two of half of it would hardly differ from it. */
const LEAST_SPLIT_RAD = 0.06

/** Easements between two curves that were one begin as this part of its length. */
const INNER_EASEMENT = 0.1

/** Corners beside which points lie off the line by more than a distance that neighbours agree on, worst first. */
export function cornersOver(fitted: Fitted, held: readonly boolean[], overMm: number): readonly number[] {
  const { offsetsMm, stationsMm, design } = fitted
  const worst = new Map<number, number>()
  for (const [i, stationMm] of stationsMm.entries()) {
    const agreedMm = agreedOffset(offsetsMm, held, i)
    if (agreedMm <= overMm) continue
    const owner = stationOwner(fitted, stationMm)
    for (const corner of owner.kind === 'corner' ? [owner.index] : [owner.index - 1, owner.index])
      if (corner in design.corners) worst.set(corner, Math.max(worst.get(corner) ?? 0, agreedMm))
  }
  return [...worst].toSorted(([, a], [, b]) => b - a).map(([corner]) => corner)
}

/** Designs with some corners each made two: back to back without easements between, and with short ones. */
export function splitDesigns(fitted: Fitted, which: readonly number[]): readonly Design[] {
  return [0, INNER_EASEMENT].flatMap((inner) => {
    let corners: readonly DesignCorner[] = fitted.design.corners
    let isSplit = false
    // From the last one on, so that the numbers of those before stay.
    for (const corner of which.toSorted((a, b) => b - a)) {
      const split = cornerInTwo(fitted, corner, inner)
      if (split === null) continue
      corners = [...corners.slice(0, corner), ...split, ...corners.slice(corner + 1)]
      isSplit = true
    }
    return isSplit ? [noLines(corners)] : []
  })
}

function cornerInTwo({ frame, design, shape }: Fitted, corner: number, inner: number): readonly DesignCorner[] | null {
  const split = cornerSplit(frame, design, shape, corner, LEAST_SPLIT_RAD)
  const bent = shape.corners[corner]
  const one = design.corners[corner]
  const [first, second] = split === null ? [] : split.corners.slice(corner, corner + 2)
  if (bent === undefined || one === undefined || first === undefined || second === undefined) return null
  const innerMm = (inner * Math.abs(bent.turnRad)) / bent.curvature
  const [intoMm, outMm] = easementsOf(one)
  return [traceCorner(first.at, 1 / first.curvature, intoMm, innerMm), traceCorner(second.at, 1 / second.curvature, innerMm, outMm)]
}
