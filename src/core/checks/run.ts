import { evenReach, lineReach, routeToLeg } from '../clearance/index.ts'
import type { ClassCars, LineReach, ZoneStore } from '../clearance/index.ts'
import { pathBox, pathMove, pathPoseAt, pathReverse, pathSlice, pathStart, pathsJoined, poseReverse } from '../geom/index.ts'
import type { Box, Path } from '../geom/types.ts'
import type { LineLevel } from '../levels/index.ts'
import { mostKinkRad } from '../network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, LineClass, Railway, Track, TurnoutLeg, Vehicle } from '../plan/types.ts'
import { late, roadbedHalfMm } from '../plan/index.ts'
import { pathPieces } from './pieces.ts'
import type { Piece } from './pieces.ts'

/** A turnout at an end of a run: on which track it sits and how long its diverging route is. */
export interface RunTurnout {
  readonly turnout: Id
  readonly host: Id
  readonly routeMm: number
}

/** A stretch of stations. */
export interface Span {
  readonly fromMm: number
  readonly toMm: number
}

/**
 * One line over which a train runs: a track with the diverging routes of the turnouts at its ends, from PS to PS; or the
 * diverging route of a turnout on whose leg no track hangs yet. So the rules look at every centreline once.
 */
export interface Run {
  readonly table: 'tracks' | 'turnouts'
  readonly record: Id
  /** What its findings are told apart by: a turnout with two legs has a run for each. */
  readonly key: string
  readonly path: Path
  readonly isClosed: boolean
  readonly startTurnout: RunTurnout | null
  readonly endTurnout: RunTurnout | null
  /** Station of the record at a station of the run. */
  readonly stationAt: (runMm: number) => number
  readonly lineClass: LineClass
  readonly railway: Railway
  readonly car: Vehicle | null
  /** All that runs here, as far as it is known. */
  readonly vehicles: readonly Vehicle[]
  /** The line with what cars come from at both ends, and how much of it lies before the run. */
  readonly whole: () => WholeLine
  /** Whether it is known what runs here; else half the class's track centres stand for it. */
  readonly hasCars: boolean
  /** What is asked between what runs here and what runs beside it, mm. */
  readonly clearanceMm: number
  /** How far the cars of the class reach to both sides, at stations of the run. */
  readonly reach: LineReach
  readonly box: Box
  /** Half of its roadbed's width at the foot, mm; 0: it has none. */
  readonly roadbedMm: number
  /** As far as its cars ask for room, or its roadbed lies, mm: what is farther from it than both such reaches is nothing to it. */
  readonly nearMm: number
  /** The run in pieces with their boxes. */
  readonly pieces: () => readonly Piece[]
  /** Largest curvature either way, 1/mm. */
  readonly mostCurvature: number
  /** Heights along the run; null: nothing is known, as of all that has nothing to do with a helix. */
  readonly level: LineLevel | null
}

export interface WholeLine {
  readonly path: Path
  readonly beforeMm: number
}

interface Onward {
  readonly cars: ClassCars
  /** What cars come from: before the run, and behind it run backwards; each towards the run, in the frame of its end. null: nothing. */
  readonly before: Path | null
  readonly after: Path | null
  readonly swept: ZoneStore
}

function runOf(
  parts: Pick<
    Run,
    'table' | 'record' | 'key' | 'path' | 'isClosed' | 'startTurnout' | 'endTurnout' | 'stationAt' | 'lineClass' | 'railway'
  >,
  onward: Onward,
): Run {
  let mostCurvature = 0
  for (const { k0, k1 } of parts.path.elements) mostCurvature = Math.max(mostCurvature, Math.abs(k0), Math.abs(k1))
  const { car, vehicles, bodies } = onward.cars
  const { roadbed } = parts.lineClass
  const roadbedMm = roadbed === null ? 0 : roadbedHalfMm(roadbed, 0)
  const clearanceMm = parts.railway.runningClearanceMm
  let joined: WholeLine | null = null
  const whole = (): WholeLine => (joined ??= wholeLine(parts, onward))
  const reach = reachOf(parts, onward, whole)
  return {
    ...parts,
    car,
    vehicles,
    whole,
    hasCars: bodies.length > 0,
    clearanceMm,
    reach,
    box: pathBox(parts.path, 0),
    roadbedMm,
    nearMm: Math.max(reach.mostMm + clearanceMm / 2, roadbedMm),
    pieces: late(() => pathPieces(parts.path, mostCurvature)),
    mostCurvature,
    level: null,
  }
}

function wholeLine({ path, isClosed }: Pick<Run, 'path' | 'isClosed'>, { before: ahead, after: behind, cars }: Onward): WholeLine {
  const overMm = Math.min(path.lengthMm, 2 * cars.feelMm)
  const before = isClosed ? pathSlice(path, path.lengthMm - overMm, path.lengthMm) : ahead && pathMove(ahead, pathStart(path))
  const after = isClosed ? pathSlice(path, 0, overMm) : behind && pathReverse(pathMove(behind, poseReverse(path.end)))
  return { path: pathsJoined([before, path, after].filter((part) => part !== null)), beforeMm: before?.lengthMm ?? 0 }
}

/** The reach at stations of the run, of cars that may stand half before or behind it. */
function reachOf({ lineClass, railway }: Pick<Run, 'lineClass' | 'railway'>, onward: Onward, whole: () => WholeLine): LineReach {
  const { bodies } = onward.cars
  if (bodies.length === 0) return evenReach(Math.max(0, (lineClass.trackCentresMm - railway.runningClearanceMm) / 2))
  const { path, beforeMm } = whole()
  const { sidesAt, sideAt, mostAt, mostMm, halfMm } = lineReach(path, bodies, onward.swept)
  return {
    sidesAt: (runMm) => sidesAt(runMm + beforeMm),
    sideAt: (runMm, side) => sideAt(runMm + beforeMm, side),
    mostAt: (runMm) => mostAt(runMm + beforeMm),
    mostMm,
    halfMm,
  }
}

/** The leg on which a track starts or ends, if it does on one. */
export function trackLeg({ track }: NetworkTrack, at: 'start' | 'end'): TurnoutLeg {
  const end: Track['start'] | Track['end'] = track[at]
  return end.kind === 'leg' ? end.leg : 'diverging'
}

/** The run of a solved track; null as long as the track is not solved. The turnouts are those on whose legs it starts and ends. */
export function trackRun(
  networkTrack: NetworkTrack,
  start: NetworkTurnout | null,
  end: NetworkTurnout | null,
  cars: ClassCars,
  before: Path | null,
  after: Path | null,
  swept: ZoneStore,
): Run | null {
  const { track, alignment, lineClass, railway } = networkTrack
  if (!alignment.ok) return null
  const lead = start === null ? null : routeToLeg(start, trackLeg(networkTrack, 'start'))
  const tail = end === null ? null : routeToLeg(end, trackLeg(networkTrack, 'end'))
  const leadMm = lead?.lengthMm ?? 0
  const { lengthMm } = alignment.path
  const path = pathsJoined([...(lead === null ? [] : [lead]), alignment.path, ...(tail === null ? [] : [pathReverse(tail)])])
  const parts = {
    table: 'tracks' as const,
    record: track.id,
    key: track.id,
    path,
    isClosed: alignment.isClosed,
    startTurnout: start === null || lead === null ? null : { turnout: start.turnout.id, host: start.turnout.track, routeMm: leadMm },
    endTurnout: end === null || tail === null ? null : { turnout: end.turnout.id, host: end.turnout.track, routeMm: tail.lengthMm },
    stationAt: (runMm: number) => Math.min(Math.max(runMm - leadMm, 0), lengthMm),
    lineClass,
    railway,
  }
  return runOf(parts, { cars, before, after, swept })
}

/** The run of a turnout's route to a leg on which no track hangs; null as long as the turnout is not placed, or has no such leg. */
export function turnoutRun(
  networkTurnout: NetworkTurnout,
  leg: TurnoutLeg,
  railway: Railway,
  cars: ClassCars,
  before: Path | null,
  swept: ZoneStore,
): Run | null {
  const { turnout, lineClass } = networkTurnout
  const path = routeToLeg(networkTurnout, leg)
  if (path === null || lineClass === null) return null
  const parts = {
    table: 'turnouts' as const,
    record: turnout.id,
    key: leg === 'diverging' ? turnout.id : `${turnout.id}.${leg}`,
    path,
    isClosed: false,
    startTurnout: { turnout: turnout.id, host: turnout.track, routeMm: path.lengthMm },
    endTurnout: null,
    stationAt: () => turnout.stationMm,
    lineClass,
    railway,
  }
  return runOf(parts, { cars, before, after: null, swept })
}

/** Ends of two tracks this near and this much in line are one line that goes on under another name. */
const CONTACT_MM = 1
const CONTACT_SINE = 0.02

/** The end of the other run that this end goes on into, if with a kink: its station, 0 or the whole length; null: none. */
export function runEndTouched(run: Run, endMm: number, other: Run): number | null {
  const here = pathPoseAt(run.path, endMm)
  for (const otherEndMm of [0, other.path.lengthMm]) {
    const there = pathPoseAt(other.path, otherEndMm)
    const turn = there.headingRad - here.headingRad
    const isSameWay = (endMm === 0) !== (otherEndMm === 0)
    const isInLine = Math.abs(Math.sin(turn)) < CONTACT_SINE || (isSameWay ? 1 : -1) * Math.cos(turn) >= Math.cos(mostKinkRad)
    if (isInLine && Math.hypot(there.x - here.x, there.y - here.y) < CONTACT_MM) return otherEndMm
  }
  return null
}
