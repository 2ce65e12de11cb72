import { pathFromElements, pathOffsetPoint, pathPoseAt } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import { poseToPlan } from '../../geom/index.ts'
import { beyondMm, longestMm, outside } from '../limits.ts'
import { band, circle, originPose, polygonOf, prismUp } from '../outlines.ts'
import type { JigDimension, JigProblem, JigValues, Prism, Printer, WholeResult } from '../types.ts'

/** Holes along the centreline, for an awl or a pencil's point, so far apart from the curve's beginning. Common practice, no source. */
const holeStepMm = 50
const holeMm = 1.2
/** Notches in both edges mark where the curve and its arc begin: so wide at the edge, and half as deep. */
const notchMm = 1.2
/** Narrowest band that holds a dovetail and a hole. */
const leastWidthMm = 4
/** A shorter one is none: its curvature would jump. */
const leastEasementMm = 1
const mostTurnRad = (3 / 2) * Math.PI

/**
 * A band that lies between the rails: its edges are the gauge lines, less the allowance, from a straight run-out through the easement into the
 * arc. Turned over it serves the other hand. Where rails stand already, their feet reach in under it.
 */
export function curveTemplate(values: JigValues['curve'], printer: Printer): WholeResult {
  const { gaugeMm, radiusMm, easementMm, arcMm, runOutMm, thicknessMm, footReachMm, footHeightMm } = values
  const widthMm = gaugeMm - printer.slotAllowanceMm
  const half = widthMm / 2
  const problems: JigProblem[] = [
    ...outside('gaugeMm', gaugeMm, leastWidthMm + 2 * Math.max(0, footReachMm) + printer.slotAllowanceMm, 500, 'size'),
    ...(easementMm === 0 ? [] : outside('easementMm', easementMm, leastEasementMm, longestMm, 'easement')),
    ...outside('arcMm', arcMm, 10, longestMm, 'size'),
    ...outside('runOutMm', runOutMm, 0, longestMm, 'size'),
    ...outside('thicknessMm', thicknessMm, 1, 30, 'size'),
    ...outside('footReachMm', footReachMm, 0, 20, 'size'),
    ...outside('footHeightMm', footHeightMm, 0, Math.max(0, thicknessMm - 1), 'height'),
  ]
  if (problems.length === 0) {
    const leastRadius = Math.max(half + 2 * beyondMm, (arcMm + easementMm / 2) / mostTurnRad)
    problems.push(...outside('radiusMm', radiusMm, leastRadius, null, leastRadius > half + 2 * beyondMm ? 'turn' : 'middle'))
  }
  if (problems.length > 0) return { ok: false, problems }

  const k = 1 / radiusMm
  const elements = [
    { lengthMm: runOutMm, k0: 0, k1: 0 },
    { lengthMm: easementMm, k0: 0, k1: k },
    { lengthMm: arcMm, k0: k, k1: k },
  ].filter(({ lengthMm }) => lengthMm > 0)
  const spine = pathFromElements(originPose, elements)
  // What is cut along the band reaches beyond both its ends: a face that only nearly lies in the end's own would leave a sliver.
  const longer = pathFromElements({ ...originPose, x: -beyondMm }, [
    { lengthMm: beyondMm, k0: 0, k1: 0 },
    ...elements,
    { lengthMm: beyondMm, k0: k, k1: k },
  ])
  const arcFromMm = runOutMm + easementMm
  const hasRelief = footReachMm > 0 && footHeightMm > 0
  const relief = hasRelief
    ? [half, -half].map((edge): Prism => {
        const inner = edge > 0 ? edge - footReachMm : edge + footReachMm
        const outer = edge > 0 ? edge + beyondMm : edge - beyondMm
        return prismUp(polygonOf(band(longer, Math.max(inner, outer), -Math.min(inner, outer))), -beyondMm, footHeightMm)
      })
    : []
  const marks = [...new Set([runOutMm, arcFromMm])].filter((stationMm) => stationMm > notchMm)
  const through = (outline: readonly Point[]): Prism => prismUp(polygonOf(outline), -beyondMm, thicknessMm + beyondMm)
  const notches = marks.flatMap((stationMm) => [1, -1].map((hand) => through(notch(spine, stationMm, hand * half))))
  const holes = holeStations(runOutMm, spine.lengthMm).map((stationMm) =>
    through(circle(pathOffsetPoint(spine, stationMm, 0), (holeMm + printer.slotAllowanceMm) / 2)),
  )
  const inArc = pathPoseAt(spine, arcFromMm + arcMm / 2)
  const dimensions: JigDimension[] = [
    { kind: 'radius', from: inArc, to: poseToPlan(inArc, { x: 0, y: radiusMm }), value: radiusMm, aside: 0 },
    {
      kind: 'length',
      from: pathOffsetPoint(spine, spine.lengthMm, -half),
      to: pathOffsetPoint(spine, spine.lengthMm, half),
      value: widthMm,
      aside: -8,
    },
    ...(runOutMm > 0
      ? [{ kind: 'length' as const, from: { x: 0, y: -half }, to: { x: runOutMm, y: -half }, value: runOutMm, aside: -8 }]
      : []),
    ...(easementMm > 0
      ? [
          {
            kind: 'length' as const,
            from: pathOffsetPoint(spine, runOutMm, half),
            to: pathOffsetPoint(spine, arcFromMm, half),
            value: easementMm,
            aside: 8,
          },
        ]
      : []),
  ]
  return {
    ok: true,
    whole: {
      kind: 'curve',
      body: { adds: [prismUp(polygonOf(band(spine, half, half)), 0, thicknessMm)], cuts: [...relief, ...notches, ...holes] },
      heightMm: thicknessMm,
      flatAtMm: hasRelief ? (footHeightMm + thicknessMm) / 2 : thicknessMm / 2,
      seamRules: {
        spine,
        leftMm: half,
        rightMm: half,
        solidLeftMm: half - (hasRelief ? footReachMm : 0),
        solidRightMm: half - (hasRelief ? footReachMm : 0),
        stationsMm: seamPlaces(spine.lengthMm, [...marks, ...holeStations(runOutMm, spine.lengthMm)], widthMm),
      },
      dimensions,
      facts: [
        { name: 'width', kind: 'length', value: widthMm },
        { name: 'holeDistance', kind: 'length', value: holeStepMm },
        { name: 'wholeTurn', kind: 'angle', value: spine.end.headingRad },
      ],
    },
  }
}

function notch(spine: Path, stationMm: number, offsetMm: number): Point[] {
  const frame = pathPoseAt(spine, stationMm)
  const outwards = Math.sign(offsetMm)
  return [
    { x: 0, y: offsetMm - (outwards * notchMm) / 2 },
    { x: notchMm, y: offsetMm + (outwards * notchMm) / 2 },
    { x: -notchMm, y: offsetMm + (outwards * notchMm) / 2 },
  ].map((corner) => poseToPlan(frame, corner))
}

/** From the curve's beginning, both ways, clear of the ends. */
function holeStations(fromMm: number, lengthMm: number): readonly number[] {
  const stations: number[] = []
  for (let i = -Math.floor(fromMm / holeStepMm); fromMm + i * holeStepMm < lengthMm - 2 * holeMm; i++) {
    const stationMm = fromMm + i * holeStepMm
    if (stationMm > 2 * holeMm) stations.push(stationMm)
  }
  return stations
}

/** Seams a millimetre apart, clear of holes and notches by a tail's depth. */
function seamPlaces(lengthMm: number, keptClear: readonly number[], widthMm: number): readonly number[] {
  const clearMm = Math.min(widthMm / 2, 15)
  return Array.from({ length: Math.floor(lengthMm) }, (_, i) => i).filter((place) =>
    keptClear.every((stationMm) => place > stationMm + 2 * holeMm || place < stationMm - clearMm),
  )
}
