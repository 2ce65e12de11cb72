import type { Point } from '../../geom/types.ts'
import { shapeChanged, shapeOf, shapePoseAt } from '../fair/design.ts'
import type { Design, Frame, ShapePlace } from '../fair/design.ts'
import { sampleDependsOn } from '../fair/measure.ts'
import { cornerChanged, easementsOf, placeAt } from './fitted.ts'
import type { Fitted } from './fitted.ts'

/** One number that may change. */
export type Unknown =
  | { readonly kind: 'start'; readonly along: Point }
  | { readonly kind: 'end'; readonly along: Point }
  | { readonly kind: 'move'; readonly corner: number; readonly along: Point }
  | { readonly kind: 'bend'; readonly corner: number }
  | { readonly kind: 'easementIn'; readonly corner: number }
  | { readonly kind: 'easementOut'; readonly corner: number }

/** An easement of exactly this length is left out and stays out. */
const NO_EASEMENT = 0

/** Difference quotients: mm for moves and easements, share for bends. */
const DIFFERENCE = 1e-4

/** All numbers of a line that may change. */
export function designUnknowns({ frame, design, shape }: Fitted): readonly Unknown[] {
  const { sides } = shape
  const first = sides[0]
  const last = sides.at(-1)
  const ends: Unknown[] =
    frame.isClosed || first === undefined || last === undefined
      ? []
      : [
          { kind: 'start', along: { x: -first.uy, y: first.ux } },
          { kind: 'end', along: { x: -last.uy, y: last.ux } },
        ]
  return [
    ...ends,
    ...design.corners.flatMap((one, corner): Unknown[] => [
      { kind: 'move', corner, along: { x: 1, y: 0 } },
      { kind: 'move', corner, along: { x: 0, y: 1 } },
      { kind: 'bend', corner },
      ...(one.source.easementIn === NO_EASEMENT ? [] : [{ kind: 'easementIn', corner } as const]),
      ...(one.source.easementOut === NO_EASEMENT ? [] : [{ kind: 'easementOut', corner } as const]),
    ]),
  ]
}

/** Easements that would become shorter than this are as long as this, mm: simplifying takes them away altogether. */
const LEAST_EASEMENT_MM = 1e-3

/** A design with its unknowns changed. */
export function designChanged(
  frame: Frame,
  design: Design,
  unknowns: readonly Unknown[],
  by: readonly number[],
): { readonly frame: Frame; readonly design: Design } {
  const corners = [...design.corners]
  let { start, end } = frame
  for (const [i, unknown] of unknowns.entries()) {
    const change = by[i] ?? 0
    if (unknown.kind === 'start' || unknown.kind === 'end') {
      const shifted = (at: Point): Point => ({ x: at.x + change * unknown.along.x, y: at.y + change * unknown.along.y })
      if (unknown.kind === 'start' && start.kind === 'free') start = { kind: 'free', at: shifted(start.at) }
      if (unknown.kind === 'end' && end.kind === 'free') end = { kind: 'free', at: shifted(end.at) }
      continue
    }
    const corner = corners[unknown.corner]
    if (corner === undefined) continue
    const [into, out] = easementsOf(corner)
    if (unknown.kind === 'move') {
      corners[unknown.corner] = { ...corner, at: { x: corner.at.x + change * unknown.along.x, y: corner.at.y + change * unknown.along.y } }
    } else if (unknown.kind === 'bend')
      corners[unknown.corner] = cornerChanged(corner, corner.curvature / Math.max(1 + change, LEAST_SHARE), into, out)
    else if (unknown.kind === 'easementIn')
      corners[unknown.corner] = cornerChanged(corner, corner.curvature, Math.max(LEAST_EASEMENT_MM, into + change), out)
    else corners[unknown.corner] = cornerChanged(corner, corner.curvature, into, Math.max(LEAST_EASEMENT_MM, out + change))
  }
  return { frame: { ...frame, start, end }, design: { ...design, corners } }
}

/** A radius shrinks in one step to no less than this part of itself. */
const LEAST_SHARE = 0.3

/** How fast the place of each point moves square to the line with each unknown, gathered into the normal equations. */
export function normalEquations(
  fitted: Fitted,
  unknowns: readonly Unknown[],
  weights: readonly number[],
): { readonly matrix: readonly (readonly number[])[]; readonly right: readonly number[] } {
  const { frame, design, shape, alignment, stationsMm, offsetsMm } = fitted
  const count = design.corners.length
  const beside = unknowns.map((unknown) =>
    [-DIFFERENCE, DIFFERENCE].map((by) => {
      const next = designChanged(frame, design, [unknown], [by])
      if (unknown.kind === 'start' || unknown.kind === 'end') return shapeOf(next.frame, next.design)
      return shapeChanged(frame, next.design, shape, unknown.corner, unknown.kind === 'move')
    }),
  )
  const matrix = unknowns.map(() => unknowns.map(() => 0))
  const right = unknowns.map(() => 0)
  for (const [i, stationMm] of stationsMm.entries()) {
    const weight = weights[i] ?? 0
    if (weight === 0) continue
    const place = placeAt({ frame, shape, alignment }, stationMm)
    const pose = shapePoseAt(shape, place)
    if (pose === null) continue
    const [cos, sin] = [Math.cos(pose.headingRad), Math.sin(pose.headingRad)]
    const columns: number[] = []
    const slopes: number[] = []
    for (const [column, unknown] of unknowns.entries()) {
      if (!dependsOn(frame, count, place, unknown)) continue
      const [lessShape, moreShape] = beside[column] ?? []
      const less = lessShape ? shapePoseAt(lessShape, place) : null
      const more = moreShape ? shapePoseAt(moreShape, place) : null
      if (less === null || more === null) continue
      columns.push(column)
      slopes.push(((more.y - less.y) * cos - (more.x - less.x) * sin) / (2 * DIFFERENCE))
    }
    for (const [a, column] of columns.entries()) {
      const slope = slopes[a] ?? 0
      const row = matrix[column]
      if (row === undefined) continue
      right[column] = (right[column] ?? 0) + weight * slope * (offsetsMm[i] ?? 0)
      for (const [b, other] of columns.entries()) row[other] = (row[other] ?? 0) + weight * slope * (slopes[b] ?? 0)
    }
  }
  return { matrix, right }
}

function dependsOn(frame: Frame, count: number, place: ShapePlace, unknown: Unknown): boolean {
  if (unknown.kind === 'start') return place.kind === 'side' ? place.side === 0 : place.corner === 0
  if (unknown.kind === 'end') return place.kind === 'side' ? place.side === count : place.corner === count - 1
  if (unknown.kind === 'move') return sampleDependsOn(frame, count, place, unknown.corner)
  return place.kind === 'corner' && place.corner === unknown.corner
}
