import { pathPoseAt, pointDistance, pointLerp } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { Corridor, CorridorChain } from './types.ts'

/** One edge of a chain, as plain numbers, for it is asked often. */
interface Edge {
  readonly ax: number
  readonly ay: number
  readonly bx: number
  readonly by: number
  readonly keepMm: number
  readonly chain: number
  readonly index: number
}

/** How a point stands to one edge that is near: slack = distance less what is to be kept; the gradient points away from the edge. */
export interface NearEdge {
  readonly slackMm: number
  readonly awayX: number
  readonly awayY: number
  /** Slack of another point to the same edge. */
  readonly slackAt: (other: Point) => number
}

/** A corridor made ready for many questions. Beyond reachMm of every chain it says no more than "at least reachMm". */
export interface CorridorField {
  readonly reachMm: number
  /** Least that any edge asks, mm; Infinity without edges. */
  readonly leastKeepMm: number
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
  return edgesField(corridorEdges(corridor), reachMm)
}

function corridorEdges(corridor: Corridor): readonly Edge[] {
  return corridor.chains.flatMap(({ points, keepsMm }, chain) =>
    points.slice(1).flatMap((b, index): Edge[] => {
      const a = points[index]
      const keepMm = keepsMm[index] ?? 0
      return a !== undefined && keepMm > 0 ? [{ ax: a.x, ay: a.y, bx: b.x, by: b.y, keepMm, chain, index }] : []
    }),
  )
}

function edgesField(edges: readonly Edge[], reachMm: number): CorridorField {
  const cellMm = Math.max(reachMm, LEAST_CELL_MM)
  const cells = new Map<string, readonly Edge[]>()
  return {
    reachMm,
    leastKeepMm: edges.reduce((least, { keepMm }) => Math.min(least, keepMm), Infinity),
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
  for (const edge of field.edgesAt(x, y)) {
    const { ax, ay, bx, by, keepMm } = edge
    const dx = bx - ax
    const dy = by - ay
    const square = dx * dx + dy * dy
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square))
    const px = x - ax - t * dx
    const py = y - ay - t * dy
    const distance = Math.hypot(px, py)
    const slackMm = distance - keepMm
    if (slackMm >= windowMm || distance === 0) continue
    const slackAt = (other: Point): number => edgeDistance(edge, other.x, other.y) - keepMm
    near.push({ slackMm, awayX: px / distance, awayY: py / distance, slackAt })
  }
  return near
}

/** Steps in which a line is followed to see how near it is, mm. */
const FOLLOW_MM = 1

/** What is left of a keep is this much less than the line was seen to have, for between two looks it may be nearer, mm. */
const FOLLOW_SPARE_MM = 0.02

/** A keep that is left with less than this is given up: the line as given goes through there, mm. */
const THROUGH_MM = 1

/** A chain that the line as given is nearer to than asked. */
export interface CorridorNear {
  readonly label: string
  readonly askedMm: number
  /** What it has at its nearest; 0: it goes through. */
  readonly hasMm: number
  readonly stationMm: number
}

/**
 * The corridor with every edge that the line as given is nearer to than asked taken as it is: there the line must come no nearer
 * still. Where it goes through an edge (a crossing, a line off the benchwork) that edge does not matter any more.
 *
 * Units:      mm.
 * Exactness:  0.02 mm on the safe side for the line as given.
 * Outcome:    the corridor, and each label that something was taken off with its worst place; by rising station.
 */
export function corridorAsGiven(corridor: Corridor, path: Path): { readonly corridor: Corridor; readonly near: readonly CorridorNear[] } {
  const edges = corridorEdges(corridor)
  const field = edgesField(edges, FOLLOW_MM)
  const least = new Map<Edge, { readonly distanceMm: number; readonly stationMm: number }>()
  const steps = Math.max(1, Math.ceil(path.lengthMm / FOLLOW_MM))
  for (let i = 0; i <= steps; i++) {
    const stationMm = (path.lengthMm * i) / steps
    const { x, y } = pathPoseAt(path, stationMm)
    for (const edge of field.edgesAt(x, y)) {
      const distanceMm = edgeDistance(edge, x, y)
      if (distanceMm < edge.keepMm && distanceMm < (least.get(edge)?.distanceMm ?? Infinity)) least.set(edge, { distanceMm, stationMm })
    }
  }
  const keeps = corridor.chains.map(({ keepsMm }) => [...keepsMm])
  const near = new Map<string, CorridorNear>()
  for (const [{ chain, index, keepMm }, { distanceMm, stationMm }] of least) {
    const leftMm = distanceMm - FOLLOW_SPARE_MM
    const hasMm = leftMm < THROUGH_MM ? 0 : leftMm
    const keep = keeps[chain]
    if (keep !== undefined) keep[index] = hasMm
    const label = corridor.chains[chain]?.label ?? ''
    if (hasMm < (near.get(label)?.hasMm ?? Infinity)) near.set(label, { label, askedMm: keepMm, hasMm, stationMm })
  }
  return {
    corridor: { chains: corridor.chains.map((chain, i) => ({ ...chain, keepsMm: keeps[i] ?? chain.keepsMm })) },
    near: [...near.values()].sort((a, b) => a.stationMm - b.stationMm),
  }
}

/** A chain with every edge cut into pieces of at most a length, so that one place of it can be told from another. */
export function chainCut(points: readonly Point[], keepMm: number, mostMm: number, label: string): CorridorChain {
  const cut = points.flatMap((b, i): Point[] => {
    const a = points[i - 1]
    if (a === undefined) return [b]
    const pieces = Math.max(1, Math.ceil(pointDistance(a, b) / mostMm))
    return Array.from({ length: pieces }, (_, n) => (n + 1 === pieces ? b : pointLerp(a, b, (n + 1) / pieces)))
  })
  return { points: cut, keepsMm: cut.slice(1).map(() => keepMm), label }
}
