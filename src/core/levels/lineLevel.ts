import { pathPoseAt } from '../geom/index.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Id, Maker } from '../plan/types.ts'
import { helixLevels } from './helixLevels.ts'
import type { HelixLevels } from './helixLevels.ts'

/** A stretch of stations; without an end where nothing ends it. */
export interface LevelSpan {
  readonly fromMm: number
  readonly toMm: number
}

/** Heights along a line, counted from the foot of a helix: its own, or that of its end for what goes on from there. */
export interface LineLevel {
  /** Maker of the helix; only heights over the same foot can be compared. */
  readonly helix: Id
  /**
   * Railheads this far apart are not on one level: what trains need over each other, or what a turn rises where that is less (then the
   * height of the helix is what is wrong).
   */
  readonly apartMm: number
  readonly grade: number
  readonly levelAt: (stationMm: number) => number
  /** Stations whose height lies between two; null: none does. */
  readonly stationsBetween: (lowMm: number, highMm: number) => LevelSpan | null
}

/** A helix that stands in the plan: its maker, what it made, and how high that lies. */
export interface Helix {
  readonly maker: Id
  readonly track: NetworkTrack
  readonly levels: HelixLevels
  readonly level: LineLevel
}

const everywhere: LevelSpan = { fromMm: -Infinity, toMm: Infinity }

/** The helix of a maker on its solved track; null: the maker makes none, or its track is not solved. */
export function helixOf({ numbers, id }: Maker, track: NetworkTrack): Helix | null {
  const { alignment } = track
  if (numbers.kind !== 'helix' || !alignment.ok) return null
  const levels = helixLevels(track.railway, numbers, alignment)
  if (levels === null) return null
  const { footMm, headMm, climbMm, grade, turnRad, risePerTurnMm, needMm } = levels
  const stationAt = (levelMm: number): number => footMm + levelMm / grade
  const level: LineLevel = {
    helix: id,
    // Of less than a turn nothing but its way out can lie over its way in.
    apartMm: turnRad < 2 * Math.PI ? needMm : Math.min(risePerTurnMm, needMm),
    grade,
    levelAt: (stationMm) => climbMm * Math.min(1, Math.max(0, (stationMm - footMm) / (headMm - footMm))),
    stationsBetween: (lowMm, highMm) =>
      lowMm >= climbMm || highMm <= 0
        ? null
        : { fromMm: lowMm < 0 ? -Infinity : stationAt(lowMm), toMm: highMm > climbMm ? Infinity : stationAt(highMm) },
  }
  return { maker: id, track, levels, level }
}

/** Ends of two tracks this near and this much in line are one line that goes on under another name. */
const contactMm = 1
const contactSine = 0.02

/**
 * The level of a track that goes on from one end of a helix, as high as that end all along: what a builder means who lays it there. null: it
 * leads from one end to the other, or touches none.
 */
export function levelBeside({ track, alignment }: NetworkTrack, helix: Helix): LineLevel | null {
  const made = helix.track.alignment
  if (track.id === helix.track.track.id || !alignment.ok || alignment.isClosed || !made.ok) return null
  const isAt = (helixEndMm: number): boolean => {
    const there = pathPoseAt(made.path, helixEndMm)
    return [0, alignment.path.lengthMm].some((endMm) => {
      const here = pathPoseAt(alignment.path, endMm)
      const isInLine = Math.abs(Math.sin(there.headingRad - here.headingRad)) < contactSine
      return isInLine && Math.hypot(there.x - here.x, there.y - here.y) < contactMm
    })
  }
  const [isAtFoot, isAtHead] = [isAt(0), isAt(made.path.lengthMm)]
  if (isAtFoot === isAtHead) return null
  const levelMm = isAtFoot ? 0 : helix.levels.climbMm
  return {
    helix: helix.maker,
    apartMm: helix.level.apartMm,
    grade: 0,
    levelAt: () => levelMm,
    stationsBetween: (lowMm, highMm) => (levelMm > lowMm && levelMm < highMm ? everywhere : null),
  }
}

/** The same heights along a line on which so much lies before the track. */
export function levelFrom(level: LineLevel, beforeMm: number): LineLevel {
  if (beforeMm === 0) return level
  return {
    ...level,
    levelAt: (runMm) => level.levelAt(runMm - beforeMm),
    stationsBetween: (lowMm, highMm) => {
      const span = level.stationsBetween(lowMm, highMm)
      return span && { fromMm: span.fromMm + beforeMm, toMm: span.toMm + beforeMm }
    },
  }
}

/**
 * Stations of another line that are on one level with a place of a line; null: none is. Where heights are not known everything is.
 *
 * alongMm: so far along the line what is near in plan may lie (alongTangent), so much less apart a place still is of another level.
 */
export function stationsOnLevel(level: LineLevel | null, stationMm: number, other: LineLevel | null, alongMm: number): LevelSpan | null {
  if (level === null || other === null || level.helix !== other.helix) return everywhere
  const apartMm = level.apartMm - Math.max(level.grade, other.grade) * alongMm
  const levelMm = level.levelAt(stationMm)
  return other.stationsBetween(levelMm - apartMm, levelMm + apartMm)
}

/** Whether a place of a line lies on no level with a place of another, known to lie over or under it. */
export function isOnOtherLevel(
  level: LineLevel | null,
  stationMm: number,
  other: LineLevel | null,
  otherStationMm: number,
  alongMm: number,
): boolean {
  if (level === null || other === null || level.helix !== other.helix) return false
  const apartMm = level.apartMm - Math.max(level.grade, other.grade) * alongMm
  return Math.abs(level.levelAt(stationMm) - other.levelAt(otherStationMm)) >= apartMm
}

/**
 * How far along a curve a tangent of it is still within reach: the flat way in or out of a helix lies so far under or over a turn that is not
 * quite a whole one.
 */
export function alongTangent(reachMm: number, curvature: number): number {
  return reachMm + (curvature === 0 ? 0 : Math.sqrt((2 * reachMm) / curvature))
}
