import { pathNearestWithin } from '../../core/geom/index.ts'
import type { Path, Point } from '../../core/geom/types.ts'
import { routeFrom, routePlaceAt } from '../../core/network/index.ts'
import type { Lined, Network, Route, RouteEnd, RoutePlace } from '../../core/network/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { trainStance } from '../../core/vehicles/index.ts'
import type { TrainCar, TrainStance } from '../../core/vehicles/index.ts'

/*
 * A train that a hand pushes along the line: a pure machine. It stands somewhere on a route through the points as they lie; every
 * move ends where a wheel would leave the track or a body or coupler could not follow.
 */

/** A train on the track: where its first support stands, ahead of a place on a track, and how points lie for it. */
export interface PushedTrain {
  readonly place: RoutePlace
  readonly headMm: number
  readonly lined: ReadonlyMap<Id, Lined>
  /** Why the last move went no farther. */
  readonly stop: PushStop | null
}

export type PushStop =
  | { readonly kind: 'end'; readonly end: RouteEnd }
  /** A curve that a body or a coupler cannot follow. */
  | { readonly kind: 'curve' }
  /** The points lie under the train. */
  | { readonly kind: 'occupied'; readonly turnout: Id }

export type PushMove =
  | { readonly kind: 'by'; readonly mm: number }
  | { readonly kind: 'toEnd'; readonly way: 'ahead' | 'behind' }
  /** The place of the train that was taken hold of, from its head backwards, follows the pointer. */
  | { readonly kind: 'drag'; readonly gripMm: number; readonly at: Point }
  | { readonly kind: 'throw'; readonly turnout: Id }

/** A train where it stands, with its route; headMm and tailMm along the route's path. */
export interface TrainOnRoute {
  readonly route: Route
  readonly stance: TrainStance
  readonly headMm: number
  readonly tailMm: number
}

/** No more than this at once, so that nothing is jumped over, mm. */
const stepMm = 40
/** Track in sight ahead of a train and behind it. */
const sightMm = 3000
/** The end of a move is found to this, mm. */
const endToleranceMm = 0.01
/** A loop has no end: a run to the end stops here, mm. */
const farthestMm = 12_000
/** A pointer far off the line drags no farther than this at once. */
const dragReachMm = 600

/** Length of a train on a straight. */
export function trainLength(cars: readonly TrainCar[]): number {
  return cars.reduce((sum, { overCouplersMm }) => sum + overCouplersMm, 0)
}

/** The train on its route; null where its track is not there any more, or not solved. */
export function trainOnRoute(network: Network, cars: readonly TrainCar[], train: PushedTrain): TrainOnRoute | null {
  const lengthMm = trainLength(cars)
  const route = routeFrom(network, train.place, train.lined, {
    aheadMm: Math.max(0, train.headMm) + sightMm,
    behindMm: Math.max(0, -train.headMm) + lengthMm + sightMm,
  })
  if (route === null) return null
  const headMm = route.placeMm + train.headMm
  return { route, stance: trainStance(route.path, cars, headMm), headMm, tailMm: headMm - lengthMm }
}

/** Does one move as far as it goes. The train stays where it is when it does not stand on anything. */
export function pushStep(network: Network, cars: readonly TrainCar[], train: PushedTrain, move: PushMove): PushedTrain {
  const now = trainOnRoute(network, cars, train)
  if (now === null || !now.stance.ok) return train
  switch (move.kind) {
    case 'by':
      return pushedBy(network, cars, train, move.mm)
    case 'toEnd':
      return pushedBy(network, cars, train, move.way === 'ahead' ? farthestMm : -farthestMm)
    case 'drag': {
      const gripMm = now.headMm - move.gripMm
      return pushedBy(network, cars, train, nearestAlong(now.route.path, move.at, gripMm) - gripMm)
    }
    case 'throw':
      return thrown(network, now, train, move.turnout)
  }
}

/** Which place of the train, from its head backwards, lies nearest to a pointer. */
export function gripOf({ route, headMm, tailMm }: TrainOnRoute, at: Point): number {
  const { stationMm } = pathNearestWithin(route.path, at, Math.max(0, tailMm), Math.min(route.path.lengthMm, headMm))
  return headMm - stationMm
}

/** A train whose head stands where it is wished on its track, or as near to that as it can; null where it cannot stand on it at all. */
export function trainPut(network: Network, cars: readonly TrainCar[], wanted: PushedTrain): PushedTrain | null {
  const { place, headMm } = wanted
  const alignment = network.tracks.get(place.track)?.alignment
  if (alignment?.ok !== true) return null
  const { lengthMm } = alignment.path
  const wantedMm = Math.min(Math.max(place.stationMm + (place.isRising ? headMm : -headMm), 0), lengthMm)
  for (let off = 0; off <= lengthMm; off += stepMm) {
    for (const stationMm of [wantedMm + off, wantedMm - off]) {
      if (stationMm < 0 || stationMm > lengthMm) continue
      const train: PushedTrain = { ...wanted, place: { ...place, stationMm }, headMm: 0, stop: null }
      if (trainOnRoute(network, cars, train)?.stance.ok === true) return train
    }
  }
  return null
}

function nearestAlong(path: Path, at: Point, aboutMm: number): number {
  const from = Math.max(0, aboutMm - dragReachMm)
  return pathNearestWithin(path, at, from, Math.min(path.lengthMm, aboutMm + dragReachMm)).stationMm
}

function pushedBy(network: Network, cars: readonly TrainCar[], from: PushedTrain, mm: number): PushedTrain {
  const sign = Math.sign(mm)
  let train: PushedTrain = { ...from, stop: null }
  let leftMm = Math.abs(mm)
  while (leftMm > 0) {
    const now = trainOnRoute(network, cars, train)
    if (now === null) return train
    const { route } = now
    const stands = (headMm: number): TrainStance => trainStance(route.path, cars, headMm)
    let headMm = now.headMm
    let held: Extract<TrainStance, { readonly ok: false }> | null = null
    while (leftMm > 0 && held === null) {
      const stepped = Math.min(stepMm, leftMm)
      const there = stands(headMm + sign * stepped)
      if (there.ok) {
        headMm += sign * stepped
        leftMm -= stepped
      } else held = there
    }
    const stop = held === null ? null : stopOf(route, held)
    // Only what is in sight ends there: from here it is seen farther.
    if (stop?.kind === 'end' && stop.end.kind === 'goesOn' && headMm !== now.headMm) {
      train = anchored(route, train, headMm, null)
      continue
    }
    return held === null ? anchored(route, train, headMm, null) : anchored(route, train, lastStanding(stands, headMm, sign, leftMm), stop)
  }
  return train
}

/** Between a place where it stands and one a step on where it does not, the last one where it does. */
function lastStanding(stands: (headMm: number) => TrainStance, headMm: number, sign: number, leftMm: number): number {
  let [good, bad] = [headMm, headMm + sign * Math.min(stepMm, leftMm)]
  while (Math.abs(bad - good) > endToleranceMm) {
    const middle = (good + bad) / 2
    if (stands(middle).ok) good = middle
    else bad = middle
  }
  return good
}

function stopOf(route: Route, { reason }: Extract<TrainStance, { readonly ok: false }>): PushStop {
  switch (reason) {
    case 'pathAhead':
      return { kind: 'end', end: route.ahead }
    case 'pathBehind':
      return { kind: 'end', end: route.behind }
    case 'curve':
      return { kind: 'curve' }
  }
}

/** The train's head as a place of its own on the track under it; on the way to a leg it is counted from where it was. */
function anchored(route: Route, train: PushedTrain, headMm: number, stop: PushStop | null): PushedTrain {
  const place = routePlaceAt(route, headMm)
  // The points just passed are told by the place; those under the train must go on lying as they do.
  return place === null ? { ...train, headMm: headMm - route.placeMm, stop } : { ...train, place, headMm: 0, stop }
}

function thrown(network: Network, { route, headMm, tailMm }: TrainOnRoute, train: PushedTrain, turnout: Id): PushedTrain {
  const points = route.points.find((one) => one.turnout === turnout)
  if (points === undefined) return train
  const result = network.turnouts.get(turnout)?.result
  const lengthMm = result?.ok === true ? result.geometry.overallMm : 0
  const [fromMm, toMm] = points.isFacing ? [points.atMm, points.atMm + lengthMm] : [points.atMm - lengthMm, points.atMm]
  if (headMm > fromMm && tailMm < toMm) return { ...train, stop: { kind: 'occupied', turnout } }
  const next = points.choices[(points.choices.indexOf(points.lined) + 1) % points.choices.length]
  return next === undefined ? train : { ...train, lined: new Map([...train.lined, [turnout, next]]), stop: null }
}
