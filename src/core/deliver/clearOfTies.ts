import { pathPoseAt } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import type { Tie } from '../track/types.ts'
import { chainOfPoints, type Chain } from './chain.ts'
import { edgeAlong } from './edge.ts'

/** Whether a point lies among ties: on one, or in the gap beside it. */
export type AmongTies = (p: Point) => boolean

/** From the middle of a tie so many widths to each side are its own and the gap's: common spacings are near two widths. */
const REACH_WIDTHS = 1.4
const CELL_MM = 40
/** Lines are looked at so often, mm; they may end so much before the ties. */
const STEP_MM = 1

export function amongTies(ties: readonly Tie[]): AmongTies {
  const cells = new Map<number, Ground[]>()
  const key = (x: number, y: number): number => x * 16777216 + y
  const cell = (mm: number): number => Math.floor(mm / CELL_MM)
  for (const tie of ties) {
    const ground = groundOf(tie)
    const reach = ground.alongMm + ground.acrossMm
    for (let x = cell(tie.centre.x - reach); x <= cell(tie.centre.x + reach); x++)
      for (let y = cell(tie.centre.y - reach); y <= cell(tie.centre.y + reach); y++) {
        const here = cells.get(key(x, y))
        if (here) here.push(ground)
        else cells.set(key(x, y), [ground])
      }
  }
  return (p) =>
    cells.get(key(cell(p.x), cell(p.y)))?.some(({ centre, cos, sin, alongMm, acrossMm }) => {
      const [dx, dy] = [p.x - centre.x, p.y - centre.y]
      return Math.abs(dx * cos + dy * sin) <= alongMm && Math.abs(dy * cos - dx * sin) <= acrossMm
    }) ?? false
}

/** What a tie has for its own: made once, for every millimetre of every edge asks. */
interface Ground {
  readonly centre: Point
  readonly cos: number
  readonly sin: number
  readonly alongMm: number
  readonly acrossMm: number
}

function groundOf({ centre, axisRad, lengthMm, widthMm }: Tie): Ground {
  return { centre, cos: Math.cos(axisRad), sin: Math.sin(axisRad), alongMm: lengthMm / 2, acrossMm: REACH_WIDTHS * widthMm }
}

/** The parts of an edge beside a path that lie clear of all ties. */
export function edgeClear(path: Path, lengthMm: number, offsetMm: number, isAmong: AmongTies): readonly Chain[] {
  const beside = (station: number): Point => {
    const { x, y, headingRad } = pathPoseAt(path, station)
    return { x: x - offsetMm * Math.sin(headingRad), y: y + offsetMm * Math.cos(headingRad) }
  }
  return clearParts(lengthMm, (station) => isAmong(beside(station))).flatMap(([from, to]) => edgeAlong(path, from, to, offsetMm) ?? [])
}

/** The same of a ring: pieces of it, each as long as possible. */
export function ringClear(ring: readonly Point[], isAmong: AmongTies): readonly Chain[] {
  const lines: Point[][] = []
  let isOpen = false
  for (const [i, a] of ring.entries()) {
    const b = ring[(i + 1) % ring.length] ?? a
    const lengthMm = Math.hypot(b.x - a.x, b.y - a.y)
    const at = (mm: number): Point =>
      mm === lengthMm ? b : { x: a.x + ((b.x - a.x) * mm) / lengthMm, y: a.y + ((b.y - a.y) * mm) / lengthMm }
    const parts = clearParts(lengthMm, (mm) => isAmong(at(mm)))
    for (const [from, to] of parts) {
      if (isOpen && from === 0) lines.at(-1)?.push(at(to))
      else lines.push([at(from), at(to)])
    }
    isOpen = lengthMm === 0 ? isOpen : parts.at(-1)?.[1] === lengthMm
  }
  return lines.flatMap((points) => chainOfPoints(points) ?? [])
}

function clearParts(lengthMm: number, isHidden: (mm: number) => boolean): readonly (readonly [number, number])[] {
  const steps = Math.ceil(lengthMm / STEP_MM)
  const parts: [number, number][] = []
  let [from, isFromHidden] = [0, steps > 0 && isHidden(0)]
  for (let i = 1; i <= steps; i++) {
    const to = (lengthMm * i) / steps
    const isToHidden = isHidden(to)
    if (!isFromHidden && !isToHidden) {
      const last = parts.at(-1)
      if (last && last[1] === from) last[1] = to
      else parts.push([from, to])
    }
    ;[from, isFromHidden] = [to, isToHidden]
  }
  return parts
}
