import { ringArea, ringContains, ringSelfIntersections, segmentIntersection } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Benchwork } from '../plan/types.ts'
import type { Finding, OutlineProblem } from './types.ts'

/** A ring with less area than this has none, mm^2: a strip of a millimetre by a thousandth. */
const NO_AREA_MM2 = 1e-3

interface Fault {
  readonly problem: OutlineProblem
  readonly at: Point
}

/** Faults of one ring by itself; ring -1 is the outline. */
function ringFaults(points: readonly Point[], ring: number): readonly Fault[] {
  const first = points[0] ?? { x: 0, y: 0 }
  if (points.length < 3) return [{ problem: { kind: 'outlineTooFewPoints', ring, have: points.length, need: 3 }, at: first }]
  const crossings = ringSelfIntersections(points).map(
    ({ edgeA, edgeB, at }): Fault => ({ problem: { kind: 'outlineCrosses', ring, edgeA, edgeB }, at }),
  )
  if (crossings.length > 0) return crossings
  // A figure of eight can have no area in sum; its crossing is what is wrong with it.
  return Math.abs(ringArea(points)) < NO_AREA_MM2 ? [{ problem: { kind: 'outlineNoArea', ring }, at: first }] : []
}

/** Where a hole leaves the outline: a crossing of their edges, else its first point outside; null when it lies inside. */
function holeLeavesAt(outline: readonly Point[], hole: readonly Point[]): Point | null {
  for (const [i, b] of hole.entries()) {
    const a = hole.at(i - 1) ?? b
    for (const [j, d] of outline.entries()) {
      const meeting = segmentIntersection(a, b, outline.at(j - 1) ?? d, d)
      if (meeting !== null) return meeting.at
    }
  }
  return hole.find((point) => !ringContains(outline, point)) ?? null
}

/**
 * Rings that are no outline: too few points, no area, crossing themselves; and holes that are not wholly inside.
 *
 * Exactness:  crossings and touches are exact in the coordinates as stored. A hole that touches the outline counts as leaving it.
 */
export function benchworkOutline({ id, outline, holes }: Benchwork): readonly Finding[] {
  const faults: Fault[] = [...ringFaults(outline, -1)]
  const isOutlineGood = faults.length === 0
  for (const [ring, hole] of holes.entries()) {
    const own = ringFaults(hole, ring)
    faults.push(...own)
    const at = isOutlineGood && own.length === 0 ? holeLeavesAt(outline, hole) : null
    if (at !== null) faults.push({ problem: { kind: 'holeOutside', ring }, at })
  }
  return faults.map(({ problem, at }) => ({
    id: `benchwork-outline:${id}:${problem.kind}:${problem.ring}${problem.kind === 'outlineCrosses' ? `:${problem.edgeA}:${problem.edgeB}` : ''}`,
    rule: 'benchwork-outline',
    severity: 'error',
    stage: 'room',
    table: 'benchworks',
    record: id,
    otherRecord: null,
    corner: null,
    stationFromMm: null,
    stationToMm: null,
    x: at.x,
    y: at.y,
    measured: problem.kind === 'outlineTooFewPoints' ? problem.have : null,
    limit: problem.kind === 'outlineTooFewPoints' ? problem.need : null,
    unit: 'number',
    source: 'geometry',
    problem,
    cure: null,
  }))
}
