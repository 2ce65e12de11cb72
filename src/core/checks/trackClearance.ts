import { pathPoseAt } from '../geom/index.ts'
import { breachFinding } from './breachFinding.ts'
import { lineNearItself, linesNear } from './linesNear.ts'
import type { NearCrossing, NearStretch } from './linesNear.ts'
import type { Run } from './run.ts'
import type { Finding } from './types.ts'

/**
 * Stretches over which the cars of two runs come nearer to each other than the running clearance, each by its worst place; and places
 * where the runs cross at one level, as warnings with nothing measured, or one is known to lie too little over the other, as errors.
 *
 * Units:      mm between the bands that the cars sweep, negative where they overlap. Where it is not known what runs on one of them: mm
 *             between centrelines.
 * Exactness:  that of the bands (lineReach). Parting at a turnout is exempt up to the fouling point (linesNear).
 */
export function trackClearance(run: Run, other: Run): readonly Finding[] {
  return linesNear(run, other).map((place, i) => placeFinding(run, other, place, i))
}

/** The same for a run that comes back beside itself. */
export function selfClearance(run: Run): readonly Finding[] {
  return lineNearItself(run).map((place, i) => placeFinding(run, run, place, i))
}

function placeFinding(run: Run, other: Run, place: NearStretch | NearCrossing, i: number): Finding {
  const pair = `track-clearance:${run.key}:${other.key}`
  return place.kind === 'stretch'
    ? clearanceFinding(run, other, `${pair}:${i}`, place)
    : crossingFinding(run, other, `${pair}:crossing:${i}`, place)
}

/** Higher than this one track lies over the other and does not cross it, mm. */
const OVER_MM = 1

/** How much higher one of two runs lies where they cross, and how much trains ask; null: they cross on one level, as far as is known. */
function overAt(
  { level }: Run,
  other: Run,
  { stationMm, otherMm }: NearCrossing,
): { readonly apartMm: number; readonly askedMm: number } | null {
  if (level === null || other.level === null || level.helix !== other.level.helix) return null
  const apartMm = Math.abs(level.levelAt(stationMm) - other.level.levelAt(otherMm))
  return apartMm > OVER_MM ? { apartMm, askedMm: level.apartMm } : null
}

function clearanceFinding(run: Run, other: Run, id: string, { breach, left: { gapMm, roomMm } }: NearStretch): Finding {
  const { clearanceMm } = run
  const carless = run.hasCars ? other : run
  const isByCars = run.hasCars && other.hasCars
  return breachFinding(run, breach, pathPoseAt(run.path, breach.worstMm), {
    id,
    rule: 'track-clearance',
    severity: 'error',
    stage: 'line',
    otherRecord: other.record,
    measured: isByCars ? gapMm : gapMm + roomMm,
    limit: isByCars ? clearanceMm : roomMm + clearanceMm,
    source: isByCars ? 'railway' : `class:${carless.lineClass.id}`,
  })
}

function crossingFinding(run: Run, other: Run, id: string, crossing: NearCrossing): Finding {
  const { x, y } = crossing.at
  const over = overAt(run, other, crossing)
  return {
    id,
    rule: 'track-clearance',
    severity: over === null ? 'warning' : 'error',
    stage: 'line',
    table: run.table,
    record: run.record,
    otherRecord: other.record,
    corner: null,
    stationFromMm: run.stationAt(crossing.stationMm),
    stationToMm: run.stationAt(crossing.stationMm),
    x,
    y,
    measured: over?.apartMm ?? 0,
    limit: over?.askedMm ?? crossing.limitMm,
    unit: 'mm',
    source: 'geometry',
    problem: over === null ? { kind: 'levelCrossing', angleRad: crossing.angleRad } : { kind: 'lowOverpass' },
    cure: null,
  }
}
