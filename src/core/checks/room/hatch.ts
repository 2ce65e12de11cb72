import { boxGrow, boxOfPoints, boxesOverlap, pathPoseAt } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Hatch } from '../../plan/types.ts'
import { areaEdgeDistance, areaOfRings } from '../area.ts'
import { breachesAlong } from '../breaches.ts'
import type { Run } from '../run.ts'
import type { Cure, Finding } from '../types.ts'
import { ringsShared, ringsSolid, ringsWithout, widestDisc } from './rings.ts'
import type { Rings } from './rings.ts'
import type { Solid } from './solids.ts'

/** Step along a track beside a hatch, mm. */
const STEP_MM = 2

const commonOf = ({ id }: Hatch, { x, y }: Point) =>
  ({
    severity: 'warning',
    stage: 'room',
    table: 'hatches',
    record: id,
    otherRecord: null,
    corner: null,
    stationFromMm: null,
    stationToMm: null,
    x,
    y,
    unit: 'mm',
    source: 'railway',
    cure: null,
  }) as const

/**
 * A hatch too small to stand up in: the widest disc that it holds, off obstacles and walls. The cure is a hatch of the same shape, just
 * large enough; what lies on the benchwork there is told by the checks of the plan with it.
 *
 * Exactness: 0.1 mm. Source: common practice, no source: 20 in for a grown person.
 */
export function hatchSize(hatch: Hatch, solids: readonly Solid[], hatchMm: number): readonly Finding[] {
  const standing = ringsSolid(solids.filter(({ table }) => table !== 'benchworks').flatMap(({ rings }) => rings))
  const discIn = (outline: Hatch['outline']): ReturnType<typeof widestDisc> => widestDisc(ringsWithout(ringsSolid([outline]), standing))
  const disc = discIn(hatch.outline)
  const measured = disc?.diameterMm ?? 0
  // The disc is found a little too small, never too large: so a hatch of just the size is one.
  if (measured >= hatchMm - 2 * SIZE_ROUNDING_MM) return []
  const at = disc?.at ?? hatch.outline[0] ?? { x: 0, y: 0 }
  return [
    { ...commonOf(hatch, at), id: `hatch-size:${hatch.id}`, rule: 'hatch-size', measured, limit: hatchMm, problem: null, cure: grown() },
  ]

  function grown(): Cure | null {
    if (disc === null) return null
    // A tenth of a millimetre over, since the disc is found a little too small.
    const times = (hatchMm + SIZE_ROUNDING_MM) / disc.diameterMm
    const outline = hatch.outline.map(({ x, y }) => ({ x: disc.at.x + times * (x - disc.at.x), y: disc.at.y + times * (y - disc.at.y) }))
    const isLarge = (discIn(outline)?.diameterMm ?? 0) >= hatchMm - 2 * SIZE_ROUNDING_MM
    return isLarge ? { kind: 'growHatch', hatch: hatch.id, times, outline } : null
  }
}

const SIZE_ROUNDING_MM = 0.1

/** A hatch that lies wholly beside the benchwork, where there is floor anyway. bench: all benchwork, its holes filled. */
export function hatchOffBench(hatch: Hatch, bench: Rings): readonly Finding[] {
  if (hatch.outline.length < 3 || ringsShared(ringsSolid([hatch.outline]), bench).length > 0) return []
  const at = hatch.outline[0] ?? { x: 0, y: 0 }
  return [
    {
      ...commonOf(hatch, at),
      id: `hatch-place:${hatch.id}`,
      rule: 'hatch-place',
      measured: null,
      limit: null,
      source: 'geometry',
      problem: { kind: 'hatchOffBench' },
    },
  ]
}

/** A run whose ties lie on a hatch: whoever lifts it lifts the track. Measured from the centreline, 0 where it crosses. */
export function hatchUnderTrack(run: Run, hatch: Hatch): readonly Finding[] {
  const box = boxOfPoints(hatch.outline)
  const halfMm = run.railway.tieLengthMm / 2
  if (box === null || hatch.outline.length < 3 || !boxesOverlap(box, boxGrow(run.box, halfMm))) return []
  const area = areaOfRings([hatch.outline])
  const offMm = (at: Point): number => Math.max(0, -areaEdgeDistance(area, at))
  const breaches = breachesAlong(0, run.path.lengthMm, STEP_MM, (stationMm) => {
    const slackMm = -areaEdgeDistance(area, pathPoseAt(run.path, stationMm)) - halfMm
    return { slackMm, freeMm: Math.abs(slackMm) }
  })
  const [worst] = breaches.toSorted((a, b) => a.worstSlackMm - b.worstSlackMm)
  if (worst === undefined) return []
  const at = pathPoseAt(run.path, worst.worstMm)
  return [
    {
      ...commonOf(hatch, at),
      id: `hatch-place:${hatch.id}:${run.record}`,
      rule: 'hatch-place',
      stationFromMm: run.stationAt(worst.fromMm),
      stationToMm: run.stationAt(worst.toMm),
      measured: offMm(at),
      limit: halfMm,
      source: 'geometry',
      problem: { kind: 'hatchUnderTrack', by: { table: run.table, record: run.record } },
    },
  ]
}
