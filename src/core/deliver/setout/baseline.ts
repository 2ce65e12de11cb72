import { elementCurvatureAt, elementSharpness, pathPoseAt, poseToLocal, rootBrent } from '../../geom/index.ts'
import type { Path, PathElement, Point, Pose } from '../../geom/types.ts'

/*
 * A line seen from a base: x along it, y the offset to its left. Where the line runs square to the base it may turn back
 * along it, so it is cut there; on each piece the distance along the base only rises or only falls, and a step of the base
 * meets it at most once. Nothing is sampled: no crossing is missed, none is found twice.
 */

/** A stretch of the line on which the distance along the base only rises or only falls. */
export interface BasePiece {
  readonly fromMm: number
  readonly toMm: number
  readonly alongFromMm: number
  readonly alongToMm: number
}

/** Pieces shorter than this are the rounding of a place where the line turns back, mm. */
const shortestPieceMm = 1e-9

/** Exactness asked of a station on a piece, mm; far below the millionth that a replot is held to. */
const stationToleranceMm = 1e-12

/** A step this near to the end of a piece is that end, mm: turning into the frame of the base rounds, and an end must not be lost to it. */
const END_SLACK_MM = 1e-7

/** Along and offset of a station. */
export function baseMeasure(path: Path, frame: Pose, stationMm: number): Point {
  return poseToLocal(frame, pathPoseAt(path, stationMm))
}

/** The pieces of a line between two stations as a base sees it, in order of station. */
export function basePieces(path: Path, frame: Pose, fromMm: number, toMm: number): readonly BasePiece[] {
  const cuts = [fromMm, ...path.elements.flatMap((element) => elementSquares(element, frame.headingRad)), toMm]
  const stations = cuts.filter((station) => station >= fromMm && station <= toMm).toSorted((a, b) => a - b)
  return stations.flatMap((station, i) => {
    const next = stations[i + 1]
    if (next === undefined || next - station < shortestPieceMm) return []
    return [
      {
        fromMm: station,
        toMm: next,
        alongFromMm: baseMeasure(path, frame, station).x,
        alongToMm: baseMeasure(path, frame, next).x,
      },
    ]
  })
}

/** The station of a piece at a distance along the base; null when the piece does not come by there. */
export function pieceStation(path: Path, frame: Pose, piece: BasePiece, alongMm: number): number | null {
  const { fromMm, toMm, alongFromMm, alongToMm } = piece
  if (Math.abs(alongMm - alongFromMm) <= END_SLACK_MM) return fromMm
  if (Math.abs(alongMm - alongToMm) <= END_SLACK_MM) return toMm
  if (alongMm < Math.min(alongFromMm, alongToMm) || alongMm > Math.max(alongFromMm, alongToMm)) return null
  const root = rootBrent((station) => baseMeasure(path, frame, station).x - alongMm, fromMm, toMm, stationToleranceMm)
  return root.ok ? root.x : null
}

/** Stations of an element at which it runs square to a direction, both ends left out. */
function elementSquares(element: PathElement, directionRad: number): readonly number[] {
  const { k0, k1, lengthMm, start, startStationMm } = element
  if (k0 === 0 && k1 === 0) return []
  const c = elementSharpness(element)
  const relative = start.headingRad - directionRad
  const heading = (s: number): number => relative + s * (k0 + 0.5 * c * s)
  // A curve that bends both ways is taken in two halves, each turning one way.
  const inflection = k0 * k1 < 0 ? -k0 / c : lengthMm
  const halves = [
    [0, inflection],
    [inflection, lengthMm],
  ] as const
  return halves.flatMap(([from, to]) => {
    if (to <= from) return []
    const [low, high] = [Math.min(heading(from), heading(to)), Math.max(heading(from), heading(to))]
    const first = Math.ceil(low / Math.PI - 0.5)
    const last = Math.floor(high / Math.PI - 0.5)
    return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i + 0.5) * Math.PI).flatMap((square) => {
      const root = rootBrent((s) => heading(s) - square, from, to, stationToleranceMm)
      return root.ok ? [startStationMm + root.x] : []
    })
  })
}

/** The station between two others at which the line has turned to a heading, for a stretch that turns one way only. */
export function headingStation(path: Path, fromMm: number, toMm: number, headingRad: number): number {
  const root = rootBrent((station) => pathPoseAt(path, station).headingRad - headingRad, fromMm, toMm, stationToleranceMm)
  return root.ok ? root.x : 0.5 * (fromMm + toMm)
}

/** Sharpest curvature of a stretch without its sign, 1/mm: at an end of one of its elements. */
export function sharpestCurvature(path: Path, fromMm: number, toMm: number): number {
  return path.elements.reduce((most, element) => {
    const first = Math.max(fromMm - element.startStationMm, 0)
    const last = Math.min(toMm - element.startStationMm, element.lengthMm)
    if (last < first) return most
    return Math.max(most, Math.abs(elementCurvatureAt(element, first)), Math.abs(elementCurvatureAt(element, last)))
  }, 0)
}
