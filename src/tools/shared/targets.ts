import { pointDistance, poseOffset, poseToLocal } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Id } from '../../core/plan/types.ts'
import type { ToolContext } from '../types.ts'
import { benchworkRings, legPlaces, trackHandles } from './handles.ts'
import { pickToleranceMm } from './pick.ts'
import { inSight } from './inSight.ts'
import { tracksNear } from './tracksNear.ts'
import type { SnapEdge, SnapLine, SnapPoint } from './snap.ts'

/** What of the plan a gesture may be drawn to. */
export interface TargetWish {
  readonly legs: boolean
  readonly tracks: boolean
  readonly benchwork: boolean
  readonly walls: boolean
  /** Not to itself. */
  readonly exceptTrack?: Id
  readonly exceptBenchwork?: Id
  readonly exceptJoist?: Id
  /** Lines beside the tracks draw too, unless this says no. */
  readonly parallels?: false
}

/** Points of the plan that a point may coincide with; of tracks those near the pointer. */
export function targetPoints(context: ToolContext, wish: TargetWish, pointer: Point): readonly SnapPoint[] {
  const points: SnapPoint[] = []
  const { derived, plan } = inSight(context)
  if (wish.legs && derived.network.turnouts.size > 0) {
    // Which leg is taken is also true of a track that is not seen.
    for (const { turnout, leg, pose, takenBy } of legPlaces(context.derived)) {
      if (takenBy === null || takenBy === wish.exceptTrack) points.push({ kind: 'leg', at: pose, leg: { turnout, leg, pose } })
    }
  }
  if (wish.tracks) {
    for (const networkTrack of tracksNear(derived.network.tracks, pointer, pickToleranceMm(context))) {
      if (networkTrack.track.id === wish.exceptTrack) continue
      const { corners, start, end } = trackHandles(networkTrack)
      for (const at of corners) points.push({ kind: 'pi', at })
      for (const at of [start, end]) if (at !== null) points.push({ kind: 'trackEnd', at })
    }
  }
  if (wish.benchwork) {
    for (const benchwork of Object.values(plan.benchworks)) {
      if (benchwork.id === wish.exceptBenchwork) continue
      for (const [, ring] of benchworkRings(benchwork)) for (const at of ring) points.push({ kind: 'benchworkCorner', at })
    }
  }
  if (wish.walls) {
    for (const wall of Object.values(plan.walls)) for (const at of wall.points) points.push({ kind: 'wallCorner', at })
    for (const obstacle of Object.values(plan.obstacles)) for (const at of obstacle.outline) points.push({ kind: 'wallCorner', at })
  }
  return points
}

/** Guides of the plan: each draws whatever is set or dragged. */
export function targetGuides(context: ToolContext): readonly SnapLine[] {
  return Object.values(inSight(context).plan.guides).map(({ at, angleRad }) => ({
    kind: 'guide',
    pose: { ...at, headingRad: angleRad },
    isRay: false,
  }))
}

/** Lines beside the sides of other tracks, to both hands, at the centres that their class asks for; those that pass near the pointer. */
export function targetParallels(context: ToolContext, wish: TargetWish, at: Point): readonly SnapLine[] {
  if (!wish.tracks || wish.parallels === false) return []
  const lines: SnapLine[] = []
  const toleranceMm = pickToleranceMm(context)
  const { derived, plan } = inSight(context)
  const widestMm = Math.max(...Object.values(plan.lineClasses).map(({ trackCentresMm }) => trackCentresMm))
  for (const networkTrack of tracksNear(derived.network.tracks, at, 3 * widestMm + toleranceMm)) {
    if (networkTrack.track.id === wish.exceptTrack) continue
    const { trackCentresMm } = networkTrack.lineClass
    for (const [a, b] of trackHandles(networkTrack).sides) {
      const lengthMm = pointDistance(a, b)
      if (lengthMm === 0) continue
      const side = { ...a, headingRad: Math.atan2(b.y - a.y, b.x - a.x) }
      const { x, y } = poseToLocal(side, at)
      // Round a PI the line beside it reaches farther than the side does.
      const isBeside = x >= -2 * trackCentresMm && x <= lengthMm + 2 * trackCentresMm
      if (isBeside && Math.abs(Math.abs(y) - trackCentresMm) <= toleranceMm)
        lines.push({ kind: 'parallel', pose: poseOffset(side, Math.sign(y) * trackCentresMm), isRay: false })
    }
  }
  return lines
}

/** Edges of the plan that a point may lie on, and joists below it. */
export function targetEdges(context: ToolContext, wish: TargetWish): readonly SnapEdge[] {
  const edges: SnapEdge[] = []
  const { plan } = inSight(context)
  if (wish.benchwork) {
    for (const benchwork of Object.values(plan.benchworks)) {
      if (benchwork.id === wish.exceptBenchwork) continue
      for (const [, ring] of benchworkRings(benchwork)) {
        ring.forEach((b, i) => edges.push({ kind: 'benchworkEdge', a: ring.at(i - 1) ?? b, b }))
      }
    }
  }
  if (wish.benchwork) {
    for (const { id, from: a, to: b } of Object.values(plan.joists)) if (id !== wish.exceptJoist) edges.push({ kind: 'joist', a, b })
  }
  if (wish.walls) {
    for (const wall of Object.values(plan.walls)) {
      wall.points.forEach((b, i) => {
        const a = wall.points.at(i - 1)
        if (a !== undefined && (i > 0 || wall.isClosed)) edges.push({ kind: 'wallEdge', a, b })
      })
    }
  }
  return edges
}
