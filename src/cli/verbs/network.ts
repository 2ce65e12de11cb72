import { carsOnRoom, foulingPoints, standingCreate, standingLength } from '../../core/clearance/index.ts'
import type { FoulingPoint, Standing, StandingBound } from '../../core/clearance/index.ts'
import { legGuests, networkCreateDeriver } from '../../core/network/index.ts'
import type { Network } from '../../core/network/index.ts'
import type { Plan, Vehicle } from '../../core/plan/types.ts'
import { recordName, upperFirst } from '../../words/names.ts'
import { columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { planFromFile } from '../planFile.ts'
import { trackChosen } from '../records.ts'

export const networkSpec: VerbSpec = {
  name: 'network',
  about: 'what hangs on which leg, where the fouling points are, and how many cars stand between them',
  operand: 'PLAN',
  options: { track: { value: 'main', about: 'name or id of the track; all when left out' } },
  example: 'waybench network plan.json --track main',
}

export function networkRun(args: Args): Answer {
  const plan = planFromFile(args.operand ?? '')
  const network = networkCreateDeriver()(plan)
  const typed = args.values.get('track')
  const tracks = typed === undefined ? Object.keys(plan.tracks) : [trackChosen(plan, typed).id]
  const standingOn = standingCreate(network)
  const told = tracks.map((track) => ({ track, standings: standingOn(track) }))
  const points = told.flatMap(({ standings }) => foulingPoints(network, standings))
  const routes = routesOf(network)
  return {
    json: {
      routes,
      foulingPoints: points.map(({ track, stationMm, bound, x, y }) => ({ track, stationMm, bound, xMm: x, yMm: y })),
      clear: told.flatMap(({ standings }) => standings.map((standing) => standingJson(standing, plan))),
      unsolved: tracks.filter((track) => network.tracks.get(track)?.alignment.ok !== true),
    },
    text: [routesText(routes, plan), clearText(told, plan), pointsText(points, plan)].filter((part) => part !== '').join('\n\n'),
    exitCode: 0,
    files: [],
  }
}

interface RouteTold {
  readonly turnout: string
  readonly host: string
  readonly stationMm: number
  readonly legs: readonly { readonly leg: string; readonly track: string | null }[]
}

/** Each turnout with the tracks that hang on its legs. */
function routesOf(network: Network): readonly RouteTold[] {
  const guestOf = legGuests(network)
  return [...network.turnouts.values()].map(({ turnout, result }) => ({
    turnout: turnout.id,
    host: turnout.track,
    stationMm: turnout.stationMm,
    legs: (result.ok ? result.legs : []).map(({ leg }) => ({ leg, track: guestOf(turnout.id, leg)?.track.id ?? null })),
  }))
}

function carsOf(track: string, plan: Plan): readonly Vehicle[] {
  const lineClass = plan.lineClasses[plan.tracks[track]?.lineClass ?? '']
  return (lineClass?.cars ?? []).flatMap((id) => plan.vehicles[id] ?? [])
}

function standingJson(standing: Standing, plan: Plan): object {
  const { track, fromMm, toMm, from, to } = standing
  const lengthMm = standingLength(standing)
  const capacity = carsOf(track, plan).map(({ id, name, overCouplersMm }) => ({
    vehicle: id,
    name,
    cars: carsOnRoom(lengthMm, overCouplersMm),
  }))
  return { track, fromMm, toMm, lengthMm, from, to, capacity }
}

function boundText(bound: StandingBound, plan: Plan): string {
  if (bound.kind === 'end') return bound.record === undefined ? 'its end' : `the end of ${recordName(plan, 'tracks', bound.record)}`
  return recordName(plan, bound.kind === 'track' ? 'tracks' : 'turnouts', bound.record)
}

function routesText(routes: readonly RouteTold[], plan: Plan): string {
  if (routes.length === 0) return ''
  return columns([
    ['Turnout', 'on', 'at station mm', 'leg', 'leads to'],
    ...routes.flatMap(({ turnout, host, stationMm, legs }) =>
      legs.map(({ leg, track }) => [
        recordName(plan, 'turnouts', turnout),
        recordName(plan, 'tracks', host),
        stationMm.toFixed(1),
        leg,
        track === null ? 'nothing yet' : recordName(plan, 'tracks', track),
      ]),
    ),
  ])
}

function clearText(told: readonly { readonly track: string; readonly standings: readonly Standing[] }[], plan: Plan): string {
  const rows = told.flatMap(({ track, standings }) =>
    standings.map((standing) => [
      upperFirst(recordName(plan, 'tracks', track)),
      standing.fromMm.toFixed(1),
      standing.toMm.toFixed(1),
      lengthBoth(standingLength(standing)),
      `${boundText(standing.from, plan)} to ${boundText(standing.to, plan)}`,
      carsOf(track, plan)
        .map(({ name, overCouplersMm }) => `${carsOnRoom(standingLength(standing), overCouplersMm)} x ${name}`)
        .join(', '),
    ]),
  )
  return rows.length === 0 ? '' : columns([['Clear on', 'from mm', 'to mm', 'length', 'between', 'holds'], ...rows])
}

function pointsText(points: readonly FoulingPoint[], plan: Plan): string {
  if (points.length === 0) return ''
  const rows = points.map(({ track, stationMm, bound, x, y }) => [
    recordName(plan, 'tracks', track),
    boundText(bound, plan),
    stationMm.toFixed(1),
    x.toFixed(1),
    y.toFixed(1),
  ])
  return columns([['Fouling point on', 'for', 'station mm', 'x mm', 'y mm'], ...rows])
}
