import { pathLine } from '../../geom/index.ts'
import { longestMm, outside } from '../limits.ts'
import { polygonOf } from '../outlines.ts'
import type { JigProblem, JigValues, WholeResult } from '../types.ts'

/** The plate over the sheet, stiff under a hand; the fence, and how much of the sheet's edge it takes in. Common practice, no source. */
const plateMm = 6
const fenceMm = 8
const fencePart = 0.8
/** The least of the plate's upper face that is left where the edge leans. */
const leastBackMm = 4
/** A knife leans no farther: 60 degrees from upright. Common practice, no source. */
const mostShoulderRun = Math.sqrt(3)

/**
 * A fence that runs along the edge of a sheet, and a plate over it whose other edge guides the knife. A shoulder falls outwards, so the knife
 * leans in over the plate: its plane passes through the strip's top edge and rises inwards as the shoulder runs. Lies with the plate's back
 * on the bed.
 */
export function roadbedGuide({ widthMm, sheetMm, shoulderRun, lengthMm }: JigValues['roadbed']): WholeResult {
  const problems: JigProblem[] = [
    ...outside('sheetMm', sheetMm, 1, 50, 'size'),
    ...outside('shoulderRun', shoulderRun, 0, mostShoulderRun, 'edge'),
    ...outside('lengthMm', lengthMm, 40, longestMm, 'size'),
  ]
  if (problems.length === 0) problems.push(...outside('widthMm', widthMm, shoulderRun * plateMm + leastBackMm, 500, 'edge'))
  if (problems.length > 0) return { ok: false, problems }

  const heightMm = plateMm + fencePart * sheetMm
  const backMm = widthMm - shoulderRun * plateMm
  // Across (y) and up (z) as it is printed, upside down.
  const section = [
    { x: -fenceMm, y: 0 },
    { x: backMm, y: 0 },
    { x: widthMm, y: plateMm },
    { x: 0, y: plateMm },
    { x: 0, y: heightMm },
    { x: -fenceMm, y: heightMm },
  ]
  const middle = (widthMm - fenceMm) / 2
  return {
    ok: true,
    whole: {
      kind: 'roadbed',
      body: { adds: [{ axis: 'x', polygon: polygonOf(section), fromMm: 0, toMm: lengthMm }], cuts: [] },
      heightMm,
      flatAtMm: null,
      seamRules: {
        spine: pathLine({ x: 0, y: middle }, { x: lengthMm, y: middle }),
        leftMm: widthMm - middle,
        rightMm: middle + fenceMm,
        solidLeftMm: backMm - middle,
        solidRightMm: middle + fenceMm,
        stationsMm: null,
      },
      dimensions: [
        { kind: 'length', from: { x: lengthMm, y: 0 }, to: { x: lengthMm, y: widthMm }, value: widthMm, aside: -8 },
        { kind: 'length', from: { x: 0, y: -fenceMm }, to: { x: lengthMm, y: -fenceMm }, value: lengthMm, aside: -8 },
      ],
      facts: [
        { name: 'shoulderAngle', kind: 'angle', value: Math.atan(shoulderRun) },
        { name: 'fenceDepth', kind: 'length', value: heightMm - plateMm },
      ],
    },
  }
}
