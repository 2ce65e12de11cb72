import { classCars, classVehicles, zoneStore } from '../clearance/index.ts'
import type { ClassCars, ZoneStore } from '../clearance/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import { legPose } from '../network/index.ts'
import type { LegGuests } from '../network/index.ts'
import type { Network, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { LineClass, Plan, TurnoutLeg } from '../plan/types.ts'
import { keptFor, keptInTurn, keptOn, placesOtherwise } from '../plan/index.ts'
import { hangingCreate } from './hanging.ts'
import { lineOnward, onwardCreate, pointsOnward } from './onward.ts'
import { trackLeg, trackRun, turnoutRun } from './run.ts'
import type { Run } from './run.ts'
import { tracksAt, trackEndsCreate } from './trackEnds.ts'
import type { TrackEnds } from './trackEnds.ts'

/** Every line of a plan over which cars run. */
export interface Runs {
  /** In the order of the tracks. */
  readonly tracks: readonly TrackRun[]
  /** Routes of turnouts to legs on which no solved track hangs. */
  readonly bare: readonly Run[]
  /** The track that hangs on a leg. */
  readonly guestOf: LegGuests
  readonly endsNear: TrackEnds
}

/** A track with what it hangs on, and its run; null: it is not solved. */
export interface TrackRun extends Hang {
  readonly track: NetworkTrack
  readonly run: Run | null
}

/** The turnouts on whose legs a track starts and ends, and the poses of those legs. */
export interface Hang {
  readonly start: NetworkTurnout | null
  readonly end: NetworkTurnout | null
  readonly startLeg: Pose | null
  readonly endLeg: Pose | null
}

/** What was looked at last. */
interface Looked {
  readonly vehicles: Plan['vehicles']
  readonly ends: TrackEnds
  /** In the places of their tracks. */
  readonly runs: readonly TrackRun[]
}

const legs = ['diverging', 'other'] as const

const loose: Hang = { start: null, end: null, startLeg: null, endLeg: null }

/** A function that gives the runs of a plan: the same objects as before for all that an edit left alone. */
export function runsCreate(): (plan: Plan, network: Network) => Runs {
  const swept = zoneStore()
  const carsOf = keptOn<LineClass, ClassCars>()
  const runOfTrack = keptFor(
    (
      track: NetworkTrack,
      start: NetworkTurnout | null,
      end: NetworkTurnout | null,
      startLeg: Pose | null,
      endLeg: Pose | null,
      ofClass: ClassCars,
      before: Path | null,
      after: Path | null,
    ): TrackRun => ({ track, start, end, startLeg, endLeg, run: trackRun(track, start, end, ofClass, before, after, swept) }),
  )
  const runOfLeg = { diverging: keptInTurn(turnoutRun), other: keptInTurn(turnoutRun) }
  const onward = onwardCreate()
  const endsOf = trackEndsCreate()
  const hangingOf = hangingCreate()
  let last: Looked | null = null
  return (plan, network) => {
    const carsNow = new Map<LineClass, ClassCars>()
    const cars = (lineClass: LineClass): ClassCars => {
      const known = carsNow.get(lineClass)
      if (known !== undefined) return known
      const vehicles = classVehicles(lineClass, plan)
      const found = carsOf(lineClass, vehicles, () => classCars(vehicles))
      carsNow.set(lineClass, found)
      return found
    }
    const tracks = [...network.tracks.values()]
    const changed = last === null ? null : placesOtherwise(last.ends.tracks, tracks)
    const { places: hanging, guestOf } = hangingOf(network, tracks)
    const ends = endsOf(tracks)
    const runOf = (track: NetworkTrack, place: number): TrackRun => {
      const ofClass = cars(track.lineClass)
      const { feelMm } = ofClass
      const { start, end, startLeg, endLeg } = trackHang(track, network)
      const onwardOf = (at: 'start' | 'end', turnout: NetworkTurnout | null): Path | null =>
        turnout === null
          ? onward.ofEnd(track, at, tracksAt(tracks, ends.near(place, at)), feelMm)
          : onward.ofPoints(turnout, trackLeg(track, at), network, feelMm)
      return runOfTrack(track, start, end, startLeg, endLeg, ofClass, onwardOf('start', start), onwardOf('end', end))
    }
    const runsAnew = (before: Looked, changed: readonly number[]): readonly TrackRun[] => {
      const runs = before.runs.slice()
      // A track that hangs on nothing and ends near nothing, before and now, is made of itself alone.
      for (const place of new Set([...hanging, ...before.ends.places, ...ends.places, ...changed])) {
        const track = tracks[place]
        if (track !== undefined) runs[place] = runOf(track, place)
      }
      return runs
    }
    const runs = last === null || changed === null || last.vehicles !== plan.vehicles ? tracks.map(runOf) : runsAnew(last, changed)
    const bare: Run[] = []
    for (const turnout of network.turnouts.values()) {
      const { lineClass } = turnout
      if (lineClass === null) continue
      for (const leg of legs) {
        if (!hasLeg(turnout, leg) || guestOf(turnout.turnout.id, leg)?.alignment.ok === true) continue
        const ofClass = cars(lineClass)
        const before = onward.ofPoints(turnout, leg, network, ofClass.feelMm)
        const run = runOfLeg[leg](turnout, leg, plan.railway, ofClass, before, swept)
        if (run !== null) bare.push(run)
      }
    }
    last = { vehicles: plan.vehicles, ends, runs }
    return { guestOf, endsNear: ends, tracks: runs, bare }
  }
}

const hasLeg = ({ result }: NetworkTurnout, leg: TurnoutLeg): boolean => result.ok && result.geometry.legs.some((one) => one.leg === leg)

/** The run of a line that is in no plan: its cars come from where those of a track would. */
export function runOfTrial(
  track: NetworkTrack,
  start: NetworkTurnout | null,
  end: NetworkTurnout | null,
  { plan, network }: { readonly plan: Plan; readonly network: Network },
  swept: ZoneStore,
): Run | null {
  const { alignment } = track
  if (!alignment.ok) return null
  const cars = classCars(classVehicles(track.lineClass, plan))
  const { feelMm } = cars
  const onward = (turnout: NetworkTurnout | null, at: 'start' | 'end'): Path | null =>
    turnout === null ? lineOnward(network.tracks.values(), track, at, feelMm) : pointsOnward(turnout, trackLeg(track, at), network, feelMm)
  return trackRun(track, start, end, cars, onward(start, 'start'), onward(end, 'end'), swept)
}

/** What a track hangs on. */
export function trackHang({ track }: NetworkTrack, { turnouts }: Network): Hang {
  if (track.start.kind === 'free' && track.end.kind === 'free') return loose
  const at = (end: typeof track.start | typeof track.end): NetworkTurnout | null =>
    end.kind === 'leg' ? (turnouts.get(end.turnout) ?? null) : null
  const poseOn = (turnout: NetworkTurnout | null, end: typeof track.start | typeof track.end): Pose | null =>
    turnout !== null && end.kind === 'leg' ? legPose(turnout.result, end.leg) : null
  const [start, end] = [at(track.start), at(track.end)]
  return { start, end, startLeg: poseOn(start, track.start), endLeg: poseOn(end, track.end) }
}
