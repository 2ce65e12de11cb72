import { pathOffsetPoint, pathStations, pathToCubics } from '../geom/index.ts'
import type { CubicPath } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Rail, Tie } from './types.ts'

/** An edge of a rail seen from above: gauge face, far side of the head, and the two sides of the foot, left of rising station first. */
export type RailEdge = 'gauge' | 'head-far' | 'foot-left' | 'foot-right'

/** Offset of an edge from the rail's path at both ends, mm, left positive. Between them it changes evenly. */
function edgeOffsets(rail: Rail, edge: RailEdge): { readonly startMm: number; readonly endMm: number } {
  const { gaugeLine, headSide, headWidthMm, footWidthMm } = rail
  const atHead = (head: number): number => gaugeLine.offsetMm + headSide * head
  if (edge === 'gauge') return { startMm: gaugeLine.offsetMm, endMm: gaugeLine.offsetMm }
  if (edge === 'head-far') return { startMm: atHead(rail.startHeadMm ?? headWidthMm), endMm: atHead(rail.endHeadMm ?? headWidthMm) }
  // The foot lies centred under the full head, planed or not.
  const foot = atHead(headWidthMm / 2) + (edge === 'foot-left' ? footWidthMm / 2 : -footWidthMm / 2)
  return { startMm: foot, endMm: foot }
}

/**
 * Points of an edge of a rail such that straight chords follow it within a tolerance, mm.
 *
 * Exactness:  guaranteed for even edges (pathStations); a taper adds its slope times the chord error, below a tenth of it.
 */
export function railFlatten(rail: Rail, edge: RailEdge, toleranceMm: number): Point[] {
  const { path, fromMm, toMm } = rail.gaugeLine
  const { startMm, endMm } = edgeOffsets(rail, edge)
  const widest = Math.abs(startMm) > Math.abs(endMm) ? startMm : endMm
  const length = toMm - fromMm
  return pathStations(path, fromMm, toMm, widest, toleranceMm).map((station) => {
    const part = length > 0 ? (station - fromMm) / length : 0
    return pathOffsetPoint(path, station, startMm + (endMm - startMm) * part)
  })
}

/** Cubic Bezier segments of an edge of a rail within a tolerance, mm; a tapered edge comes as its chords. */
export function railToCubics(rail: Rail, edge: RailEdge, toleranceMm: number): CubicPath {
  const { path, fromMm, toMm } = rail.gaugeLine
  const { startMm, endMm } = edgeOffsets(rail, edge)
  if (startMm === endMm) return pathToCubics(path, { fromMm, toMm, offsetMm: startMm, toleranceMm })
  const points = railFlatten(rail, edge, toleranceMm)
  const start = points[0] ?? pathOffsetPoint(path, fromMm, startMm)
  const segments = points.slice(1).map((to, index) => {
    const from = points[index] ?? start
    const between = (t: number): Point => ({ x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t })
    return { c1: between(1 / 3), c2: between(2 / 3), to }
  })
  return { start, segments }
}

/** Corners of a tie, mm: anticlockwise, from the end that its axis points away from, on the right of the axis. */
export function tieCorners(tie: Tie): readonly [Point, Point, Point, Point] {
  const cos = Math.cos(tie.axisRad)
  const sin = Math.sin(tie.axisRad)
  const corner = (along: number, across: number): Point => ({
    x: tie.centre.x + along * cos - across * sin,
    y: tie.centre.y + along * sin + across * cos,
  })
  const l = tie.lengthMm / 2
  const w = tie.widthMm / 2
  return [corner(-l, -w), corner(l, -w), corner(l, w), corner(-l, w)]
}
