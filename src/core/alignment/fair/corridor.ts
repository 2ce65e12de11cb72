import type { Point } from '../../geom/types.ts'
import type { Corridor } from './types.ts'

/** One edge of a chain, as plain numbers, for it is asked often. */
interface Edge {
  readonly ax: number
  readonly ay: number
  readonly bx: number
  readonly by: number
  readonly keepMm: number
  readonly chain: number
}

/** How a point stands to one edge that is near: slack = distance less what is to be kept; the gradient points away from the edge. */
export interface NearEdge {
  readonly slackMm: number
  readonly awayX: number
  readonly awayY: number
  readonly chain: number
}

/** A corridor made ready for many questions. Beyond reachMm of every chain it says no more than "at least reachMm". */
export interface CorridorField {
  readonly reachMm: number
  readonly edgesAt: (x: number, y: number) => readonly Edge[]
}

/** Least length of a cell of the grid, mm: smaller ones would only be more. */
const LEAST_CELL_MM = 20

/**
 * A corridor cut into square cells, each with the edges that can matter in it; a cell is filled when it is first asked.
 *
 * Units:      mm.
 * Domain:     finite points, keeps >= 0 (0: the edge is left out), reach > 0.
 * Exactness:  exact within reach.
 */
export function corridorField(corridor: Corridor, reachMm: number): CorridorField {
  const edges = corridor.chains.flatMap(({ points, keepsMm }, chain) =>
    points.slice(1).flatMap((b, i): Edge[] => {
      const a = points[i]
      const keepMm = keepsMm[i] ?? 0
      return a !== undefined && keepMm > 0 ? [{ ax: a.x, ay: a.y, bx: b.x, by: b.y, keepMm, chain }] : []
    }),
  )
  const cellMm = Math.max(reachMm, LEAST_CELL_MM)
  const cells = new Map<string, readonly Edge[]>()
  return {
    reachMm,
    edgesAt(x, y) {
      const column = Math.floor(x / cellMm)
      const row = Math.floor(y / cellMm)
      const key = `${column} ${row}`
      const known = cells.get(key)
      if (known !== undefined) return known
      const middle = { x: (column + 0.5) * cellMm, y: (row + 0.5) * cellMm }
      const near = edges.filter((edge) => edgeDistance(edge, middle.x, middle.y) < edge.keepMm + reachMm + cellMm * Math.SQRT1_2)
      cells.set(key, near)
      return near
    },
  }
}

function edgeDistance({ ax, ay, bx, by }: Edge, x: number, y: number): number {
  const dx = bx - ax
  const dy = by - ay
  const square = dx * dx + dy * dy
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square))
  return Math.hypot(x - ax - t * dx, y - ay - t * dy)
}

/** The chain that leaves a point the least slack, and which way is away from it; beyond reach: the reach, and no chain. */
export interface FieldPlace {
  /** Least slack over all chains, mm; at most the reach. Changes by at most 1 mm a mm. */
  readonly slackMm: number
  readonly awayX: number
  readonly awayY: number
  readonly chain: number | null
}

/** How a point stands to the corridor. */
export function fieldPlaceAt(field: CorridorField, x: number, y: number): FieldPlace {
  let place: FieldPlace = { slackMm: field.reachMm, awayX: 0, awayY: 0, chain: null }
  for (const { ax, ay, bx, by, keepMm, chain } of field.edgesAt(x, y)) {
    const dx = bx - ax
    const dy = by - ay
    const square = dx * dx + dy * dy
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square))
    const px = x - ax - t * dx
    const py = y - ay - t * dy
    const distance = Math.sqrt(px * px + py * py)
    const slackMm = distance - keepMm
    if (slackMm < place.slackMm) {
      const scale = distance === 0 ? 0 : 1 / distance
      place = { slackMm, awayX: px * scale, awayY: py * scale, chain }
    }
  }
  return place
}

/** Every edge whose slack at a point is under the window. An edge that the point lies on has no direction away and is left out. */
export function fieldNearAt(field: CorridorField, { x, y }: Point, windowMm: number): readonly NearEdge[] {
  const near: NearEdge[] = []
  for (const { ax, ay, bx, by, keepMm, chain } of field.edgesAt(x, y)) {
    const dx = bx - ax
    const dy = by - ay
    const square = dx * dx + dy * dy
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square))
    const px = x - ax - t * dx
    const py = y - ay - t * dy
    const distance = Math.hypot(px, py)
    const slackMm = distance - keepMm
    if (slackMm < windowMm && distance > 0) near.push({ slackMm, awayX: px / distance, awayY: py / distance, chain })
  }
  return near
}
