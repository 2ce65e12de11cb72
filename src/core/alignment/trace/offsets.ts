import { MEDIAN_DEVIATION, median } from './clean.ts'
import type { Measured, TraceOptions } from './types.ts'

/** Huber's limit in standard errors: beyond it a point pulls no harder. */
const HUBER = 1.345

/** How offsets are weighed: strays beyond cutMm not at all; up to evenMm alike, however small the others are; those held in full. */
export interface Weighing {
  readonly cutMm: number
  readonly evenMm: number
  readonly held: readonly boolean[]
}

const median3 = (a: number, b: number, c: number): number => Math.max(Math.min(a, b), Math.min(Math.max(a, b), c))

/** Of so many neighbours on either side, with the point itself, most must lie off together to say that the line is wrong there. */
const WITNESSES = 2

/** Whether a point lies off by itself, beyond a distance that the points about it do not agree on. */
export function isStray(offsetsMm: readonly number[], index: number, cutMm: number): boolean {
  const offset = offsetsMm[index] ?? 0
  if (Math.abs(offset) <= cutMm) return false
  const about = offsetsMm.slice(Math.max(0, index - WITNESSES), index + WITNESSES + 1)
  return about.filter((other) => other * offset > 0 && Math.abs(other) > cutMm).length <= WITNESSES
}

/** The size of an offset that a point and its neighbours agree on: one stray point alone says nothing, unless it is held. */
export function agreedOffset(offsetsMm: readonly number[], held: readonly boolean[], index: number): number {
  const offset = offsetsMm[index] ?? 0
  return Math.abs(held[index] === true ? offset : median3(offsetsMm[index - 1] ?? 0, offset, offsetsMm[index + 1] ?? 0))
}

/** The largest of these, mm. */
export function agreedWorst(offsetsMm: readonly number[], held: readonly boolean[]): number {
  return offsetsMm.reduce((worst, _, i) => Math.max(worst, agreedOffset(offsetsMm, held, i)), 0)
}

/** Standard error of the offsets, robust: from the median of their sizes. */
export function offsetsError(offsetsMm: readonly number[]): number {
  return median(offsetsMm.map(Math.abs)) / MEDIAN_DEVIATION
}

/** How much each offset counts. */
export function offsetsWeights(offsetsMm: readonly number[], { cutMm, evenMm, held }: Weighing): readonly number[] {
  const limit = Math.max(evenMm, HUBER * offsetsError(offsetsMm))
  return offsetsMm.map((offset, i) => {
    if (held[i] === true) return 1
    const size = Math.abs(offset)
    return isStray(offsetsMm, i, cutMm) ? 0 : size <= limit || size === 0 ? 1 : limit / size
  })
}

/** The error that is made small. */
export const weighed = (offsetsMm: readonly number[], weights: readonly number[]): number =>
  offsetsMm.reduce((sum, offset, i) => sum + (weights[i] ?? 0) * offset * offset, 0)

/** A point is an outlier beyond so many tolerances and so many standard errors of the rest. */
const OUTLIER_TOLERANCES = 2
const OUTLIER_ERRORS = 5

/** Beyond this a point that lies off by itself is an outlier, mm. */
export function offsetsCut(offsetsMm: readonly number[], { toleranceMm }: TraceOptions): number {
  return Math.max(OUTLIER_TOLERANCES * toleranceMm, OUTLIER_ERRORS * offsetsError(offsetsMm))
}

/** Offsets under this part of the tolerance are weighed alike. */
const EVEN_TOLERANCE = 0.05

export const weighingOf = (cutMm: number, { toleranceMm }: TraceOptions, { held }: Measured): Weighing => ({
  cutMm,
  evenMm: EVEN_TOLERANCE * toleranceMm,
  held,
})
