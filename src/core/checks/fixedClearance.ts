import type { FixedThing } from '../clearance/index.ts'
import { boxGrow, boxesOverlap, pathPoseAt, pointDistance, ringContains, ringNearest, segmentIntersection } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Id, Portal } from '../plan/types.ts'
import { areaEdgeDistance } from './area.ts'
import type { BenchArea } from './area.ts'
import { breachFinding } from './breachFinding.ts'
import { breachesAlong, breachesRound } from './breaches.ts'
import type { Breach, Probe } from './breaches.ts'
import { stretchesNearBox } from './pieces.ts'
import type { Run, Span } from './run.ts'
import { isSquareEnd } from './squareEnd.ts'
import type { Finding } from './types.ts'

/** Step along a run, mm: half of it is the widest thing that might slip between two looks, and any running clearance is wider. */
const STEP_MM = 4

/** Nearer than asked by no more than this still keeps the limit, mm: rounding. */
const ROUNDING_MM = 1e-3

/** A run that starts too near because its host does has to come this much nearer itself to be told. */
const WORSE_MM = 0.5

/** How a place stands to a thing: distance, negative within, and the nearest place of its edge. */
interface Nearest extends Point {
  readonly distanceMm: number
}

/**
 * Stretches over which the band that the cars sweep comes nearer to a wall or an obstacle than the running clearance. Through a portal
 * the wall counts for nothing there: its own sides do (portalClearance). Silent of a track's end that runs out square before it: a car stops
 * there.
 *
 * Units:      mm, negative by how much the band is cut into.
 * Exactness:  that of the band (lineReach) against the true edges; ends of a stretch 1e-3 mm.
 */
export function fixedClearance(run: Run, thing: FixedThing, portals: readonly Portal[]): readonly Finding[] {
  if (!run.hasCars) return []
  const { runningClearanceMm } = run.railway
  const mostMm = run.reach.mostMm + runningClearanceMm
  if (!boxesOverlap(run.box, boxGrow(thing.box, mostMm))) return []
  const through = portals.map((portal) => portalSpan(run, portal))
  const gapAt = (stationMm: number): number => bandGap(run, stationMm, thing)
  const distanceAt = (stationMm: number): number => thingNearest(thing, pathPoseAt(run.path, stationMm)).distanceMm
  const probe = (stationMm: number): Probe => {
    const inside = through.find(({ fromMm, toMm }) => stationMm >= fromMm && stationMm <= toMm)
    if (inside !== undefined) return { slackMm: mostMm, freeMm: inside.toMm - stationMm }
    const distanceMm = distanceAt(stationMm)
    // Distance cannot change faster than the line runs.
    if (distanceMm > mostMm) return { slackMm: distanceMm - mostMm, freeMm: distanceMm - mostMm }
    return { slackMm: gapAt(stationMm) - runningClearanceMm + ROUNDING_MM, freeMm: 0 }
  }
  const stretches = stretchesNearBox(run, thing.box, mostMm)
  const found = stretches.flatMap(({ fromMm, toMm }) => breachesAlong(fromMm, toMm, STEP_MM, probe))
  const own = ownBreaches(run, found).filter((breach) => !isSquareEnd(run, breach, distanceAt))
  return own.map((breach, i) => ({
    ...fixedFinding(run, breach, `${thing.record}:${i}`, thing.record),
    measured: gapAt(breach.worstMm),
    limit: runningClearanceMm,
    problem: { kind: 'nearFixed', table: thing.table },
  }))
}

/** Portals whose sides are nearer to the band of the track that runs through them than the running clearance. */
export function portalClearance(run: Run, portal: Portal): readonly Finding[] {
  if (!run.hasCars) return []
  const { fromMm, toMm } = portalSpan(run, portal)
  const { runningClearanceMm } = run.railway
  const gapAt = (stationMm: number): number => {
    const { leftMm, rightMm } = run.reach.sidesAt(stationMm)
    return Math.min(portal.leftMm - leftMm, portal.rightMm - rightMm)
  }
  if (fromMm > toMm) return []
  const probe = (stationMm: number): Probe => ({ slackMm: gapAt(stationMm) - runningClearanceMm + ROUNDING_MM, freeMm: 0 })
  return breachesAlong(fromMm, toMm, STEP_MM, probe).map((breach, i) => ({
    ...fixedFinding(run, breach, `${portal.id}:${i}`, portal.id),
    measured: gapAt(breach.worstMm),
    limit: runningClearanceMm,
    problem: { kind: 'nearFixed', table: 'portals' },
  }))
}

/**
 * Stretches over which cars hang over the edge of the benchwork though the track keeps its margin: nothing stands there to foul, but a
 * sleeve does not see them. Where the track itself is nearer than its margin that is told already.
 */
export function edgeOverhang(run: Run, area: BenchArea): readonly Finding[] {
  if (area.edges.length === 0 || !run.hasCars) return []
  const { edgeMarginMm } = run.railway
  const { mostMm } = run.reach
  // Where every band fits within the margin there is nothing to look at.
  if (mostMm <= edgeMarginMm) return []
  const gapAt = (stationMm: number): number => {
    const [left, right] = bandEdgesAt(run, stationMm)
    return Math.min(areaEdgeDistance(area, left), areaEdgeDistance(area, right))
  }
  const probe = (stationMm: number): Probe => {
    const distanceMm = areaEdgeDistance(area, pathPoseAt(run.path, stationMm))
    if (distanceMm > mostMm) return { slackMm: distanceMm - mostMm, freeMm: distanceMm - mostMm }
    if (distanceMm < edgeMarginMm) return { slackMm: mostMm, freeMm: 0 }
    return { slackMm: gapAt(stationMm) + ROUNDING_MM, freeMm: 0 }
  }
  return ownBreaches(run, breachesAlong(0, run.path.lengthMm, STEP_MM, probe)).map((breach, i) => ({
    ...fixedFinding(run, breach, `edge:${i}`, null),
    severity: 'warning',
    measured: gapAt(breach.worstMm),
    limit: 0,
    problem: { kind: 'overEdge' },
  }))
}

/** Without those that begin at the points because the host's do, as long as they get no worse. */
function ownBreaches(run: Run, found: readonly Breach[]): readonly Breach[] {
  const { lengthMm } = run.path
  const breaches = run.isClosed ? breachesRound(found, lengthMm) : found
  return breaches.filter(({ fromMm, toMm, worstMm, worstSlackMm }) => {
    const startMm = run.startTurnout !== null && fromMm === 0 ? 0 : null
    const endMm = run.endTurnout !== null && toMm === lengthMm ? lengthMm : null
    if (startMm === null && endMm === null) return true
    return worstMm !== startMm && worstMm !== endMm && worstSlackMm < -WORSE_MM
  })
}

/** Stations of the run at which its track lies in a portal. */
function portalSpan({ startTurnout, path }: Run, { stationMm, lengthMm }: Portal): Span {
  const fromMm = stationMm + (startTurnout?.routeMm ?? 0)
  return { fromMm: Math.max(0, fromMm), toMm: Math.min(path.lengthMm, fromMm + lengthMm) }
}

function bandEdgesAt(run: Run, stationMm: number): readonly [Point, Point] {
  const { x, y, headingRad } = pathPoseAt(run.path, stationMm)
  const { leftMm, rightMm } = run.reach.sidesAt(stationMm)
  const [sin, cos] = [Math.sin(headingRad), Math.cos(headingRad)]
  return [
    { x: x - leftMm * sin, y: y + leftMm * cos },
    { x: x + rightMm * sin, y: y - rightMm * cos },
  ]
}

/** What is left at a station between the band and a thing: from both edges; or how far what stands between them has to give way. */
function bandGap(run: Run, stationMm: number, thing: FixedThing): number {
  const [left, right] = bandEdgesAt(run, stationMm)
  const ofEdges = Math.min(thingNearest(thing, left).distanceMm, thingNearest(thing, right).distanceMm, -cutDepth(thing, left, right))
  const { x, y, headingRad } = pathPoseAt(run.path, stationMm)
  const near = thingNearest(thing, { x, y })
  const [sin, cos] = [Math.sin(headingRad), Math.cos(headingRad)]
  const ahead = (near.x - x) * cos + (near.y - y) * sin
  const aside = (near.y - y) * cos - (near.x - x) * sin
  // What is narrower than a step may stand between two looks.
  if (Math.abs(ahead) > STEP_MM / 2) return ofEdges
  const { leftMm, rightMm } = run.reach.sidesAt(stationMm)
  return Math.min(ofEdges, Math.abs(aside) - (aside > 0 ? leftMm : rightMm))
}

/** How far the edges of a thing that cut across a band at a station stand in it, from its nearer side; -Infinity where none does. */
function cutDepth({ rings }: FixedThing, left: Point, right: Point): number {
  const widthMm = pointDistance(left, right)
  let deepestMm = -Infinity
  for (const ring of rings) {
    for (const [i, a] of ring.entries()) {
      const b = ring[(i + 1) % ring.length]
      const cut = b === undefined ? null : segmentIntersection(left, right, a, b)
      if (cut !== null) deepestMm = Math.max(deepestMm, Math.min(cut.t, 1 - cut.t) * widthMm)
    }
  }
  return deepestMm
}

function thingNearest({ rings }: FixedThing, point: Point): Nearest {
  let nearest: Nearest = { x: point.x, y: point.y, distanceMm: Infinity }
  let deepestMm = 0
  for (const ring of rings) {
    const place = ringNearest(ring, point)
    if (place === null) continue
    if (place.distanceMm < nearest.distanceMm) nearest = { x: place.at.x, y: place.at.y, distanceMm: place.distanceMm }
    if (ringContains(ring, point)) deepestMm = Math.max(deepestMm, place.distanceMm)
  }
  return deepestMm > 0 ? { ...nearest, distanceMm: -deepestMm } : nearest
}

function fixedFinding(run: Run, breach: Breach, key: string, otherRecord: Id | null): Finding {
  return breachFinding(run, breach, pathPoseAt(run.path, breach.worstMm), {
    id: `fixed-clearance:${run.key}:${key}`,
    rule: 'fixed-clearance',
    severity: 'error',
    otherRecord,
  })
}
