import { pathPoseAt, pointDistance, poseToPlan } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { baseMeasure, pieceStation, type BasePiece } from './baseline.ts'
import { columns } from './columns.ts'
import { SAME_STATION_MM } from './joints.ts'
import { lengthValue } from './marks.ts'
import type { RuleMarks, SetoutColumn, SetoutGroup, SetoutProblem, SetoutRow } from './types.ts'

/** What a method hands back before figure and notes are put to it. */
export type GroupsResult =
  | { readonly ok: true; readonly groups: readonly SetoutGroup[] }
  | { readonly ok: false; readonly problem: SetoutProblem }

export const groupsRefuse = (problem: SetoutProblem): GroupsResult => ({ ok: false, problem })

/** More rows than this no one sets out by hand: a kilometre at every 50 mm. */
export const ROWS_MAX = 20_000

/** Even steps of a base from one end of a range to the other, multiples of the step; null: too many. */
export function evenSteps(fromMm: number, toMm: number, stepMm: number): readonly number[] | null {
  const first = Math.ceil(fromMm / stepMm - 1e-9)
  const last = Math.floor(toMm / stepMm + 1e-9)
  if (last - first >= ROWS_MAX) return null
  // Held to the range: a step that is its end but for rounding is its end.
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => Math.min(Math.max((first + i) * stepMm, fromMm), toMm))
}

export const alongAndOffset: readonly SetoutColumn[] = [columns.along, columns.offset]

/** A point by its distance along a base and its offset from it. The error is how far the two rounded values put it off. */
export function offsetRow(path: Path, frame: Pose, stationMm: number, name: string, marks: RuleMarks): SetoutRow {
  const { x, y } = baseMeasure(path, frame, stationMm)
  return localRow(frame, { x, y }, stationMm, name, marks)
}

/** The same for a place already known in the frame. */
export function localRow(frame: Pose, local: Point, stationMm: number, name: string, marks: RuleMarks): SetoutRow {
  const along = lengthValue(local.x, marks)
  const offset = lengthValue(local.y, marks)
  const at = poseToPlan(frame, local)
  return {
    stationMm,
    name,
    at,
    values: [along, offset],
    errorMm: pointDistance(at, poseToPlan(frame, { x: along.rounded, y: offset.rounded })),
  }
}

/** Rows where even steps of a base meet the pieces of a line, in order of the step. */
export function stepRows(
  path: Path,
  frame: Pose,
  pieces: readonly BasePiece[],
  steps: readonly number[],
  marks: RuleMarks,
): readonly SetoutRow[] {
  return steps.flatMap((along) =>
    pieces
      .flatMap((piece) => {
        const station = pieceStation(path, frame, piece, along)
        return station === null ? [] : [station]
      })
      // Where the line turns back, the pieces on both sides meet the step in one place.
      .filter((station, i, all) => all.findIndex((other) => Math.abs(other - station) <= SAME_STATION_MM) === i)
      .map((station) => offsetRow(path, frame, station, '', marks)),
  )
}

/** Rows by rising distance along the base; of an even step and a named place on one spot the named one stays. */
export function rowsMerged(rows: readonly SetoutRow[]): readonly SetoutRow[] {
  const kept = rows.filter(
    (row) => row.name !== '' || !rows.some((other) => other.name !== '' && Math.abs(other.stationMm - row.stationMm) <= SAME_STATION_MM),
  )
  return kept.toSorted((a, b) => (a.values[0]?.exact ?? 0) - (b.values[0]?.exact ?? 0) || a.stationMm - b.stationMm)
}

/** The place of a station in the plan, without its heading. */
export function stationPoint(path: Path, stationMm: number): Point {
  const { x, y } = pathPoseAt(path, stationMm)
  return { x, y }
}
