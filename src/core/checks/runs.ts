import { classCars, classVehicles, zoneStore } from '../clearance/index.ts'
import type { ClassCars, ZoneStore } from '../clearance/index.ts'
import type { Path, Point } from '../geom/types.ts'
import { legGuests } from '../network/index.ts'
import type { LegGuests } from '../network/index.ts'
import type { Network, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { LineClass, Plan, TurnoutLeg } from '../plan/types.ts'
import { keptFor, keptOn } from '../plan/index.ts'
import { lineOnward, onwardCreate, pointsOnward } from './onward.ts'
import { trackLeg, trackRun, turnoutRun } from './run.ts'
import type { Run } from './run.ts'

/** Every line of a plan over which cars run. */
export interface Runs {
  /** In the order of the tracks; those that are not solved have none. */
  readonly tracks: readonly { readonly run: Run; readonly track: NetworkTrack }[]
  /** Routes of turnouts to legs on which no solved track hangs. */
  readonly bare: readonly Run[]
  /** The track that hangs on a leg. */
  readonly guestOf: LegGuests
}

/** A function that gives the runs of a plan: the same objects as before for all that an edit left alone. */
export function runsCreate(): (plan: Plan, network: Network) => Runs {
  const swept = zoneStore()
  const carsOf = keptOn<LineClass, ClassCars>()
  const runOfTrack = keptFor(trackRun)
  const runOfLeg = { diverging: keptFor(turnoutRun), other: keptFor(turnoutRun) }
  const onward = onwardCreate()
  const endsOf = trackEndsCreate()
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
    const guestOf = legGuests(network)
    const ends = endsOf(tracks)
    return {
      guestOf,
      tracks: tracks.flatMap((track) => {
        const ofClass = cars(track.lineClass)
        const { feelMm } = ofClass
        const [start, end] = legTurnouts(track, network)
        const onwardOf = (at: 'start' | 'end', turnout: NetworkTurnout | null): Path | null =>
          turnout === null ? onward.ofEnd(track, at, ends, feelMm) : onward.ofPoints(turnout, trackLeg(track, at), network, feelMm)
        const [before, after] = [onwardOf('start', start), onwardOf('end', end)]
        const run = runOfTrack(track, start, end, ofClass, before, after, swept)
        return run === null ? [] : [{ run, track }]
      }),
      bare: [...network.turnouts.values()].flatMap((turnout) => {
        const { lineClass } = turnout
        if (lineClass === null) return []
        return (['diverging', 'other'] as const).flatMap((leg) => {
          if (!hasLeg(turnout, leg) || guestOf(turnout.turnout.id, leg)?.alignment.ok === true) return []
          const ofClass = cars(lineClass)
          const before = onward.ofPoints(turnout, leg, network, ofClass.feelMm)
          const run = runOfLeg[leg](turnout, leg, plan.railway, ofClass, before, swept)
          return run === null ? [] : [run]
        })
      }),
    }
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

/** The turnouts on whose legs a track starts and ends. */
export function legTurnouts({ track }: NetworkTrack, network: Network): readonly [NetworkTurnout | null, NetworkTurnout | null] {
  const at = (end: typeof track.start | typeof track.end): NetworkTurnout | null =>
    end.kind === 'leg' ? (network.turnouts.get(end.turnout) ?? null) : null
  return [at(track.start), at(track.end)]
}

/** The tracks that end near an end of a track, itself among them. */
export type TrackEnds = (track: NetworkTrack, at: 'start' | 'end') => readonly NetworkTrack[]

/** Wider than what counts as touching, so that no neighbour is farther away than the next square. */
const SQUARE_MM = 4
/** More squares than any room is long. */
const COLUMN = 2 ** 26

const squareOf = (x: number, y: number): number => Math.floor(x / SQUARE_MM) * COLUMN + Math.floor(y / SQUARE_MM)

interface EndSquares {
  readonly own: number
  /** Those within half a square. */
  readonly near: readonly number[]
}

const noEnds: readonly NetworkTrack[] = []

function squaresAt({ x, y }: Point): EndSquares {
  const half = SQUARE_MM / 2
  const corners = [squareOf(x - half, y - half), squareOf(x + half, y - half), squareOf(x - half, y + half), squareOf(x + half, y + half)]
  return { own: squareOf(x, y), near: [...new Set(corners)] }
}

/** Ends of solved, open tracks by squares in which they lie. */
function trackEndsCreate(): (tracks: readonly NetworkTrack[]) => TrackEnds {
  const squaresOf = keptFor(({ alignment }: NetworkTrack): Readonly<Record<'start' | 'end', EndSquares>> | null => {
    if (!alignment.ok || alignment.isClosed) return null
    const { elements, end } = alignment.path
    return { start: squaresAt(elements[0]?.start ?? end), end: squaresAt(end) }
  })
  return (tracks) => {
    const bySquare = new Map<number, NetworkTrack[]>()
    for (const track of tracks) {
      const squares = squaresOf(track)
      if (squares === null) continue
      for (const { own } of [squares.start, squares.end]) {
        const list = bySquare.get(own)
        if (list === undefined) bySquare.set(own, [track])
        else list.push(track)
      }
    }
    return (track, at) => {
      const squares = squaresOf(track)
      if (squares === null) return noEnds
      let found = noEnds
      for (const square of squares[at].near) {
        const there = bySquare.get(square)
        if (there !== undefined) found = found.length === 0 ? there : [...found, ...there]
      }
      return found
    }
  }
}
