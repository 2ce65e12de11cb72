import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import { fieldPlaceAt } from './corridor.ts'
import type { CorridorField } from './corridor.ts'
import type { Frame } from './design.ts'
import type { Confirmed } from './polish.ts'
import type { Corridor, FairBind } from './types.ts'

/** As near as this to its limit the line counts as held, mm. */
const BIND_MM = 0.05

/** Shortest stride of the look for places that touch, mm. */
const STRIDE_MM = 0.5

/** Places of one chain closer together than this are one stretch, mm. */
const ONE_STRETCH_MM = 100

/** All that holds a line: chains that it touches, sides without room, held stretches that a curve reaches. */
export function fairBinds(best: Confirmed, frame: Frame, field: CorridorField, corridor: Corridor): readonly FairBind[] {
  return [...chainBinds(best.path, field, corridor), ...sideBinds(best, frame)].sort((a, b) => a.fromMm - b.fromMm)
}

function chainBinds(path: Path, field: CorridorField, { chains }: Corridor): readonly FairBind[] {
  const binds: (FairBind & { readonly kind: 'chain' })[] = []
  for (let stationMm = 0; ; ) {
    const { x, y } = pathPoseAt(path, stationMm)
    const { slackMm, chain } = fieldPlaceAt(field, x, y)
    const label = slackMm > BIND_MM || chain === null ? null : (chains[chain]?.label ?? '')
    if (label !== null) {
      const open = binds.findLastIndex((bind) => bind.label === label && stationMm - bind.toMm <= ONE_STRETCH_MM)
      const before = binds[open]
      if (before === undefined) binds.push({ kind: 'chain', fromMm: stationMm, toMm: stationMm, label })
      else binds[open] = { ...before, toMm: stationMm }
    }
    if (stationMm >= path.lengthMm) return binds
    stationMm = Math.min(path.lengthMm, stationMm + Math.max(STRIDE_MM, slackMm - BIND_MM))
  }
}

function sideBinds({ design, shape, path }: Confirmed, frame: Frame): readonly FairBind[] {
  const count = shape.corners.length
  const stationOf = (point: Point): number => pathNearest(path, point).stationMm
  return shape.sides.flatMap((side, i): FairBind[] => {
    const outMm = shape.corners[frame.isClosed && i === 0 ? count - 1 : i - 1]?.tangentOutMm ?? 0
    const inMm = shape.corners[i]?.tangentInMm ?? 0
    const alongSide = (mm: number): Point => ({ x: side.from.x + mm * side.ux, y: side.from.y + mm * side.uy })
    if (side.lengthMm - outMm - inMm <= BIND_MM) {
      const stationMm = stationOf(alongSide(outMm))
      return [{ kind: 'side', fromMm: stationMm, toMm: stationMm }]
    }
    const line = design.lines[i] ?? null
    if (line === null || line.toMm <= line.fromMm) return []
    const atMm = (side.from.x - line.at.x) * line.ux + (side.from.y - line.at.y) * line.uy
    const isReached = line.fromMm - atMm - outMm <= BIND_MM || atMm + side.lengthMm - inMm - line.toMm <= BIND_MM
    return isReached
      ? [{ kind: 'held', fromMm: stationOf(alongSide(line.fromMm - atMm)), toMm: stationOf(alongSide(line.toMm - atMm)) }]
      : []
  })
}
