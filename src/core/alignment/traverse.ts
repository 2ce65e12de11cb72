import { elementEnd, pathFromElements, poseAhead } from '../geom/index.ts'
import type { CurveElement, Path, PathElement, Point, Pose } from '../geom/types.ts'
import { cornerSolve } from './corner.ts'
import { cornerElements, cornerJoins } from './cornerCurve.ts'
import { traversePolygon } from './polygon.ts'
import type { Side, TraversePolygon } from './polygon.ts'
import type { Alignment, AlignmentProblem, CompoundRequest, CornerPlace, CornerSolution, Traverse } from './types.ts'

/**
 * Two curves may overlap on a side, or a curve miss its end, by this much and still count as meeting: it swallows the
 * rounding of tangent distances, so that the largest radius that fits does fit. A ten-millionth of a millimetre.
 */
export const ROOM_ROUNDING_MM = 1e-7

/**
 * Larger numbers, a million kilometres, are taken for infinite: products of them would overflow on the way, and their
 * millimetres are lost in rounding anyway.
 */
const MOST = 1e12

/**
 * The line through a traverse: tangents along its sides, at each PI an easement, an arc (or several) and an easement.
 *
 * Units:      mm, rad.
 * Domain:     any traverse; numbers that are not finite, or beyond 1e12, are a problem like any other.
 * Exactness:  every element starts where the polygon says, so joins agree to 1e-9 of the size of the traverse and errors
 *             do not add up along the line; a closed loop closes to 1e-6 mm and 1e-9 rad.
 * Outcome:    the path with the places of its corners, or all problems at once with what can be drawn.
 * Throws:     never.
 * Source:     cornerSolve; the rest is adding up lengths.
 */
export function traverseSolve(traverse: Traverse): Alignment {
  const unfit = traverseNotFinite(traverse)
  if (unfit.length > 0) return { ok: false, problems: unfit, polygon: [], pieces: [] }

  const polygon = traversePolygon(traverse)
  const solved = traverseCorners(traverse, polygon)
  const problems = [...polygon.problems, ...solved.problems, ...sidesTooShort(polygon, solved.corners)]
  const corners = solved.corners.filter((corner) => corner !== null)
  if (problems.length > 0 || corners.length < traverse.corners.length || polygon.sides.length === 0) {
    return { ok: false, problems, polygon: polygon.points, pieces: traversePieces(polygon, solved.corners) }
  }
  const laid = traverseLaid(traverse, polygon, corners)
  return { ok: true, ...laid, isClosed: polygon.isClosed, polygon: polygon.points }
}

/** Every number of a traverse that cannot be worked with. */
export function traverseNotFinite(traverse: Traverse): readonly AlignmentProblem[] {
  const { start, end } = traverse
  const named: (readonly [string, number])[] = []
  if (start.kind === 'free') named.push(['start x', start.at.x], ['start y', start.at.y])
  else named.push(['start leg x', start.pose.x], ['start leg y', start.pose.y], ['start leg heading', start.pose.headingRad])
  for (const [i, { x, y, radiusMm, easementInMm, easementOutMm }] of traverse.corners.entries()) {
    named.push([`corner ${i} x`, x], [`corner ${i} y`, y])
    named.push([`corner ${i} easement in`, easementInMm], [`corner ${i} easement out`, easementOutMm])
    if (typeof radiusMm === 'number') named.push([`corner ${i} radius`, radiusMm])
    else if (radiusMm !== null) named.push(...arcsNamed(radiusMm, i))
  }
  if (end.kind === 'free') named.push(['end x', end.at.x], ['end y', end.at.y])
  if (end.kind === 'leg') named.push(['end leg x', end.pose.x], ['end leg y', end.pose.y], ['end leg heading', end.pose.headingRad])
  return named.filter(([, value]) => !(Math.abs(value) <= MOST)).map(([where]) => ({ kind: 'notFinite', where }))
}

function arcsNamed({ first, next }: CompoundRequest, corner: number): readonly (readonly [string, number])[] {
  return [{ ...first, easementMm: 0 }, ...next].flatMap(({ radiusMm, turn, easementMm }, arc) => [
    [`corner ${corner} arc ${arc} radius`, radiusMm] as const,
    [`corner ${corner} arc ${arc} turn`, turn.kind === 'angle' ? turn.turnRad : turn.share] as const,
    [`corner ${corner} arc ${arc} easement`, easementMm] as const,
  ])
}

/** Side behind corner i. */
export function sideAfter(polygon: TraversePolygon, corner: number): Side | undefined {
  return polygon.sides[polygon.isClosed ? (corner + 1) % polygon.sides.length : corner + 1]
}

/** Index of the corner from which a side comes; -1: the start. */
export function cornerBefore(polygon: TraversePolygon, side: number): number {
  return polygon.isClosed && side === 0 ? polygon.pis.length - 1 : side - 1
}

/** Every corner that can be solved by itself; null where it cannot or where a side beside it has no direction. */
export function traverseCorners(
  traverse: Traverse,
  polygon: TraversePolygon,
): { readonly corners: readonly (CornerSolution | null)[]; readonly problems: readonly AlignmentProblem[] } {
  const problems: AlignmentProblem[] = []
  const corners = traverse.corners.map(({ radiusMm, easementInMm, easementOutMm }, i): CornerSolution | null => {
    const deflectionRad = polygon.deflections[i]
    const at = polygon.pis[i]
    if (deflectionRad === undefined || at === undefined) return null
    const hasDirection = polygon.sides[i]?.isGood === true && sideAfter(polygon, i)?.isGood === true
    // Bad numbers are told even where the corner has no direction: half a right angle stands in for it.
    const result = cornerSolve({ deflectionRad: hasDirection ? deflectionRad : Math.PI / 4, radiusMm, easementInMm, easementOutMm }, i, at)
    if (!hasDirection) {
      if (!result.ok && result.problem.kind !== 'easementsTooLong') problems.push(result.problem)
      return null
    }
    if (result.ok) return result.corner
    problems.push(result.problem)
    return null
  })
  return { corners, problems }
}

function sidesTooShort(polygon: TraversePolygon, corners: readonly (CornerSolution | null)[]): readonly AlignmentProblem[] {
  return polygon.sides.flatMap((side, i): AlignmentProblem[] => {
    if (!side.isGood) return []
    const needMm = (corners[cornerBefore(polygon, i)]?.tangentOutMm ?? 0) + (corners[i]?.tangentInMm ?? 0)
    const shortByMm = needMm - side.lengthMm
    if (shortByMm <= ROOM_ROUNDING_MM) return []
    const at: Point = { x: (side.from.x + side.to.x) / 2, y: (side.from.y + side.to.y) / 2 }
    return [{ kind: 'sideTooShort', side: i, at, haveMm: side.lengthMm, needMm, shortByMm }]
  })
}

/** Pose on a side, at a distance from its first point. */
const sidePoseAt = (side: Side, alongMm: number): Pose =>
  poseAhead({ x: side.from.x, y: side.from.y, headingRad: side.headingRad }, alongMm)

/** What can be drawn of a traverse that does not work out: its tangents and the curves that are solved by themselves. */
function traversePieces(polygon: TraversePolygon, corners: readonly (CornerSolution | null)[]): readonly Path[] {
  return polygon.sides.flatMap((side, i): Path[] => {
    if (!side.isGood) return []
    const pieces: Path[] = []
    const fromMm = corners[cornerBefore(polygon, i)]?.tangentOutMm ?? 0
    const next = corners[i] ?? null
    const toMm = side.lengthMm - (next?.tangentInMm ?? 0)
    if (toMm - fromMm > ROOM_ROUNDING_MM)
      pieces.push(pathFromElements(sidePoseAt(side, fromMm), [{ lengthMm: toMm - fromMm, k0: 0, k1: 0 }]))
    if (next !== null && next.totalLengthMm > 0) pieces.push(pathFromElements(sidePoseAt(side, toMm), cornerElements(next)))
    return pieces
  })
}

/** Where elements are laid end to end; each group starts from the polygon, so that rounding does not add up. */
interface Layer {
  readonly elements: PathElement[]
  stationMm: number
  end: Pose
}

function layElements(layer: Layer, start: Pose, elements: readonly CurveElement[]): void {
  layer.end = start
  for (const element of elements) {
    layer.elements.push({ ...element, startStationMm: layer.stationMm, start: layer.end })
    layer.stationMm += element.lengthMm
    layer.end = elementEnd(element, layer.end)
  }
}

/** Lays a tangent; one that goes on from another through a straight PI becomes one with it. */
function layTangent(layer: Layer, side: Side, fromMm: number, toMm: number): void {
  const lengthMm = toMm - fromMm
  if (lengthMm <= ROOM_ROUNDING_MM) return
  const before = layer.elements.at(-1)
  if (before === undefined || before.k0 !== 0 || before.k1 !== 0) {
    layElements(layer, sidePoseAt(side, fromMm), [{ lengthMm, k0: 0, k1: 0 }])
    return
  }
  layer.elements.pop()
  layer.stationMm = before.startStationMm
  layElements(layer, before.start, [{ lengthMm: before.lengthMm + lengthMm, k0: 0, k1: 0 }])
}

function traverseLaid(
  traverse: Traverse,
  polygon: TraversePolygon,
  corners: readonly CornerSolution[],
): { readonly path: Path; readonly corners: readonly CornerPlace[] } {
  const layer: Layer = { elements: [], stationMm: 0, end: { x: 0, y: 0, headingRad: 0 } }
  const places: CornerPlace[] = []
  const zeroMm = polygon.isClosed ? stationZeroAlong(traverse, polygon, corners) : 0
  for (const [i, side] of polygon.sides.entries()) {
    const corner = corners[i]
    const fromMm = i === 0 ? zeroMm : (corners[i - 1]?.tangentOutMm ?? 0)
    if (corner === undefined) {
      layTangent(layer, side, fromMm, side.lengthMm)
      continue
    }
    const toMm = side.lengthMm - corner.tangentInMm
    layTangent(layer, side, fromMm, toMm)
    const tsMm = layer.stationMm
    layElements(layer, corner.totalLengthMm > 0 ? sidePoseAt(side, toMm) : layer.end, cornerElements(corner))
    const source = traverse.corners[i]
    const pi = polygon.pis[i]
    if (source === undefined || pi === undefined) continue
    const scMm = tsMm + corner.easementInMm
    const csMm = scMm + corner.arcLengthMm
    const joins = cornerJoins(corner, scMm)
    places.push({ cornerId: source.id, pi, solution: corner, tsMm, scMm, joins, csMm, stMm: layer.stationMm })
  }
  if (polygon.isClosed) {
    const side = polygon.sides[0]
    const closing = corners.at(-1)
    if (side !== undefined && closing !== undefined) {
      const turned = (layer.end.headingRad - side.headingRad) / (2 * Math.PI)
      const headingRad = side.headingRad + 2 * Math.PI * Math.round(turned)
      layTangent(layer, { ...side, headingRad }, closing.tangentOutMm, zeroMm)
    }
  }
  return { path: { elements: layer.elements, lengthMm: layer.stationMm, end: layer.end }, corners: places }
}

/** How far along side 0 a closed loop begins: the point of its tangent nearest to the stored start. */
function stationZeroAlong(traverse: Traverse, polygon: TraversePolygon, corners: readonly CornerSolution[]): number {
  const side = polygon.sides[0]
  if (side === undefined) return 0
  const from = corners.at(-1)?.tangentOutMm ?? 0
  const to = Math.max(from, side.lengthMm - (corners[0]?.tangentInMm ?? 0))
  if (traverse.start.kind === 'leg') return from
  const { at } = traverse.start
  const alongMm = (at.x - side.from.x) * Math.cos(side.headingRad) + (at.y - side.from.y) * Math.sin(side.headingRad)
  return Math.min(Math.max(alongMm, from), to)
}
