import { pathBox, pathMove, pathReverse } from '../geom/index.ts'
import type { Box, Path, PathElement } from '../geom/types.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, LineClass, Railway, Vehicle } from '../plan/types.ts'
import { swing } from '../vehicles/index.ts'

/** A turnout at an end of a run: on which track it sits and how long its diverging route is. */
export interface RunTurnout {
  readonly turnout: Id
  readonly host: Id
  readonly routeMm: number
}

/**
 * One line over which a train runs: a track with the diverging routes of the turnouts at its ends, from PS to PS; or the
 * diverging route of a turnout on whose leg no track hangs yet. So the rules look at every centreline once.
 */
export interface Run {
  readonly table: 'tracks' | 'turnouts'
  readonly record: Id
  readonly path: Path
  readonly isClosed: boolean
  readonly startTurnout: RunTurnout | null
  readonly endTurnout: RunTurnout | null
  /** Station of the record at a station of the run. */
  readonly stationAt: (runMm: number) => number
  readonly lineClass: LineClass
  readonly railway: Railway
  readonly car: Vehicle | null
  readonly box: Box
  /** Largest curvature either way, 1/mm. */
  readonly mostCurvature: number
}

/** Paths laid end to end; each ends where the next one starts. */
function pathsJoined(paths: readonly Path[]): Path {
  const elements: PathElement[] = []
  let startMm = 0
  for (const path of paths) {
    for (const element of path.elements) elements.push({ ...element, startStationMm: startMm + element.startStationMm })
    startMm += path.lengthMm
  }
  const end = paths.at(-1)?.end ?? { x: 0, y: 0, headingRad: 0 }
  return { elements, lengthMm: startMm, end }
}

/** A car that can stand on a curve at all; one whose sizes contradict each other counts as none. */
function carUsable(car: Vehicle | null): Vehicle | null {
  return car !== null && swing(WIDE_MM, car).ok ? car : null
}

/** So wide a curve that only the car's own sizes can be at fault. */
const WIDE_MM = 1e9

function runOf(
  parts: Pick<
    Run,
    'table' | 'record' | 'path' | 'isClosed' | 'startTurnout' | 'endTurnout' | 'stationAt' | 'lineClass' | 'railway' | 'car'
  >,
): Run {
  let mostCurvature = 0
  for (const { k0, k1 } of parts.path.elements) mostCurvature = Math.max(mostCurvature, Math.abs(k0), Math.abs(k1))
  return { ...parts, car: carUsable(parts.car), box: pathBox(parts.path, 0), mostCurvature }
}

/** The diverging route of a placed turnout in the plan, from PS to the leg. */
function divergingPath({ result }: NetworkTurnout): Path | null {
  return result.ok ? pathMove(result.geometry.divergingRoute, result.pose) : null
}

/** The run of a solved track; null as long as the track is not solved. The turnouts are those on whose legs it starts and ends. */
export function trackRun(
  networkTrack: NetworkTrack,
  start: NetworkTurnout | null,
  end: NetworkTurnout | null,
  car: Vehicle | null,
): Run | null {
  const { track, alignment, lineClass, railway } = networkTrack
  if (!alignment.ok) return null
  const lead = start === null ? null : divergingPath(start)
  const tail = end === null ? null : divergingPath(end)
  const leadMm = lead?.lengthMm ?? 0
  const { lengthMm } = alignment.path
  const path = pathsJoined([...(lead === null ? [] : [lead]), alignment.path, ...(tail === null ? [] : [pathReverse(tail)])])
  return runOf({
    table: 'tracks',
    record: track.id,
    path,
    isClosed: alignment.isClosed,
    startTurnout: start === null || lead === null ? null : { turnout: start.turnout.id, host: start.turnout.track, routeMm: leadMm },
    endTurnout: end === null || tail === null ? null : { turnout: end.turnout.id, host: end.turnout.track, routeMm: tail.lengthMm },
    stationAt: (runMm) => Math.min(Math.max(runMm - leadMm, 0), lengthMm),
    lineClass,
    railway,
    car,
  })
}

/** The run of a turnout's diverging route where no track hangs on its leg; null as long as the turnout is not placed. */
export function turnoutRun(networkTurnout: NetworkTurnout, railway: Railway, car: Vehicle | null): Run | null {
  const { turnout, lineClass } = networkTurnout
  const path = divergingPath(networkTurnout)
  if (path === null || lineClass === null) return null
  return runOf({
    table: 'turnouts',
    record: turnout.id,
    path,
    isClosed: false,
    startTurnout: { turnout: turnout.id, host: turnout.track, routeMm: path.lengthMm },
    endTurnout: null,
    stationAt: () => turnout.stationMm,
    lineClass,
    railway,
    car,
  })
}
