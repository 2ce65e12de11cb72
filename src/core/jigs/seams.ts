import { boxOfPoints, pathPoseAt, poseToLocal, poseToPlan } from '../geom/index.ts'
import type { Box, Path, Point, Pose } from '../geom/types.ts'
import { beyondMm } from './limits.ts'
import { band, polygonOf, side } from './outlines.ts'
import type { JigPiece, JigProblem, Printer, SeamRules } from './types.ts'

/** A seam has one dovetail for so much of its width. Common practice, no source. */
const widthPerTailMm = 50
/** Neck of a tail by the width that is its own, its depth by its neck, and how far each side leans out over its depth. Common practice, no source. */
const neckPart = 0.32
const mostNeckMm = 14
const depthByNeck = 0.8
const leanByDepth = 0.25
/** No jig is worth more pieces. */
const mostPieces = 60
/** Sizes are held against the bed to this, so that a jig of the bed's own length fits. */
const bedSlackMm = 1e-6

export type PiecesResult =
  | { readonly ok: true; readonly pieces: readonly JigPiece[]; readonly seams: readonly (readonly Point[])[] }
  | { readonly ok: false; readonly problem: JigProblem }

/**
 * Cuts a jig into as few pieces as fit the bed, as equal as its seams allow, joined by dovetails through its whole height.
 *
 * The faces of a seam meet flat beside the tails, so that pieces put together have the true length; only the sockets are wider and deeper
 * than the tails, by the allowance to each side.
 */
export function piecesOf(rules: SeamRules, printer: Printer): PiecesResult {
  let least: JigPiece | null = null
  for (let count = 1; count <= mostPieces; count++) {
    const stations = seamStations(rules, count)
    if (stations === null) break
    const pieces = stations.slice(1).map((toMm, i) => pieceOf(rules, printer, i + 1, stations[i] ?? 0, toMm, count))
    if (pieces.every((piece) => fits(piece, printer))) {
      const seams = stations.slice(1, -1).map((stationMm) => seamLine(rules, stationMm, 0))
      return { ok: true, pieces: pieces.map((piece) => turnedToFit(piece, printer)), seams }
    }
    const largest = pieces.reduce((most, piece) => (sizeOf(piece) > sizeOf(most) ? piece : most))
    if (least === null || sizeOf(largest) < sizeOf(least)) least = largest
  }
  return {
    ok: false,
    problem: {
      kind: 'bedTooSmall',
      bedXMm: printer.bedXMm,
      bedYMm: printer.bedYMm,
      needXMm: least === null ? 0 : Math.max(least.sizeXMm, least.sizeYMm),
      needYMm: least === null ? 0 : Math.min(least.sizeXMm, least.sizeYMm),
    },
  }
}

const sizeOf = ({ sizeXMm, sizeYMm }: JigPiece): number => Math.max(sizeXMm, sizeYMm)

/** Ends and seams for so many pieces; null when the seams' places do not give so many, or pieces shorter than two tails. */
function seamStations(rules: SeamRules, count: number): readonly number[] | null {
  const { spine, stationsMm } = rules
  const stations = [0]
  for (let i = 1; i < count; i++) {
    const wanted = (spine.lengthMm * i) / count
    const place = stationsMm === null ? wanted : nearest(stationsMm, wanted)
    if (place === null) return null
    stations.push(place)
  }
  stations.push(spine.lengthMm)
  const shortest = count === 1 ? 0 : 2 * tailsOf(rules).depthMm
  return stations.every((station, i) => i === 0 || station - (stations[i - 1] ?? 0) > shortest) ? stations : null
}

function nearest(places: readonly number[], wanted: number): number | null {
  return places.reduce<number | null>(
    (best, place) => (best === null || Math.abs(place - wanted) < Math.abs(best - wanted) ? place : best),
    null,
  )
}

interface Tails {
  /** Middles of the tails, left of the spine. */
  readonly middlesMm: readonly number[]
  readonly neckMm: number
  readonly depthMm: number
}

function tailsOf({ solidLeftMm, solidRightMm }: SeamRules): Tails {
  const widthMm = solidLeftMm + solidRightMm
  const count = Math.max(1, Math.floor(widthMm / widthPerTailMm))
  const neckMm = Math.min(mostNeckMm, (widthMm / count) * neckPart)
  return {
    middlesMm: Array.from({ length: count }, (_, i) => ((i + 0.5) * widthMm) / count - solidRightMm),
    neckMm,
    depthMm: neckMm * depthByNeck,
  }
}

/** The line of a seam from right to left with its tails, each wider and deeper by the allowance (the socket) or as it is (the tail). */
function seamLine(rules: SeamRules, stationMm: number, allowanceMm: number): Point[] {
  const { middlesMm, neckMm, depthMm } = tailsOf(rules)
  const frame = pathPoseAt(rules.spine, stationMm)
  // A side that leans by a slope is moved out square to itself.
  const aside = allowanceMm * Math.hypot(1, leanByDepth)
  const deep = depthMm + (allowanceMm === 0 ? 0 : allowanceMm)
  const atNeck = neckMm / 2 + aside
  const atTip = atNeck + leanByDepth * deep
  const tails = middlesMm.flatMap((y): Point[] => [
    { x: 0, y: y - atNeck },
    { x: deep, y: y - atTip },
    { x: deep, y: y + atTip },
    { x: 0, y: y + atNeck },
  ])
  const ends = [-(rules.rightMm + beyondMm), rules.leftMm + beyondMm] as const
  return [{ x: 0, y: ends[0] }, ...tails, { x: 0, y: ends[1] }].map((point) => poseToPlan(frame, point))
}

function pieceOf(rules: SeamRules, printer: Printer, number: number, fromMm: number, toMm: number, count: number): JigPiece {
  const { spine, leftMm, rightMm } = rules
  const isFirst = number === 1
  const isLast = number === count
  const right = side(spine, -rightMm - beyondMm, fromMm, toMm)
  const left = side(spine, leftMm + beyondMm, fromMm, toMm).toReversed()
  // What lies beyond the ends of the jig is taken in whole: there is nothing to be parted from.
  const start = isFirst ? endLine(spine, rules, 0, -beyondMm) : seamLine(rules, fromMm, printer.jointAllowanceMm)
  const end = isLast ? endLine(spine, rules, spine.lengthMm, beyondMm) : seamLine(rules, toMm, 0)
  const outline = [
    ...(isFirst ? right : right.slice(1)).slice(0, isLast ? undefined : -1),
    ...end,
    ...(isLast ? left : left.slice(1)).slice(0, isFirst ? undefined : -1),
    ...start.toReversed(),
  ]
  const solid = [...band(spine, leftMm, rightMm, fromMm, toMm), ...(isLast ? [] : seamLine(rules, toMm, 0).slice(1, -1))]
  const { frame, box } = laidFlat(spine, fromMm, toMm, solid)
  return { number, within: polygonOf(outline), frame, sizeXMm: box.maxX - box.minX, sizeYMm: box.maxY - box.minY }
}

function endLine(spine: Path, { leftMm, rightMm }: SeamRules, stationMm: number, ahead: number): Point[] {
  const frame = pathPoseAt(spine, stationMm)
  return [
    { x: ahead, y: -rightMm - beyondMm },
    { x: ahead, y: leftMm + beyondMm },
  ].map((point) => poseToPlan(frame, point))
}

/** Laid with its chord along x; the frame stands in the lower left corner of its box. */
function laidFlat(spine: Path, fromMm: number, toMm: number, points: readonly Point[]): { readonly frame: Pose; readonly box: Box } {
  const [from, to] = [pathPoseAt(spine, fromMm), pathPoseAt(spine, toMm)]
  const frame: Pose = { x: from.x, y: from.y, headingRad: Math.atan2(to.y - from.y, to.x - from.x) }
  const box = boxOfPoints(points.map((point) => poseToLocal(frame, point))) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  const corner = poseToPlan(frame, { x: box.minX, y: box.minY })
  return { frame: { ...corner, headingRad: frame.headingRad }, box }
}

function fits({ sizeXMm, sizeYMm }: JigPiece, { bedXMm, bedYMm }: Printer): boolean {
  const [long, short] = [Math.max(bedXMm, bedYMm), Math.min(bedXMm, bedYMm)]
  return Math.max(sizeXMm, sizeYMm) <= long + bedSlackMm && Math.min(sizeXMm, sizeYMm) <= short + bedSlackMm
}

/** Turned by a quarter where it only fits so. */
function turnedToFit(piece: JigPiece, { bedXMm, bedYMm }: Printer): JigPiece {
  const { sizeXMm, sizeYMm, frame } = piece
  if (sizeXMm <= bedXMm + bedSlackMm && sizeYMm <= bedYMm + bedSlackMm) return piece
  // What was the upper left corner becomes the lower left one.
  const corner = poseToPlan(frame, { x: 0, y: sizeYMm })
  return { ...piece, frame: { ...corner, headingRad: frame.headingRad - Math.PI / 2 }, sizeXMm: sizeYMm, sizeYMm: sizeXMm }
}
