import { pathLine } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { longestMm, outside } from '../limits.ts'
import { circle, originPose, polygonOf, prismUp, rectangle } from '../outlines.ts'
import type { JigProblem, JigValues, Prism, WholeResult } from '../types.ts'

/** Noses with this radius roll along a rail head without catching in a joint. Common practice, no source. */
const noseMm = 3
/** Of the bar above the noses. Common practice, no source. */
const barMm = 14
/** The bar keeps so far off the rail. */
const clearMm = 1

/**
 * A stick with a nose at either end of a chord and one in its middle. Held against the inner face of a curve's outer rail all three touch when
 * the radius is right; when it is too small the middle one hangs free, when it is too large the stick rocks on it.
 *
 * The face lies at R = radius + gauge / 2. Noses of radius r that touch it from inside have their middles on a circle of R - r; with those of the
 * outer ones a chord c apart, the middle one stands out by m = (R - r) - sqrt((R - r)^2 - c^2 / 4), the versed sine of that circle.
 */
export function midOrdinateStick({ radiusMm, gaugeMm, chordMm, thicknessMm }: JigValues['midOrdinate']): WholeResult {
  const problems: JigProblem[] = [
    ...outside('gaugeMm', gaugeMm, 4, 500, 'size'),
    ...outside('thicknessMm', thicknessMm, 1, 30, 'size'),
    ...outside('chordMm', chordMm, 8 * noseMm, longestMm, 'size'),
  ]
  if (problems.length === 0) {
    const leastMm = chordMm / Math.SQRT2 + noseMm - gaugeMm / 2
    problems.push(...outside('radiusMm', radiusMm, leastMm, null, 'chord'))
  }
  if (problems.length > 0) return { ok: false, problems }

  const railMm = radiusMm + gaugeMm / 2
  const nosesMm = railMm - noseMm
  const ordinateMm = chordMm ** 2 / 4 / (nosesMm + Math.sqrt(nosesMm ** 2 - chordMm ** 2 / 4))
  const halfMm = chordMm / 2 + noseMm
  const leg = (x: number, y: number): readonly Prism[] =>
    [rectangle(originPose, [x - noseMm, x + noseMm], [y, clearMm + barMm / 2]), circle({ x, y }, noseMm)].map((outline: readonly Point[]) =>
      prismUp(polygonOf(outline), 0, thicknessMm),
    )
  const bar = rectangle(originPose, [-halfMm, halfMm], [clearMm, clearMm + barMm])
  const spineY = clearMm + barMm / 2
  return {
    ok: true,
    whole: {
      kind: 'midOrdinate',
      body: {
        adds: [prismUp(polygonOf(bar), 0, thicknessMm), ...leg(-chordMm / 2, 0), ...leg(0, -ordinateMm), ...leg(chordMm / 2, 0)],
        cuts: [],
      },
      heightMm: thicknessMm,
      flatAtMm: thicknessMm / 2,
      seamRules: {
        spine: pathLine({ x: -halfMm, y: spineY }, { x: halfMm, y: spineY }),
        leftMm: barMm / 2,
        rightMm: spineY + ordinateMm + noseMm,
        solidLeftMm: barMm / 2,
        solidRightMm: barMm / 2,
        // Clear of the noses: what stands below the bar belongs to one piece.
        stationsMm: Array.from({ length: Math.floor(2 * halfMm) }, (_, i) => i).filter((place) => {
          const x = place - halfMm
          return [-chordMm / 2, 0, chordMm / 2].every((nose) => Math.abs(x - nose) > 2 * noseMm)
        }),
      },
      dimensions: [
        {
          kind: 'length',
          from: { x: -chordMm / 2, y: clearMm + barMm },
          to: { x: chordMm / 2, y: clearMm + barMm },
          value: chordMm,
          aside: 8,
        },
        { kind: 'length', from: { x: halfMm, y: -ordinateMm }, to: { x: halfMm, y: 0 }, value: ordinateMm, aside: -10 },
      ],
      facts: [
        { name: 'railRadius', kind: 'length', value: railMm },
        { name: 'midOrdinate', kind: 'length', value: ordinateMm },
      ],
    },
  }
}
