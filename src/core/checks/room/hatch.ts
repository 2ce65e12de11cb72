import { boxGrow, boxOfPoints, boxesOverlap, pathPoseAt } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Hatch } from '../../plan/types.ts'
import { areaEdgeDistance, areaOfRings } from '../area.ts'
import { breachesAlong } from '../breaches.ts'
import type { Run } from '../run.ts'
import type { Cure, Finding } from '../types.ts'
import { ringsShared, ringsSolid, ringsWithout, widestDisc } from './rings.ts'
import type { Rings, WidestDisc } from './rings.ts'
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

/** Sizes are found to this, mm. */
const SIZE_ROUNDING_MM = 0.1

/**
 * A hatch too small to stand up in: the widest disc that it holds, off obstacles and walls. What cures it has to be asked of the tracks
 * around it too (hatchCure).
 *
 * Exactness: 0.1 mm. Source: common practice, no source: 20 in for a grown person.
 */
export function hatchSize(hatch: Hatch, solids: readonly Solid[], hatchMm: number): readonly Finding[] {
  const disc = discIn(hatch.outline, standingIn(solids))
  const measured = disc?.diameterMm ?? 0
  if (isLarge(disc, hatchMm)) return []
  const at = disc?.at ?? hatch.outline[0] ?? { x: 0, y: 0 }
  return [{ ...commonOf(hatch, at), id: `hatch-size:${hatch.id}`, rule: 'hatch-size', measured, limit: hatchMm, problem: null }]
}

/** Walls and obstacles: where they stand, nobody does. */
const standingIn = (solids: readonly Solid[]): Rings =>
  ringsSolid(solids.filter(({ table }) => table !== 'benchworks').flatMap(({ rings }) => rings))

/** The widest disc in an outline, off what stands in it. */
const discIn = (outline: Hatch['outline'], standing: Rings): WidestDisc | null => widestDisc(ringsWithout(ringsSolid([outline]), standing))

/** The disc is found a little too small, never too large: so a hatch of just the size is one. */
const isLarge = (disc: WidestDisc | null, hatchMm: number): boolean => (disc?.diameterMm ?? 0) >= hatchMm - 2 * SIZE_ROUNDING_MM

/**
 * Hatches of the same shape, just large enough: grown to all sides first, then with a side or a corner left where it is. Those in which
 * something would still stand in the way are left out.
 */
export function hatchesGrown(hatch: Hatch, solids: readonly Solid[], hatchMm: number): readonly HatchGrown[] {
  const standing = standingIn(solids)
  const disc = discIn(hatch.outline, standing)
  const box = boxOfPoints(hatch.outline)
  if (disc === null || box === null) return []
  // A tenth of a millimetre over, since the disc is found a little too small.
  const times = (hatchMm + SIZE_ROUNDING_MM) / disc.diameterMm
  const { minX, maxX, minY, maxY } = box
  const [midX, midY] = [(minX + maxX) / 2, (minY + maxY) / 2]
  const sides = [minX, maxX].map((x) => ({ x, y: midY })).concat([minY, maxY].map((y) => ({ x: midX, y })))
  const corners = [minX, maxX].flatMap((x) => [minY, maxY].map((y) => ({ x, y })))
  return [disc.at, ...sides, ...corners].flatMap((still) => {
    const outline = hatch.outline.map(({ x, y }) => ({ x: still.x + times * (x - still.x), y: still.y + times * (y - still.y) }))
    return isLarge(discIn(outline, standing), hatchMm) ? [{ kind: 'growHatch', hatch: hatch.id, times, outline } as const] : []
  })
}

export type HatchGrown = Extract<Cure, { readonly kind: 'growHatch' }>

/** The first of the larger hatches that lies under no track under which the hatch does not lie already; null: there is none. */
export function hatchCure(hatch: Hatch, grown: readonly HatchGrown[], runs: readonly Run[]): Cure | null {
  const others = runs.filter((run) => hatchUnderTrack(run, hatch).length === 0)
  return grown.find(({ outline }) => others.every((run) => hatchUnderTrack(run, { ...hatch, outline }).length === 0)) ?? null
}

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
      id: `hatch-place:${hatch.id}:${run.key}`,
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
