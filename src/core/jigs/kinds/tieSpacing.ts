import { pathArc, pathLine, pathOffsetPoint, pathPoseAt } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { tieJigOf } from '../../ties/index.ts'
import { beyondMm, floorMm, outside, wallMm } from '../limits.ts'
import { band, originPose, polygonOf, prismUp, rectangle } from '../outlines.ts'
import type { JigDimension, JigValues, Printer, WholeResult } from '../types.ts'

/** A board that turns farther comes round to itself. */
const mostTurnRad = (3 / 2) * Math.PI

/**
 * A board with a groove for each tie, open on the left, closed by the stop on the right: there the tie ends stand in line. On a curve the
 * grooves are square to it and their spacing is that of the centreline.
 */
export function tieSpacingJig(values: JigValues['tieSpacing'], printer: Printer): WholeResult {
  const { tieLengthMm, tieWidthMm, tieThicknessMm, spacingMm, radiusMm } = values
  const sizes = [
    ...outside('tieLengthMm', tieLengthMm, 5, 500, 'size'),
    ...outside('tieWidthMm', tieWidthMm, 0.5, 50, 'size'),
    ...outside('tieThicknessMm', tieThicknessMm, 0.5, 50, 'size'),
  ]
  if (sizes.length > 0) return { ok: false, problems: sizes }
  const isCurved = radiusMm !== 0
  const tie = { lengthMm: tieLengthMm, widthMm: tieWidthMm, thicknessMm: tieThicknessMm }
  const usual = tieJigOf('', tie, spacingMm)
  const halfMm = usual.boardWidthMm / 2
  const grooveMm = usual.grooveWidthMm + printer.slotAllowanceMm
  const leastRadius = isCurved ? outside('radiusMm', radiusMm, halfMm + wallMm + 2 * beyondMm, null, 'middle') : []
  if (leastRadius.length > 0) return { ok: false, problems: leastRadius }
  // At the inner end of the stop the grooves are nearest to each other.
  const nearness = isCurved ? 1 - halfMm / radiusMm : 1
  const wallProblem = outside('spacingMm', spacingMm, (grooveMm + wallMm) / nearness, 200, 'wall')
  if (wallProblem.length > 0) return { ok: false, problems: wallProblem }
  const lengthMm = usual.boardLengthMm
  const turnRad = isCurved ? lengthMm / radiusMm : 0
  const turnProblem = outside('radiusMm', radiusMm, isCurved ? lengthMm / mostTurnRad : 0, null, 'turn')
  if (turnProblem.length > 0) return { ok: false, problems: turnProblem }

  const spine: Path = isCurved ? pathArc(originPose, radiusMm, lengthMm) : pathLine({ x: 0, y: 0 }, { x: lengthMm, y: 0 })
  const heightMm = floorMm + usual.grooveDepthMm
  // The board's left edge is no straight line: a groove runs out beyond it wherever it bends.
  const outMm = halfMm + beyondMm + (isCurved ? grooveMm : 0)
  const grooves = usual.groovesMm.map((stationMm) =>
    prismUp(
      polygonOf(rectangle(pathPoseAt(spine, stationMm), [-grooveMm / 2, grooveMm / 2], [usual.stopMm - halfMm, outMm])),
      floorMm,
      heightMm + beyondMm,
    ),
  )
  const [first = 0, second = spacingMm] = usual.groovesMm
  const end = pathPoseAt(spine, lengthMm)
  const dimensions: JigDimension[] = [
    {
      kind: 'length',
      from: pathOffsetPoint(spine, first, halfMm),
      to: pathOffsetPoint(spine, second, halfMm),
      value: spacingMm,
      aside: 8,
    },
    {
      kind: 'length',
      from: pathOffsetPoint(spine, lengthMm, -halfMm),
      to: pathOffsetPoint(spine, lengthMm, halfMm),
      value: usual.boardWidthMm,
      aside: -8,
    },
    ...(isCurved
      ? [{ kind: 'radius' as const, from: { x: end.x, y: end.y }, to: { x: 0, y: radiusMm }, value: radiusMm, aside: 0 }]
      : [
          {
            kind: 'length' as const,
            from: { x: 0, y: -halfMm },
            to: { x: lengthMm, y: -halfMm },
            value: lengthMm,
            aside: -8,
          },
        ]),
  ]
  return {
    ok: true,
    whole: {
      kind: 'tieSpacing',
      body: { adds: [prismUp(polygonOf(band(spine, halfMm, halfMm)), 0, heightMm)], cuts: grooves },
      heightMm,
      flatAtMm: null,
      seamRules: {
        spine,
        leftMm: halfMm,
        rightMm: halfMm,
        solidLeftMm: halfMm,
        solidRightMm: halfMm,
        stationsMm: usual.groovesMm.slice(1).map((stationMm) => stationMm - spacingMm / 2),
      },
      dimensions,
      facts: [
        { name: 'ties', kind: 'count', value: usual.ties },
        { name: 'grooveWidth', kind: 'length', value: grooveMm },
        { name: 'grooveDepth', kind: 'length', value: usual.grooveDepthMm },
        ...(isCurved ? [{ name: 'wholeTurn' as const, kind: 'angle' as const, value: turnRad }] : []),
      ],
    },
  }
}
