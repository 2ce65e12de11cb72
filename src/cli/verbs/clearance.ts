import { benchArea } from '../../core/checks/index.ts'
import { fixedGap, sweptTrack, trackGap, trackLine, trainShapes } from '../../core/clearance/index.ts'
import type { FixedGap, SweptTrack, TrackGap } from '../../core/clearance/index.ts'
import { pathCurvatureAt, pathPoseAt } from '../../core/geom/index.ts'
import { networkCreateDeriver, type Network } from '../../core/network/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { bodiesLongest, sweepAlong } from '../../core/vehicles/index.ts'
import type { Reach, RigidBody } from '../../core/vehicles/index.ts'
import { recordName, upperFirst } from '../../words/names.ts'
import { columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { planFromFile } from '../planFile.ts'
import { trackChosen } from '../records.ts'
import { lineSolved } from '../solvedLine.ts'
import { lengthOption } from '../values.ts'
import { vehicleChosen } from '../vehicles.ts'

export const clearanceSpec: VerbSpec = {
  name: 'clearance',
  about: 'how far a vehicle reaches to both sides all along a track, and how near it comes to other tracks and to the room',
  operand: 'PLAN',
  options: {
    vehicle: { value: 'passenger-85', about: 'a car of the plan, or a kind of car or engine', isRequired: true },
    'other-vehicle': { value: 'boxcar-40', about: 'what runs on the other tracks; the same when left out' },
    track: { value: 'main', about: 'name or id of the track; all when left out' },
    every: { value: '50mm', about: 'farthest distance of the stations shown; 50 mm when left out' },
  },
  example: 'waybench clearance plan.json --vehicle passenger-85 --track main',
}

/** Edges of a band lie between stations so far apart off by their square over 8 R: 0.03 mm on the sharpest curves there are. */
const bandStepMm = 10
/** More rows than this are a slip of the pen. */
const mostStations = 100_000
/** Tracks farther off than this many widths of what is swept are not shown in the text; JSON has all. */
const widthsShown = 3

/** All that is told of one track. */
interface TrackTold {
  readonly swept: SweptTrack
  readonly rows: readonly Reach[]
  readonly worst: readonly Worst[]
  readonly others: readonly TrackGap[]
  readonly fixed: readonly FixedGap[]
}

export function clearanceRun(args: Args): Answer {
  const everyMm = lengthOption(args, 'every') ?? 50
  const plan = planFromFile(args.operand ?? '')
  const vehicle = vehicleChosen(plan, args.values.get('vehicle') ?? '', 'vehicle')
  const otherTyped = args.values.get('other-vehicle')
  const otherVehicle = otherTyped === undefined ? vehicle : vehicleChosen(plan, otherTyped, 'other-vehicle')
  const typed = args.values.get('track')
  const only = typed === undefined ? null : trackChosen(plan, typed)
  if (only !== null) lineSolved(plan, only)
  const network = networkCreateDeriver()(plan)
  const asked = only === null ? Object.keys(plan.tracks) : [only.id]
  const mine = sweptTracks(network, asked, vehicle.bodies)
  const isAll = otherVehicle === vehicle && only === null
  const others = isAll ? mine : sweptTracks(network, Object.keys(plan.tracks), otherVehicle.bodies)
  const shapes = trainShapes(plan, benchArea(plan.benchworks).rings)
  const limits = { limitMm: plan.railway.runningClearanceMm, gaugeMm: plan.railway.gaugeMm, withinMm: Infinity }
  const told = mine.map(
    (swept): TrackTold => ({
      swept,
      rows: rowsOf(swept, vehicle.bodies, everyMm, args),
      worst: worstOf(swept),
      others: others
        .filter(({ line }) => line.track !== swept.line.track)
        .map((other) => trackGap(swept, other, limits))
        .toSorted(byGap),
      fixed: shapes.map((shape) => fixedGap(swept, shape)).filter((gap) => gap !== null),
    }),
  )
  const unsolved = asked.filter((id) => mine.every(({ line }) => line.track !== id))
  return {
    json: {
      vehicle: { key: vehicle.key, name: vehicle.name, bodies: vehicle.bodies },
      otherVehicle: { key: otherVehicle.key, name: otherVehicle.name },
      runningClearanceMm: limits.limitMm,
      tracks: told.map((one) => trackJson(plan, one)),
      unsolved,
    },
    text: [
      `${vehicle.name}${isAll || otherVehicle === vehicle ? '' : `, beside it ${otherVehicle.name}`}`,
      ...told.map((one) => trackText(plan, one, only !== null)),
      ...unsolved.map((id) => `${recordName(plan, 'tracks', id)}: its line cannot be solved.`),
      `Running clearance ${lengthBoth(limits.limitMm)}. A gap below nothing is an overlap. All track is taken as level.`,
    ].join('\n\n'),
    exitCode: 0,
    files: [],
  }
}

const byGap = (a: TrackGap, b: TrackGap): number => (a.least?.gapMm ?? Infinity) - (b.least?.gapMm ?? Infinity)

function sweptTracks(network: Network, tracks: readonly string[], bodies: readonly RigidBody[]): readonly SweptTrack[] {
  return tracks.flatMap((id) => {
    const line = trackLine(network, id, 2 * bodiesLongest(bodies))
    return line === null ? [] : [sweptTrack(line, bodies, bandStepMm)]
  })
}

/** Reaches of the track itself, without the routes of its turnouts. */
function rowsOf({ line }: SweptTrack, bodies: readonly RigidBody[], everyMm: number, args: Args): readonly Reach[] {
  const { path, isClosed, startMm, endMm } = line
  if ((endMm - startMm) / everyMm > mostStations)
    throw new BadInput(`--every ${args.values.get('every')}: that gives more than ${mostStations} stations; take more.`)
  const { reaches } = sweepAlong(path, bodies, { stepMm: everyMm, isClosed, fromMm: startMm, toMm: endMm })
  return reaches.map((reach) => ({ ...reach, stationMm: reach.stationMm - startMm }))
}

interface Worst {
  readonly side: 'left' | 'right' | 'inside' | 'outside'
  readonly reachMm: number
  readonly stationMm: number
  readonly x: number
  readonly y: number
}

/** The farthest reach to each side, and to the inside and outside of curves where there are some. */
function worstOf({ line, band }: SweptTrack): readonly Worst[] {
  const best = new Map<Worst['side'], Worst>()
  for (const { stationMm, leftMm, rightMm } of band.reaches) {
    const { x, y } = pathPoseAt(line.path, stationMm)
    const take = (side: Worst['side'], reachMm: number): void => {
      if (reachMm > (best.get(side)?.reachMm ?? 0)) best.set(side, { side, reachMm, stationMm: stationMm - line.startMm, x, y })
    }
    const curvature = pathCurvatureAt(line.path, stationMm)
    if (curvature !== 0) {
      take('inside', curvature > 0 ? leftMm : rightMm)
      take('outside', curvature > 0 ? rightMm : leftMm)
    }
    take('left', leftMm)
    take('right', rightMm)
  }
  return [...best.values()]
}

function trackJson(plan: Plan, { swept, rows, worst, others, fixed }: TrackTold) {
  const { line, band } = swept
  const id = line.track
  return {
    track: id,
    name: plan.tracks[id]?.name ?? '',
    isClosed: line.isClosed,
    lengthMm: line.endMm - line.startMm,
    noRoomToStand: band.unreached.map(({ fromMm, toMm }) => ({ fromMm: fromMm - line.startMm, toMm: toMm - line.startMm })),
    worst: worst.map(({ x, y, ...rest }) => ({ ...rest, xMm: x, yMm: y })),
    stations: rows,
    others: others.map(({ other, least, meetings }) => ({
      track: other,
      name: plan.tracks[other]?.name ?? '',
      least: least && { gapMm: least.gapMm, stationMm: least.stationMm, otherStationMm: least.otherStationMm, xMm: least.x, yMm: least.y },
      meetings,
    })),
    fixed: fixed.map(({ kind, record, gapMm, stationMm, x, y }) => ({ kind, record, gapMm, stationMm, xMm: x, yMm: y })),
  }
}

function trackText(plan: Plan, { swept, rows, worst, others, fixed }: TrackTold, isOnly: boolean): string {
  const { line, band } = swept
  const station = (mm: number): string => mm.toFixed(1)
  const shownMm = widthsShown * Math.max(0, ...band.reaches.map(({ leftMm, rightMm }) => leftMm + rightMm))
  const near = others.filter(({ least, meetings }) => (least !== null && least.gapMm < shownMm) || meetings.length > 0)
  const parts = [
    `${recordName(plan, 'tracks', line.track)}: ${lengthBoth(line.endMm - line.startMm)}${line.isClosed ? ', a loop' : ''}`,
    ...band.unreached.map(
      ({ fromMm, toMm }) =>
        `It cannot stand from station ${station(fromMm - line.startMm)} to ${station(toMm - line.startMm)}: the curve is too sharp or the track too short.`,
    ),
    columns([
      ['Farthest reach', 'from the centreline', 'at station mm', 'x mm', 'y mm'],
      ...worst.map((one) => [one.side, lengthBoth(one.reachMm), station(one.stationMm), one.x.toFixed(1), one.y.toFixed(1)]),
    ]),
    columns([
      ['Nearest', 'gap', 'at station mm', 'there', 'x mm', 'y mm'],
      ...near.map(({ other, least }) => [
        recordName(plan, 'tracks', other),
        ...(least === null
          ? ['only where they meet']
          : [lengthBoth(least.gapMm), station(least.stationMm), station(least.otherStationMm), least.x.toFixed(1), least.y.toFixed(1)]),
      ]),
      ...fixed.map((gap) => [fixedName(plan, gap), lengthBoth(gap.gapMm), station(gap.stationMm), '', gap.x.toFixed(1), gap.y.toFixed(1)]),
    ]),
    ...near.flatMap(({ other, meetings }) =>
      meetings.map(
        ({ kind, fromMm, toMm }) =>
          `${kind === 'joined' ? 'Meets' : 'Crosses'} ${recordName(plan, 'tracks', other)}: fouls from station ${station(fromMm)} to ${station(toMm)}`,
      ),
    ),
  ]
  if (isOnly) {
    const reach = rows.map(({ stationMm, leftMm, rightMm }) => [station(stationMm), leftMm.toFixed(2), rightMm.toFixed(2)])
    parts.push(columns([['Station mm', 'left mm', 'right mm'], ...reach]))
  }
  return parts.join('\n')
}

function fixedName(plan: Plan, { kind, record }: FixedGap): string {
  return record === null ? 'Edge of the benchwork' : upperFirst(recordName(plan, kind, record))
}
