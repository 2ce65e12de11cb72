import { elementPoseAt, pathFlatten, pathMove, pathPoseAt, pathStations, poseOffset } from '../../geom/index.ts'
import type { Path, PathElement, Point, Pose } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import type { Joist } from '../../plan/types.ts'
import { tieCorners } from '../../track/index.ts'
import type { Rail, Tie } from '../../track/types.ts'
import { gapItems } from '../gapItems.ts'
import type { PlanItem } from '../planItem.ts'
import { throwHoleItems } from '../turnoutItems.ts'
import { chainPoints } from './chainPoints.ts'
import type { TraceItem, TraceLayer, TraceShape } from './types.ts'

/** Names on a tracing, mm high on the model. */
const NAME_MM = 5

/**
 * The whole plan as lines for another drawing program: straights and arcs as what they are, easements and tapers as chains of points that
 * keep within the tolerance.
 *
 * Units:      mm, plan coordinates.
 * Exactness:  lines and arcs exact; chains of points within toleranceMm of the curve, their points on it.
 * Throws:     never.
 */
export function planTracing(derived: Derived, toleranceMm: number): readonly TraceItem[] {
  const { plan, network, trackwork } = derived
  const tracks = [...network.tracks.values()].flatMap(({ track, alignment }) => (alignment.ok ? [{ track, path: alignment.path }] : []))
  const turnouts = [...network.turnouts.values()].flatMap(({ turnout, result }) => (result.ok ? [{ turnout, ...result }] : []))
  const works = [...trackwork.turnouts.values(), ...trackwork.crossings.values()]
  const along = (layer: TraceLayer, path: Path): readonly TraceItem[] =>
    lineShapes(path, 0, path.lengthMm, 0, toleranceMm).map((shape) => ({ layer, shape }))
  const ring = (layer: TraceLayer, points: readonly Point[], isClosed = true): TraceItem => ({
    layer,
    shape: { kind: 'polyline', points, isClosed },
  })
  const name = (text: string, at: Point, angleRad: number): readonly TraceItem[] =>
    text.trim() === '' ? [] : [{ layer: 'name', shape: { kind: 'text', at, heightMm: NAME_MM, angleRad, text } }]
  const ties = (all: readonly Tie[]): readonly TraceItem[] => all.map((tie) => ring('tie', tieCorners(tie)))

  return [
    ...Object.values(plan.walls).map(({ points, isClosed }) => ring('wall', points, isClosed)),
    ...Object.values(plan.obstacles).map(({ outline }) => ring('obstacle', outline)),
    ...Object.values(plan.benchworks).flatMap(({ outline, holes }) => [outline, ...holes].map((points) => ring('benchwork', points))),
    ...Object.values(plan.hatches).map(({ outline }) => ring('hatch', outline)),
    ...Object.values(plan.joists).map((joist) => ring('joist', joistOutline(joist))),
    ...tracks.flatMap(({ path }) => along('centreline', path)),
    ...turnouts.flatMap(({ pose, geometry }) => along('centreline', pathMove(geometry.divergingRoute, pose))),
    ...[...trackwork.tracks.values(), ...works].flatMap(({ rails }) => rails.flatMap((rail) => railShapes(rail, toleranceMm))),
    ...[...trackwork.tracks.values(), ...works].flatMap((laid) => ties(laid.ties)),
    ...works.flatMap(gapItems).flatMap((item) => strokeShape('gap', item, toleranceMm)),
    ...turnouts.flatMap(({ pose, geometry }) =>
      geometry.throwHoles
        .flatMap((hole) => throwHoleItems(hole, geometry.request, pose))
        .flatMap((item) => strokeShape('throw-hole', item, toleranceMm)),
    ),
    ...tracks.flatMap(({ track, path }) => {
      const at = pathPoseAt(path, path.lengthMm / 2)
      return name(track.name, poseOffset(at, 2 * NAME_MM), at.headingRad)
    }),
    ...turnouts.flatMap(({ turnout, pose }) => name(turnout.name, poseOffset(pose, -4 * NAME_MM), pose.headingRad)),
  ]
}

/** Gauge line, back of the head and both edges of the foot; planed and filed ends run out as they are drawn. */
function railShapes(rail: Rail, toleranceMm: number): readonly TraceItem[] {
  const { path, offsetMm, fromMm, toMm } = rail.gaugeLine
  const { headSide, headWidthMm, footWidthMm, startHeadMm = headWidthMm, endHeadMm = headWidthMm } = rail
  const rimMm = (footWidthMm - headWidthMm) / 2
  const rimAt = (headMm: number): number => (headMm === headWidthMm ? rimMm : 0)
  const edge = (layer: TraceLayer, startMm: number, endMm: number): readonly TraceItem[] => {
    const shapes =
      startMm === endMm
        ? lineShapes(path, fromMm, toMm, offsetMm + headSide * startMm, toleranceMm)
        : [taper(path, fromMm, toMm, offsetMm + headSide * startMm, offsetMm + headSide * endMm, toleranceMm)]
    return shapes.map((shape) => ({ layer, shape }))
  }
  return [
    ...edge('rail-gauge', 0, 0),
    ...edge('rail-head', startHeadMm, endHeadMm),
    ...edge('rail-foot', -rimAt(startHeadMm), -rimAt(endHeadMm)),
    ...edge('rail-foot', startHeadMm + rimAt(startHeadMm), endHeadMm + rimAt(endHeadMm)),
  ]
}

/** A stretch beside a path, element by element. Beside an arc lies an arc about the same centre, of the radius less the offset. */
function lineShapes(path: Path, fromMm: number, toMm: number, offsetMm: number, toleranceMm: number): readonly TraceShape[] {
  return path.elements.flatMap((element): readonly TraceShape[] => {
    const from = Math.max(fromMm, element.startStationMm)
    const to = Math.min(toMm, element.startStationMm + element.lengthMm)
    if (to - from <= 1e-9) return []
    const [a, b] = [poseIn(element, from), poseIn(element, to)]
    const { k0, k1 } = element
    if (k0 === 0 && k1 === 0) return [{ kind: 'line', from: place(a, offsetMm), to: place(b, offsetMm) }]
    if (k0 !== k1)
      return [{ kind: 'polyline', points: pathFlatten(path, { fromMm: from, toMm: to, offsetMm, toleranceMm }), isClosed: false }]
    const sweptRad = (to - from) * Math.abs(k0)
    // From the centre a left-hand arc is seen to the right of its heading.
    const firstRad = (k0 > 0 ? a : b).headingRad - (Math.sign(k0) * Math.PI) / 2
    const radiusMm = Math.abs(1 / k0 - offsetMm)
    return [{ kind: 'arc', centre: place(a, 1 / k0), radiusMm, fromRad: firstRad, toRad: firstRad + sweptRad }]
  })
}

const poseIn = (element: PathElement, stationMm: number): Pose => elementPoseAt(element, element.start, stationMm - element.startStationMm)

function place(pose: Pose, offsetMm: number): Point {
  const { x, y } = poseOffset(pose, offsetMm)
  return { x, y }
}

/** An edge whose offset changes evenly along the stretch. */
function taper(path: Path, fromMm: number, toMm: number, startMm: number, endMm: number, toleranceMm: number): TraceShape {
  const stations = pathStations(path, fromMm, toMm, (startMm + endMm) / 2, toleranceMm)
  const points = stations.map((station) => {
    const offsetMm = startMm + ((endMm - startMm) * (station - fromMm)) / (toMm - fromMm)
    return place(pathPoseAt(path, station), offsetMm)
  })
  return { kind: 'polyline', points, isClosed: false }
}

function strokeShape(layer: TraceLayer, item: PlanItem, toleranceMm: number): readonly TraceItem[] {
  if (item.kind !== 'stroke') return []
  return [{ layer, shape: { kind: 'polyline', points: chainPoints(item.chain, toleranceMm), isClosed: false } }]
}

function joistOutline({ from, to, widthMm }: Joist): readonly Point[] {
  const headingRad = Math.atan2(to.y - from.y, to.x - from.x)
  const side = (at: Point, offsetMm: number): Point => place({ ...at, headingRad }, offsetMm)
  return [side(from, -widthMm / 2), side(to, -widthMm / 2), side(to, widthMm / 2), side(from, widthMm / 2)]
}
