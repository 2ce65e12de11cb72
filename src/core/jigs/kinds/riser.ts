import { pathLine } from '../../geom/index.ts'
import { beyondMm, longestMm, outside } from '../limits.ts'
import { circle, originPose, polygonOf, prismUp, rectangle } from '../outlines.ts'
import type { JigProblem, JigValues, WholeResult } from '../types.ts'

/** A finger goes through where there is room for it. Common practice, no source. */
const fingerMm = 22
const fingerRestMm = 6

/** A block that is as high as a riser is to be. Lies on its side, so that its height is drawn on the bed and not counted in layers. */
export function riserBlock({ heightMm, widthMm, thicknessMm }: JigValues['riser']): WholeResult {
  const problems: JigProblem[] = [
    ...outside('heightMm', heightMm, 2, longestMm, 'size'),
    ...outside('widthMm', widthMm, 10, 200, 'size'),
    ...outside('thicknessMm', thicknessMm, 1, 100, 'size'),
  ]
  if (problems.length > 0) return { ok: false, problems }
  const across = widthMm / 2
  const hasHole = Math.min(heightMm, widthMm) >= fingerMm + 2 * fingerRestMm
  // Near its top, where it is lifted; a seam lies elsewhere.
  const hole = circle({ x: heightMm - fingerRestMm - fingerMm / 2, y: 0 }, fingerMm / 2)
  const lastSeamMm = hasHole ? heightMm - fingerMm - 2 * fingerRestMm - widthMm / 4 : heightMm
  return {
    ok: true,
    whole: {
      kind: 'riser',
      body: {
        adds: [prismUp(polygonOf(rectangle(originPose, [0, heightMm], [-across, across])), 0, thicknessMm)],
        cuts: hasHole ? [prismUp(polygonOf(hole), -beyondMm, thicknessMm + beyondMm)] : [],
      },
      heightMm: thicknessMm,
      flatAtMm: thicknessMm / 2,
      seamRules: {
        spine: pathLine({ x: 0, y: 0 }, { x: heightMm, y: 0 }),
        leftMm: across,
        rightMm: across,
        solidLeftMm: across,
        solidRightMm: across,
        stationsMm: Array.from({ length: Math.max(0, Math.floor(lastSeamMm)) }, (_, i) => i),
      },
      dimensions: [
        { kind: 'length', from: { x: 0, y: -across }, to: { x: heightMm, y: -across }, value: heightMm, aside: -8 },
        { kind: 'length', from: { x: heightMm, y: -across }, to: { x: heightMm, y: across }, value: widthMm, aside: -8 },
      ],
      facts: [],
    },
  }
}
