import { helixLevels } from '../makers/index.ts'
import type { HelixLevels } from '../makers/index.ts'
import type { NetworkCrossing, NetworkTrack } from '../network/types.ts'
import type { Id, Maker } from '../plan/types.ts'
import { runEndTouched } from './run.ts'
import type { Run, RunLevel, Span } from './run.ts'

/** A helix that stands in the plan: its maker, and the run of what it made. */
export interface HelixRun {
  readonly maker: Id
  readonly run: Run
  readonly levels: HelixLevels
}

/** The helix of a maker on its solved track; null: the maker makes none, or its track is not solved. */
export function helixRun(maker: Maker, networkTrack: NetworkTrack, run: Run): HelixRun | null {
  const { numbers, id } = maker
  const { alignment } = networkTrack
  if (numbers.kind !== 'helix' || !alignment.ok) return null
  const levels = helixLevels(networkTrack.railway, numbers, alignment)
  if (levels === null) return null
  const { footMm, headMm, climbMm, grade, turnRad, risePerTurnMm, needMm } = levels
  const stationAt = (levelMm: number): number => footMm + levelMm / grade
  const level: RunLevel = {
    helix: id,
    // Of less than a turn nothing but its way out can lie over its way in.
    apartMm: turnRad < 2 * Math.PI ? needMm : Math.min(risePerTurnMm, needMm),
    grade,
    levelAt: (stationMm) => climbMm * Math.min(1, Math.max(0, (stationMm - footMm) / (headMm - footMm))),
    stationsBetween: (lowMm, highMm) =>
      lowMm >= climbMm || highMm <= 0
        ? null
        : { fromMm: lowMm < 0 ? 0 : stationAt(lowMm), toMm: highMm > climbMm ? run.path.lengthMm : stationAt(highMm) },
  }
  return { maker: id, run: { ...run, level }, levels }
}

/**
 * A run that goes on from one end of a helix, as high as that end all along: what a builder means who lays it there. One that leads from
 * one end to the other, or touches none, has no level.
 */
export function runBeside(run: Run, helix: HelixRun): Run {
  if (run.record === helix.run.record || run.isClosed) return run
  const { lengthMm } = helix.run.path
  const isAt = (helixEndMm: number): boolean => [0, run.path.lengthMm].some((endMm) => runEndTouched(run, endMm, helix.run) === helixEndMm)
  const [isAtFoot, isAtHead] = [isAt(0), isAt(lengthMm)]
  if (isAtFoot === isAtHead) return run
  const levelMm = isAtFoot ? 0 : helix.levels.climbMm
  const whole: Span = { fromMm: 0, toMm: run.path.lengthMm }
  const level: RunLevel = {
    helix: helix.maker,
    apartMm: helix.run.level?.apartMm ?? 0,
    grade: 0,
    levelAt: () => levelMm,
    stationsBetween: (lowMm, highMm) => (levelMm > lowMm && levelMm < highMm ? whole : null),
  }
  return { ...run, level }
}

/** Whether two tracks only seem to cross: a helix is known to bring the one over the other. */
export function isOverpass({ track, other, stationMm, otherStationMm }: NetworkCrossing, runs: readonly Run[]): boolean {
  const levelOf = (id: Id): RunLevel | null => runs.find((run) => run.table === 'tracks' && run.record === id)?.level ?? null
  const [level, otherLevel] = [levelOf(track), levelOf(other)]
  if (level === null || otherLevel === null || level.helix !== otherLevel.helix) return false
  return Math.abs(level.levelAt(stationMm) - otherLevel.levelAt(otherStationMm)) >= level.apartMm
}
