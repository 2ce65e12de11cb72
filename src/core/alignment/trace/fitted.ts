import { pathNearestWithin } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import { shapeOf } from '../fair/design.ts'
import type { Design, DesignCorner, Frame, Shape, ShapePlace, ShapeSide } from '../fair/design.ts'
import { traverseSolve } from '../traverse.ts'
import type { Alignment, Traverse } from '../types.ts'
import { offsetsError } from './offsets.ts'

type Solved = Extract<Alignment, { ok: true }>

/** A line that works out, with how the points lie to it. */
export interface Fitted {
  readonly frame: Frame
  readonly design: Design
  readonly shape: Shape
  readonly alignment: Solved
  /** Of each point: station of its nearest place and offset from there, + left. */
  readonly stationsMm: readonly number[]
  readonly offsetsMm: readonly number[]
}

/** Curves fit into their sides by this share, so that rounding does not push them out. */
const FITS = 1 - 1e-9

/** How far around its last place a point's nearest place is looked for, mm and as a share of the line. */
const WINDOW_MM = 150
const WINDOW_SHARE = 0.06

/** Fits a design to its frame so that it works out: curves scaled down where they want more of a side, or of a turn, than there is. */
function designFitted(frame: Frame, design: Design): { readonly design: Design; readonly shape: Shape } | null {
  let { corners } = design
  for (let look = 0; look < 60; look++) {
    const shape = shapeOf(frame, { ...design, corners })
    if (shape === null) return null
    const scales = corners.map(() => 1)
    const count = corners.length
    for (const [i, side] of shape.sides.entries()) {
      const before = frame.isClosed && i === 0 ? count - 1 : i - 1
      const needMm = (shape.corners[before]?.tangentOutMm ?? 0) + (shape.corners[i]?.tangentInMm ?? 0)
      if (needMm <= side.lengthMm) continue
      for (const n of [before, i]) if (n in scales) scales[n] = Math.min(scales[n] ?? 1, (FITS * side.lengthMm) / needMm)
    }
    const turns = shape.corners.map(({ arcMm, into, out, curvature }) =>
      arcMm < 0 ? (into.angleRad + out.angleRad + arcMm * curvature) / (into.angleRad + out.angleRad) : 1,
    )
    if (scales.every((scale) => scale === 1) && turns.every((turn) => turn === 1)) return { design: { ...design, corners }, shape }
    corners = corners.map((corner, i): DesignCorner => {
      const scale = scales[i] ?? 1
      const easementScale = scale * Math.max(0, turns[i] ?? 1) * (turns[i] === 1 ? 1 : FITS)
      return cornerChanged(corner, corner.curvature / scale, easementsOf(corner)[0] * easementScale, easementsOf(corner)[1] * easementScale)
    })
  }
  return null
}

/** Lengths of a corner's easements, in and out. */
export const easementsOf = ({ source }: DesignCorner): readonly [number, number] => [Number(source.easementIn), Number(source.easementOut)]

/** An easement turns at most so far, rad; longer ones wind up, and no line of a room has them. */
const MOST_EASEMENT_RAD = Math.PI

/** A corner with another curvature and other easements. */
export function cornerChanged(corner: DesignCorner, curvature: number, intoMm: number, outMm: number): DesignCorner {
  const [easementIn, easementOut] = [intoMm, outMm].map((mm) => Math.min(mm, (2 * MOST_EASEMENT_RAD) / curvature))
  return {
    ...corner,
    curvature,
    source: { ...corner.source, radiusMm: 1 / curvature, easementIn: easementIn ?? intoMm, easementOut: easementOut ?? outMm },
  }
}

export function designTraverse(frame: Frame, design: Design): Traverse {
  return {
    start: frame.start,
    end: frame.end,
    corners: design.corners.map((corner, i) => {
      const [easementInMm, easementOutMm] = easementsOf(corner)
      return { id: `c${i + 1}`, x: corner.at.x, y: corner.at.y, radiusMm: 1 / corner.curvature, easementInMm, easementOutMm }
    }),
  }
}

/** The frame with its free ends as far out as the curves beside them want; along their sides, so that these keep their directions. */
function frameRoomy(frame: Frame, design: Design): Frame {
  if (frame.isClosed || design.corners.length === 0) return frame
  const shape = shapeOf(frame, design)
  const [first, last] = [shape?.sides[0], shape?.sides.at(-1)]
  if (shape === null || first === undefined || last === undefined) return frame
  const before = (shape.corners[0]?.tangentInMm ?? 0) - first.lengthMm
  const behind = (shape.corners.at(-1)?.tangentOutMm ?? 0) - last.lengthMm
  const moved = (at: Point, side: ShapeSide, byMm: number): Point => ({ x: at.x + byMm * side.ux, y: at.y + byMm * side.uy })
  return {
    ...frame,
    ...(before > 0 && frame.start.kind === 'free' ? { start: { kind: 'free', at: moved(frame.start.at, first, -before / FITS) } } : {}),
    ...(behind > 0 && frame.end.kind === 'free' ? { end: { kind: 'free', at: moved(frame.end.at, last, behind / FITS) } } : {}),
  }
}

/** The frame with its free ends at the feet of the outermost points, or as far out as the curves want. */
function frameTrimmed(fitted: Fitted, first: Point, last: Point): Frame {
  const { frame, shape, design } = fitted
  const [head, tail] = [shape.sides[0], shape.sides.at(-1)]
  if (frame.isClosed || head === undefined || tail === undefined || frame.start.kind !== 'free' || frame.end.kind !== 'free') return frame
  const foot = (point: Point, side: ShapeSide, leastMm: number, mostMm: number): Point => {
    const alongMm = (point.x - side.from.x) * side.ux + (point.y - side.from.y) * side.uy
    const heldMm = Math.min(Math.max(alongMm, leastMm), mostMm)
    return { x: side.from.x + heldMm * side.ux, y: side.from.y + heldMm * side.uy }
  }
  const isOne = design.corners.length === 0
  const start = foot(first, head, -Infinity, isOne ? Infinity : head.lengthMm - (shape.corners[0]?.tangentInMm ?? 0) / FITS)
  const end = foot(last, tail, isOne ? -Infinity : (shape.corners.at(-1)?.tangentOutMm ?? 0) / FITS, Infinity)
  return { ...frame, start: { kind: 'free', at: start }, end: { kind: 'free', at: end } }
}

/** How points lie to a design; null where it cannot be made to work out. expectedMm: where each is looked for, by station. */
export function designAgainst(
  given: Frame,
  raw: Design,
  points: readonly Point[],
  expectedMm: (index: number, path: Path) => number,
): Fitted | null {
  const frame = frameRoomy(given, raw)
  const fits = designFitted(frame, raw)
  if (fits === null) return null
  const alignment = traverseSolve(designTraverse(frame, fits.design))
  if (!alignment.ok) return null
  const { path } = alignment
  const windowMm = WINDOW_MM + WINDOW_SHARE * path.lengthMm
  const stationsMm: number[] = []
  const offsetsMm: number[] = []
  for (const [i, point] of points.entries()) {
    const expected = Math.min(Math.max(expectedMm(i, path), 0), path.lengthMm)
    const from = Math.max(0, expected - windowMm)
    const to = Math.min(path.lengthMm, expected + windowMm)
    let near = pathNearestWithin(path, point, from, to)
    // Station zero of a closed line is nowhere special: what lies near it may belong to the other end.
    if (frame.isClosed && (from === 0 || to === path.lengthMm)) {
      const other =
        from === 0
          ? pathNearestWithin(path, point, path.lengthMm - windowMm / 2, path.lengthMm)
          : pathNearestWithin(path, point, 0, windowMm / 2)
      if (other.distanceMm < near.distanceMm) near = other
    }
    stationsMm.push(near.stationMm)
    offsetsMm.push(near.offsetMm)
  }
  return { frame, design: fits.design, shape: fits.shape, alignment, stationsMm, offsetsMm }
}

/** The place of a station on the shape that the alignment was laid from. */
export function placeAt({ frame, shape, alignment }: Pick<Fitted, 'frame' | 'shape' | 'alignment'>, stationMm: number): ShapePlace {
  const { corners } = alignment
  const next = corners.findIndex(({ stMm }) => stationMm <= stMm)
  const corner = corners[next]
  const bent = shape.corners[next]
  if (corner !== undefined && bent !== undefined && stationMm >= corner.tsMm) {
    const { tsMm, scMm, csMm, stMm } = corner
    if (stationMm < scMm) return { kind: 'corner', corner: next, part: 0, share: (stationMm - tsMm) / (scMm - tsMm) }
    if (stationMm <= csMm) return { kind: 'corner', corner: next, part: 1, share: csMm > scMm ? (stationMm - scMm) / (csMm - scMm) : 0 }
    return { kind: 'corner', corner: next, part: 2, share: (stationMm - csMm) / (stMm - csMm) }
  }
  if (corner !== undefined && bent !== undefined) {
    const side = shape.sides[next]
    const alongMm = (side?.lengthMm ?? 0) - bent.tangentInMm - (corner.tsMm - stationMm)
    return { kind: 'side', side: next, share: side === undefined ? 0 : alongMm / side.lengthMm }
  }
  const last = corners.length - 1
  const side = frame.isClosed ? 0 : last + 1
  const alongMm = (shape.corners[last]?.tangentOutMm ?? 0) + stationMm - (corners[last]?.stMm ?? 0)
  const lengthMm = shape.sides[side]?.lengthMm ?? 0
  return { kind: 'side', side, share: lengthMm === 0 ? 0 : alongMm / lengthMm }
}

/** The corner whose curve, or the side whose tangent, holds a station. */
export function stationOwner(fitted: Fitted, stationMm: number): { readonly kind: 'corner' | 'side'; readonly index: number } {
  const place = placeAt(fitted, stationMm)
  return place.kind === 'corner' ? { kind: 'corner', index: place.corner } : { kind: 'side', index: place.side }
}

/** A design of corners with no line that holds a side. */
export const noLines = (corners: readonly DesignCorner[]): Design => ({ corners, lines: [] })

/** The same design with its free ends at the outermost of those points that are near it. */
export function designTrimmed(fitted: Fitted, points: readonly Point[], toleranceMm: number): Fitted {
  const { frame, design, stationsMm, offsetsMm, alignment } = fitted
  const usual = Math.max(toleranceMm, 3 * offsetsError(offsetsMm))
  const good = points.filter((_, i) => Math.abs(offsetsMm[i] ?? 0) <= usual)
  const first = good[0] ?? points[0]
  const last = good.at(-1) ?? points.at(-1)
  if (frame.isClosed || first === undefined || last === undefined) return fitted
  const trimmed = frameTrimmed(fitted, first, last)
  const { lengthMm } = alignment.path
  return designAgainst(trimmed, design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / lengthMm) ?? fitted
}
