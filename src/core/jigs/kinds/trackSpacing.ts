import { pathLine } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { beyondMm, longestMm, outside, wallMm } from '../limits.ts'
import { polygonOf, prismUp, rectangle, originPose } from '../outlines.ts'
import type { JigProblem, JigValues, Printer, Prism, WholeResult } from '../types.ts'

/** A bar that fingers hold: so high above the notches, so far beyond the outer ones. Common practice, no source. */
const barMm = 14
const endMm = 8
/** The notches take in so much of the rail's height: the head, and clear of spikes. Common practice, no source. */
const seatPart = 0.55
/** V-marks at both centrelines and in the middle between them. */
const markMm = 2

/** A bar with a notch for each of the four rail heads of two tracks: it holds both gauges and the spacing between them. Lies on its side. */
export function trackSpacingGauge(values: JigValues['trackSpacing'], printer: Printer): WholeResult {
  const { centresMm, gaugeMm, railHeadMm, railHeightMm, thicknessMm } = values
  const slotMm = railHeadMm + printer.slotAllowanceMm
  const problems: JigProblem[] = [
    ...outside('gaugeMm', gaugeMm, 4, 500, 'size'),
    ...outside('railHeadMm', railHeadMm, 0.2, 20, 'size'),
    ...outside('railHeightMm', railHeightMm, 0.5, 60, 'size'),
    ...outside('thicknessMm', thicknessMm, 1, 50, 'size'),
  ]
  if (problems.length === 0)
    problems.push(...outside('centresMm', centresMm, gaugeMm + railHeadMm + slotMm + 2 * wallMm, longestMm, 'wall'))
  if (problems.length > 0) return { ok: false, problems }

  const depthMm = seatPart * railHeightMm
  const halfMm = (centresMm + gaugeMm) / 2 + railHeadMm + endMm
  const heads = [-1, 1].flatMap((track) => [-1, 1].map((rail) => (track * centresMm) / 2 + (rail * (gaugeMm + railHeadMm)) / 2))
  const through = (outline: readonly Point[]): Prism => prismUp(polygonOf(outline), -beyondMm, thicknessMm + beyondMm)
  const notches = heads.map((x) => through(rectangle(originPose, [x - slotMm / 2, x + slotMm / 2], [-beyondMm, depthMm])))
  const topMm = barMm + depthMm
  const marks = [-centresMm / 2, 0, centresMm / 2].map((x) =>
    through([
      { x, y: topMm - markMm },
      { x: x + 2 * markMm, y: topMm + markMm },
      { x: x - 2 * markMm, y: topMm + markMm },
    ]),
  )
  const spineY = depthMm + barMm / 2
  const spine = pathLine({ x: -halfMm, y: spineY }, { x: halfMm, y: spineY })
  const outline = rectangle(originPose, [-halfMm, halfMm], [0, topMm])
  const [first = 0, second = 0] = heads
  return {
    ok: true,
    whole: {
      kind: 'trackSpacing',
      body: { adds: [prismUp(polygonOf(outline), 0, thicknessMm)], cuts: [...notches, ...marks] },
      heightMm: thicknessMm,
      flatAtMm: thicknessMm / 2,
      seamRules: {
        spine,
        leftMm: barMm / 2,
        rightMm: barMm / 2 + depthMm,
        solidLeftMm: barMm / 2 - markMm,
        solidRightMm: barMm / 2,
        // Between the tracks and between the rails, clear of the marks.
        stationsMm: [-3, -1, 1, 3]
          .map((quarter) => halfMm + (quarter * centresMm) / 4)
          .filter((station) => station > barMm && station < 2 * halfMm - barMm),
      },
      dimensions: [
        { kind: 'length', from: { x: -centresMm / 2, y: topMm }, to: { x: centresMm / 2, y: topMm }, value: centresMm, aside: 8 },
        {
          kind: 'length',
          from: { x: first + railHeadMm / 2, y: 0 },
          to: { x: second - railHeadMm / 2, y: 0 },
          value: gaugeMm,
          aside: -8,
        },
        { kind: 'length', from: { x: -halfMm, y: 0 }, to: { x: halfMm, y: 0 }, value: 2 * halfMm, aside: -18 },
      ],
      facts: [
        { name: 'slotWidth', kind: 'length', value: slotMm },
        { name: 'slotDepth', kind: 'length', value: depthMm },
      ],
    },
  }
}
