import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import type { TurnoutRail, WorkFrog, WorkRoute } from '../types.ts'
import { partOf } from './faces.ts'
import type { Measured } from './faces.ts'

/** Places per gauge at which the gauge is measured along a route. */
const perGauge = 4
const squareMm = 1e-6

/** Stretches of a route over a frog's gap, where one wheel has no rail beside its flange: stations. */
interface Gap {
  readonly fromMm: number
  readonly toMm: number
}

/**
 * The gauge where it is farthest from the route's own: between the faces that the wheels run along, square to the centreline. Over the gap of a
 * frog there is none. Null: nowhere two faces.
 */
export function gaugeWorst(
  route: WorkRoute,
  rails: readonly TurnoutRail[],
  frogs: readonly WorkFrog[],
  flangewayMm: number,
): Measured | null {
  const { centre, gaugeMm } = route
  const running = rails.filter((rail) => runsOn(rail, route, flangewayMm))
  const gaps = frogs.map((frog) => gapOf(route, frog, flangewayMm))
  const count = Math.max(1, Math.ceil((centre.lengthMm / gaugeMm) * perGauge))
  let worst: Measured | null = null
  for (let i = 0; i <= count; i++) {
    const station = (centre.lengthMm * i) / count
    if (gaps.some(({ fromMm, toMm }) => station > fromMm && station < toMm)) continue
    const pose = pathPoseAt(centre, station)
    const [left, right] = [1, -1].map((side) => faceOffset(pose, side, gaugeMm, running, flangewayMm))
    if (left === null || right === null || left === undefined || right === undefined) continue
    const mm = left + right
    if (worst === null || Math.abs(mm - gaugeMm) > Math.abs(worst.mm - gaugeMm)) worst = { mm, at: { x: pose.x, y: pose.y } }
  }
  return worst
}

/** Guards carry no wheel, and a point of another route stands open. */
function runsOn(rail: TurnoutRail, { centre, gaugeMm }: WorkRoute, flangewayMm: number): boolean {
  const part = partOf(rail)
  if (part === 'guard' || part === 'check') return false
  if (part !== 'point') return true
  const { offsetMm } = pathNearest(centre, rail.gaugeLine.end)
  return Math.abs(Math.abs(offsetMm) - gaugeMm / 2) < flangewayMm / 2
}

function gapOf({ centre }: WorkRoute, { at, actualPoint, angleRad, kind }: WorkFrog, flangewayMm: number): Gap {
  const middle = pathNearest(centre, at).stationMm
  const point = pathNearest(centre, actualPoint).stationMm
  // The wing begins to bend a tangent ahead of its knuckle.
  const reach = (2 * flangewayMm) / Math.sin(angleRad)
  if (kind === 'elbow' || point === middle) return { fromMm: middle - reach, toMm: middle + reach }
  return point > middle ? { fromMm: middle - reach, toMm: point } : { fromMm: point, toMm: middle + reach }
}

/** From the centreline to the innermost running face on a side whose head lies outwards; null: none within a flangeway of where it belongs. */
function faceOffset(pose: Pose, side: number, gaugeMm: number, rails: readonly TurnoutRail[], windowMm: number): number | null {
  const [nx, ny] = [-Math.sin(pose.headingRad) * side, Math.cos(pose.headingRad) * side]
  const at = { x: pose.x + (nx * gaugeMm) / 2, y: pose.y + (ny * gaugeMm) / 2 }
  let innermost: number | null = null
  for (const { gaugeLine, headSide } of rails) {
    const near = pathNearest(gaugeLine, at)
    if (near.distanceMm > windowMm || Math.abs(near.distanceMm - Math.abs(near.offsetMm)) > squareMm) continue
    const { headingRad } = pathPoseAt(gaugeLine, near.stationMm)
    const outwards = headSide * (-Math.sin(headingRad) * nx + Math.cos(headingRad) * ny)
    if (outwards < 0.5) continue
    const offset = (near.x - pose.x) * nx + (near.y - pose.y) * ny
    if (innermost === null || offset < innermost) innermost = offset
  }
  return innermost
}
