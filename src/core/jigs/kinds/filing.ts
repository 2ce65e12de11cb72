import { pathLine } from '../../geom/index.ts'
import { frogAngle } from '../../turnout/index.ts'
import { beyondMm, floorMm, longestMm, outside } from '../limits.ts'
import { originPose, polygonOf, prismUp, rectangle } from '../outlines.ts'
import type { JigProblem, JigValues, Printer, Prism, WholeResult } from '../types.ts'

/** A rail is held over so much of its length before it comes out at the face. Common practice, no source. */
const holdMm = 45
/** Solid between the slots and at the ends of a face. Common practice, no source. */
const restMm = 6
/** A block that sits in a vise. Common practice, no source. */
const leastWidthMm = 25
/** The slot takes in so much of the rail's height, so that what is filed is seen and the block holds the rest. Common practice, no source. */
const seatPart = 0.9

interface Slot {
  readonly angleRad: number
  /** The slot leaves the face over so much of its length. */
  readonly openMm: number
}

/**
 * A block with slots for a rail that stands upright. It is pushed in from an end until it stands out of the long face, and filed flush with it:
 * the filed face then makes the slot's angle with the rail. In front the rails of the frog's vee, half the frog angle each, right and left
 * hand; behind both points.
 *
 * A slot of width w at the angle a leaves the face over w / sin a.
 */
export function filingFixture(values: JigValues['filing'], printer: Printer): WholeResult {
  const { frog, definition, pointAngleRad, railFootMm, railHeightMm } = values
  const problems: JigProblem[] = [
    ...outside('frog', frog, 2, 30, 'angle'),
    ...outside('railFootMm', railFootMm, 0.4, 30, 'size'),
    ...outside('railHeightMm', railHeightMm, 0.5, 60, 'size'),
  ]
  const slotMm = railFootMm + printer.slotAllowanceMm
  const leastPointRad = Math.asin(Math.min(1, (2 * slotMm) / longestMm))
  if (problems.length === 0) problems.push(...outside('pointAngleRad', pointAngleRad, leastPointRad, Math.PI / 6, 'angle'))
  if (problems.length > 0) return { ok: false, problems }

  const frogRad = frogAngle(frog, definition)
  const slotAt = (angleRad: number): Slot => ({ angleRad, openMm: slotMm / Math.sin(angleRad) })
  const front = slotAt(frogRad / 2)
  const back = slotAt(pointAngleRad)
  const halfMm = restMm + Math.max(front.openMm, back.openMm) + holdMm
  // The slots of front and back are nearest to each other at the ends, where each has risen by its run.
  const riseOf = ({ angleRad, openMm }: Slot): number =>
    (halfMm - restMm - openMm / 2) * Math.tan(angleRad) + slotMm / 2 / Math.cos(angleRad)
  const widthMm = Math.max(leastWidthMm, riseOf(front) + riseOf(back) + restMm)
  const heightMm = floorMm + seatPart * railHeightMm
  // The middle line of a slot meets its face in the middle of its opening.
  const cut = ({ angleRad, openMm }: Slot, end: 1 | -1, faceY: number): Prism => {
    const at = { x: end * (restMm + openMm / 2), y: faceY }
    const inwards = faceY === 0 ? angleRad : -angleRad
    const headingRad = end === 1 ? inwards : Math.PI - inwards
    const runMm = (halfMm + restMm) / Math.cos(angleRad)
    const out = openMm / 2 + slotMm
    return prismUp(polygonOf(rectangle({ ...at, headingRad }, [-out, runMm], [-slotMm / 2, slotMm / 2])), floorMm, heightMm + beyondMm)
  }
  const spine = pathLine({ x: -halfMm, y: widthMm / 2 }, { x: halfMm, y: widthMm / 2 })
  return {
    ok: true,
    whole: {
      kind: 'filing',
      body: {
        adds: [prismUp(polygonOf(rectangle(originPose, [-halfMm, halfMm], [0, widthMm])), 0, heightMm)],
        cuts: [cut(front, 1, 0), cut(front, -1, 0), cut(back, 1, widthMm), cut(back, -1, widthMm)],
      },
      heightMm,
      flatAtMm: null,
      seamRules: {
        spine,
        leftMm: widthMm / 2,
        rightMm: widthMm / 2,
        solidLeftMm: widthMm / 2,
        solidRightMm: widthMm / 2,
        stationsMm: [halfMm],
      },
      dimensions: [
        { kind: 'length', from: { x: -halfMm, y: 0 }, to: { x: halfMm, y: 0 }, value: 2 * halfMm, aside: -18 },
        { kind: 'length', from: { x: halfMm, y: 0 }, to: { x: halfMm, y: widthMm }, value: widthMm, aside: -8 },
        { kind: 'angle', from: { x: restMm + front.openMm / 2, y: 0 }, to: { x: halfMm, y: 0 }, value: front.angleRad, aside: 0 },
        {
          kind: 'angle',
          from: { x: restMm + back.openMm / 2, y: widthMm },
          to: { x: halfMm, y: widthMm },
          value: back.angleRad,
          aside: 0,
        },
      ],
      facts: [
        { name: 'frogAngle', kind: 'angle', value: frogRad },
        { name: 'frogFiling', kind: 'angle', value: front.angleRad },
        { name: 'pointFiling', kind: 'angle', value: back.angleRad },
        { name: 'slotWidth', kind: 'length', value: slotMm },
        { name: 'slotDepth', kind: 'length', value: heightMm - floorMm },
      ],
    },
  }
}
