import { poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { WorkTrack } from '../track/types.ts'
import type { CrossingGeometry, TurnoutGeometry } from '../turnout/index.ts'
import { freeSpacePlace, type FreeSpace, type Place } from './freeSpace.ts'
import type { PlanItem } from './planItem.ts'
import type { SheetOptions } from './types.ts'
import { pieceWords } from './words.ts'

/** Special work with its ties: as they lie in the plan, and as they are counted in its own frame. */
export interface TiedWork {
  readonly geometry: Pick<TurnoutGeometry, 'ties'> & { readonly request: Pick<(TurnoutGeometry | CrossingGeometry)['request'], Measure> }
  readonly pose: Pose
  readonly work: Pick<WorkTrack, 'ties'>
}

type Measure = 'tieLengthMm' | 'tieSpacingMm'

/** Every so many ties one is numbered: near enough to count on from. */
const NUMBER_EVERY = 5
/** Between the end of a tie and its words, mm; farther out where something else stands there and ties are far enough apart to tell. */
const BESIDE_MM = [1.7, 5, 8.5] as const
const FAR_FROM_SPACING_MM = 4.5

/** Lengths of the ties in small grey at their ends on one side of the work, + left; left out where there is no room. */
export function tieLengths(
  { geometry: { request }, pose, work }: TiedWork,
  side: 1 | -1,
  units: SheetOptions['units'],
  space: FreeSpace,
): readonly PlanItem[] {
  const { tieLengthMm, tieSpacingMm } = request
  const besides = tieSpacingMm < FAR_FROM_SPACING_MM ? BESIDE_MM.slice(0, 1) : BESIDE_MM
  return work.ties.flatMap((tie) => {
    if (tie.lengthMm <= tieLengthMm + 0.05 && !tie.isHeadBlock) return []
    // The axis, turned to point to that side.
    const across = Math.sin(tie.axisRad - pose.headingRad) * side
    const angleRad = across >= 0 ? tie.axisRad : tie.axisRad + Math.PI
    const places = besides.map((beyond): Place => {
      const reach = tie.lengthMm / 2 + beyond
      return {
        middle: { x: tie.centre.x + reach * Math.cos(angleRad), y: tie.centre.y + reach * Math.sin(angleRad) },
        angleRad,
        anchor: 'start',
      }
    })
    const text = freeSpacePlace(
      space,
      {
        kind: 'text',
        layer: 'tie-lengths',
        text: pieceWords(tie.lengthMm, units),
        sizeMm: Math.min(3, tieSpacingMm * 0.9),
        weight: 'regular',
        grey: 0.35,
      },
      places,
      'leave-out',
    )
    return text ?? []
  })
}

/** Numbers of every fifth tie and the first, as the tables of the work count them, at the ends on one side; left out where there is no room. */
export function tieNumbers({ geometry: { ties, request }, pose }: TiedWork, side: 1 | -1, space: FreeSpace): readonly PlanItem[] {
  return ties.flatMap(({ from, to }, i) => {
    const number = i + 1
    if (number !== 1 && number % NUMBER_EVERY !== 0) return []
    const isOut = (to.y - from.y) * side >= 0
    const [inner, outer] = isOut ? [from, to] : [to, from]
    const angleRad = Math.atan2(outer.y - inner.y, outer.x - inner.x)
    const middle = poseToPlan(pose, { x: outer.x + 1.2 * Math.cos(angleRad), y: outer.y + 1.2 * Math.sin(angleRad) })
    const sizeMm = Math.min(2.4, request.tieSpacingMm * 0.9)
    const text = freeSpacePlace(
      space,
      { kind: 'text', layer: 'tie-lengths', text: String(number), sizeMm, weight: 'regular', grey: 0.2 },
      [{ middle, angleRad: pose.headingRad + angleRad, anchor: 'start' }],
      'leave-out',
    )
    return text ?? []
  })
}
