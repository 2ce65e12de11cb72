import type { Box } from './types.ts'

/** Boxes in one list of numbers, four each: what is run through at every step of a drag makes nothing. Where no box is stands NaN. */
export interface BoxRow {
  readonly numbers: Float64Array
}

export const boxRow = (count: number): BoxRow => ({ numbers: new Float64Array(4 * count) })

export function boxRowSet({ numbers }: BoxRow, place: number, box: Box | null): void {
  if (box === null) numbers.fill(Number.NaN, 4 * place, 4 * place + 4)
  else numbers.set([box.minX, box.minY, box.maxX, box.maxY], 4 * place)
}

const edge = (numbers: Float64Array, place: number, side: 0 | 1 | 2 | 3): number => numbers[4 * place + side] ?? Number.NaN

/** True when the boxes of two places share a point. What is NaN is near nothing. */
export function boxRowMeets({ numbers }: BoxRow, a: number, b: number): boolean {
  return (
    edge(numbers, a, 0) <= edge(numbers, b, 2) &&
    edge(numbers, b, 0) <= edge(numbers, a, 2) &&
    edge(numbers, a, 1) <= edge(numbers, b, 3) &&
    edge(numbers, b, 1) <= edge(numbers, a, 3)
  )
}

/** True when the box of a place and another share a point. */
export function boxRowOverlaps({ numbers }: BoxRow, place: number, { minX, minY, maxX, maxY }: Box): boolean {
  return (
    edge(numbers, place, 0) <= maxX && minX <= edge(numbers, place, 2) && edge(numbers, place, 1) <= maxY && minY <= edge(numbers, place, 3)
  )
}
