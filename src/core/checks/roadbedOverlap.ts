import { evenReach } from '../clearance/index.ts'
import { pathPoseAt } from '../geom/index.ts'
import { roadbedHalfMm } from '../plan/index.ts'
import { breachFinding } from './breachFinding.ts'
import { lineNearItself, linesNear } from './linesNear.ts'
import type { NearCrossing, NearStretch } from './linesNear.ts'
import type { Run } from './run.ts'
import type { Finding } from './types.ts'

/** Roadbeds that lie in each other by less are told nothing of, mm: a knife takes that off. */
const TOLD_MM = 0.5

/**
 * Stretches over which the roadbeds of two runs lie in each other so far that one of them has no whole top any more to carry its ties. What
 * grows from the other at a turnout, goes on from its end or crosses it is laid with it, and is told only from where the two stop to part.
 *
 * Shoulders that run together below both tops are told nothing of: beside each other they are laid so, their thin edges trimmed with the
 * knife. [COMMON-PRACTICE]
 *
 * found:      what trackClearance found of the two: where cars ask for more than roadbed is wide, it lies nowhere else in the other.
 * Measured:   what is left between both, mm, negative; at the height of the lower top, where the higher one's shoulder may reach into it.
 * Exactness:  that of linesNear.
 */
export function roadbedOverlap(run: Run, other: Run, found: readonly Finding[]): readonly Finding[] {
  const [mine, theirs] = [run.lineClass.roadbed, other.lineClass.roadbed]
  if (mine === null || theirs === null) return []
  const heightMm = Math.min(mine.thicknessMm, theirs.thicknessMm)
  const [halfMm, otherHalfMm] = [roadbedHalfMm(mine, heightMm), roadbedHalfMm(theirs, heightMm)]
  if (isCleared(run, other, found, halfMm + otherHalfMm)) return []
  const isOneSheet = mine.thicknessMm === theirs.thicknessMm && mine.material === theirs.material
  return overlapFindings(run, other, linesNear(bedOf(run, halfMm), bedOf(other, otherHalfMm)), isOneSheet)
}

/** The same for a run that comes back beside itself. */
export function selfOverlap(run: Run, found: readonly Finding[]): readonly Finding[] {
  const { roadbed } = run.lineClass
  if (roadbed === null || isCleared(run, run, found, roadbed.topWidthMm)) return []
  return overlapFindings(run, run, lineNearItself(bedOf(run, roadbed.topWidthMm / 2)), true)
}

/** Whether cars that keep clear of each other keep the roadbed of both clear, so far apart as that has to be: on a straight cars ask least. */
function isCleared(run: Run, other: Run, found: readonly Finding[], apartMm: number): boolean {
  if (found.some(({ problem }) => problem === null)) return false
  return apartMm - TOLD_MM <= run.reach.halfMm + other.reach.halfMm + run.clearanceMm
}

/** The run as its roadbed lies: as far out on both sides, and a little into what lies beside it. */
function bedOf(run: Run, halfMm: number): Run {
  return { ...run, reach: evenReach(halfMm), clearanceMm: -TOLD_MM }
}

function overlapFindings(run: Run, other: Run, places: readonly (NearStretch | NearCrossing)[], isOneSheet: boolean): readonly Finding[] {
  return places
    .filter((place) => place.kind === 'stretch')
    .map(
      ({ breach, left }, i): Finding =>
        breachFinding(run, breach, pathPoseAt(run.path, breach.worstMm), {
          id: `roadbed-overlap:${run.key}:${other.key}:${i}`,
          rule: 'roadbed-overlap',
          severity: 'warning',
          stage: 'roadbed',
          otherRecord: other.record,
          measured: left.gapMm,
          limit: 0,
          source: `class:${run.lineClass.id}`,
          problem: { kind: 'roadbedsMeet', isOneSheet },
        }),
    )
}
