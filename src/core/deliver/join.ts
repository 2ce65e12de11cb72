import { pointPolar } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { rowName } from './grid.ts'
import { planLine, type PlanItem } from './planItem.ts'

/** Two sheets that overlap: what both show so that they can be laid together. Plan mm. */
export interface SheetJoin {
  readonly a: string
  readonly b: string
  /** Places of the match crosses, the same two points for both sheets. */
  readonly crosses: readonly [Point, Point]
  /** Line to trim one of them along; null where they only share a corner. */
  readonly trim: readonly [Point, Point] | null
  /** Direction in which the crosses' arms lie. */
  readonly angleRad: number
}

export const CROSS_ARM_MM = 4

/** Beside a cross, along the trim line and across it, so that the letter is whole on both sheets. */
const LETTER_AT_MM = { along: 2.6, across: 1.3 } as const
const LETTER_MM = 2.2

/** Letters of the crosses of a join, by its count from 0. */
export function crossLetters(nth: number): readonly [string, string] {
  return [rowName(2 * nth).toLowerCase(), rowName(2 * nth + 1).toLowerCase()]
}

/**
 * Crosses and trim line of a join, as both sheets show them. Each cross has a letter that no other one of the set has: what
 * goes on what is seen without reading the names of the sheets. `nth` counts the joins from 0.
 */
export function joinItems(join: SheetJoin, nth: number): readonly PlanItem[] {
  const items: PlanItem[] = join.trim ? [planLine('match', 'trim', join.trim[0], join.trim[1])] : []
  const alongRad = join.trim ? Math.atan2(join.trim[1].y - join.trim[0].y, join.trim[1].x - join.trim[0].x) : join.angleRad
  const letters = crossLetters(nth)
  join.crosses.forEach((at, i) => {
    for (const turn of [0, Math.PI / 2]) {
      const arm = pointPolar(join.angleRad + turn, CROSS_ARM_MM)
      items.push(planLine('match', 'match', { x: at.x - arm.x, y: at.y - arm.y }, { x: at.x + arm.x, y: at.y + arm.y }))
    }
    const [along, across] = [pointPolar(alongRad, LETTER_AT_MM.along), pointPolar(alongRad + Math.PI / 2, LETTER_AT_MM.across)]
    items.push({
      kind: 'text',
      layer: 'match',
      middle: { x: at.x + along.x + across.x, y: at.y + along.y + across.y },
      text: letters[i] ?? '',
      sizeMm: LETTER_MM,
      angleRad: join.angleRad,
      anchor: 'middle',
      weight: 'bold',
      grey: 0,
    })
  })
  return items
}
