import type { CornerPlace } from '../alignment/types.ts'
import { boxContains, pathPoseAt, poseToLocal, poseToPlan } from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import { freeSpacePlace, type FreeSpace } from './freeSpace.ts'
import { planLine, type PlanItem } from './planItem.ts'
import type { SheetOptions } from './types.ts'
import { lengthWords } from './words.ts'

/** Along the tangent from offset to offset. */
const stepMm = { imperial: 4 * 25.4, metric: 100 } as const

const BEYOND_MM = [12, 18, 24, 30, 36] as const

/** Offsets shorter than this are hidden in the centreline. */
const LEAST_MM = 0.2

/**
 * Offsets to set a curve out by: square to each tangent at even distances from TS and from ST, out to the centreline, with
 * its length; up to the middle of the curve, as far as the line still goes on along the tangent.
 *
 * Exactness: the far end lies on the line within 1e-6 mm.
 */
export function offsetItems(path: Path, corner: CornerPlace, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { tsMm, stMm } = corner
  const middle = (tsMm + stMm) / 2
  const ts = pathPoseAt(path, tsMm)
  const st = pathPoseAt(path, stMm)
  return [
    ...offsetsFrom(ts, path, tsMm, middle, units, space),
    ...offsetsFrom({ ...st, headingRad: st.headingRad + Math.PI }, path, stMm, middle, units, space),
  ]
}

/** From one end of a curve to its middle; `base` stands on that end and looks along the tangent into the curve. */
function offsetsFrom(
  base: Pose,
  path: Path,
  endMm: number,
  middleMm: number,
  units: SheetOptions['units'],
  space: FreeSpace,
): readonly PlanItem[] {
  const ahead = (station: number): number => poseToLocal(base, pathPoseAt(path, station)).x
  const lines: PlanItem[] = []
  const texts: PlanItem[] = []
  const farthest = ahead(middleMm)
  const step = stepMm[units]
  for (let n = 1; n * step <= farthest; n++) {
    const station = stationWhere(ahead, n * step, endMm, middleMm)
    const far = pathPoseAt(path, station)
    const { y } = poseToLocal(base, far)
    const foot = poseToPlan(base, { x: n * step, y: 0 })
    if (Math.abs(y) < LEAST_MM || !(boxContains(space.within, foot) || boxContains(space.within, far))) continue
    lines.push(planLine('offsets', 'offset', foot, { x: far.x, y: far.y }))
    const text = freeSpacePlace(
      space,
      { kind: 'text', layer: 'offsets', text: lengthWords(Math.abs(y), units), sizeMm: 2.6, weight: 'regular', grey: 0.2 },
      // Beside the line; of a short one, which lies among the ties, on the far side of the tangent.
      [...[0.5, 0.35, 0.65, 0.2, 0.8].map((part) => y * part), ...BEYOND_MM.map((mm) => -Math.sign(y) * mm)].map((across) => ({
        middle: poseToPlan(base, { x: n * step + 1.8, y: across }),
        angleRad: base.headingRad + Math.PI / 2,
        anchor: 'middle',
      })),
      'leave-out',
    )
    if (text) texts.push(text)
  }
  return [...lines, ...texts]
}

/** Where a rising function of the station comes to a value between its ends. */
function stationWhere(of: (station: number) => number, value: number, fromMm: number, toMm: number): number {
  let [low, high] = [fromMm, toMm]
  // Halves 10 m to below 1e-11 mm.
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2
    if (of(middle) < value) low = middle
    else high = middle
  }
  return (low + high) / 2
}
