import { joinSolve } from '../../core/alignment/index.ts'
import type { JoinAlternative, JoinCorner, JoinLimits, JoinStop, JoinTarget } from '../../core/alignment/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { standardBuild, turnoutPlacesOn } from '../../core/network/index.ts'
import type { TurnoutPlace } from '../../core/network/index.ts'
import type { Network } from '../../core/network/types.ts'
import { makerOf, plainKind, planNextId } from '../../core/plan/index.ts'
import type { Corner, LegEnd, LineClass, Plan, TrackEnd } from '../../core/plan/types.ts'
import type { JoinEnd } from '../desk.ts'
import { openEnds } from './joinEnds.ts'
import type { JoinTo, PosedEnd } from './joinEnds.ts'

/** A line that joins; place: where its turnout would be, when it ends on a track. */
export interface JoinLine {
  readonly line: JoinAlternative
  readonly place: TurnoutPlace | null
}

export interface JoinLines {
  readonly lines: readonly JoinLine[]
  /** What stops the lines that the class asks for; empty when one keeps all limits. */
  readonly stopped: readonly JoinStop[]
}

/** More would only be worse. */
const linesMost = 8

export function joinLimits(plan: Plan, lineClass: LineClass, tangentMm: number | null): JoinLimits {
  const longestCarMm = Object.values(plan.vehicles).reduce((most, { bodyLengthMm }) => Math.max(most, bodyLengthMm), 0)
  return {
    minRadiusMm: lineClass.minRadiusMm,
    easement: lineClass.easement,
    shortestCurveMm: 0,
    tangentBetweenMm: tangentMm ?? longestCarMm,
    isBackToBackAllowed: true,
  }
}

export function joinLines(network: Network, from: PosedEnd, to: JoinTo, limits: JoinLimits): JoinLines {
  const answers = targetsOf(network, to).map(({ target, place }) => {
    const answer = joinSolve({ start: from.pose, target, limits })
    return answer.ok
      ? { lines: answer.alternatives.map((line): JoinLine => ({ line, place })), stopped: answer.stopped }
      : { lines: [], stopped: [] }
  })
  const lines = answers
    .flatMap((answer) => answer.lines)
    .toSorted(
      (a, b) =>
        Number(b.line.meetsLimits) - Number(a.line.meetsLimits) ||
        (b.line.minRadiusMm ?? Infinity) - (a.line.minRadiusMm ?? Infinity) ||
        a.line.lengthMm - b.line.lengthMm,
    )
  const isMet = lines.some(({ line }) => line.meetsLimits)
  return { lines: lines.slice(0, linesMost), stopped: isMet ? [] : stopsLeast(answers.flatMap((answer) => answer.stopped)) }
}

/** Of several places each limit is told once, where it gives way least. */
function stopsLeast(stops: readonly JoinStop[]): readonly JoinStop[] {
  const kept = (stop: JoinStop): number => (stop.limit === 'place' ? 0 : stop.nearestMm / stop.askedMm)
  const sorted = stops.toSorted((a, b) => kept(b) - kept(a))
  return sorted.filter((stop, i) => sorted.findIndex(({ limit }) => limit === stop.limit) === i)
}

function targetsOf(network: Network, to: JoinTo): readonly { readonly target: JoinTarget; readonly place: TurnoutPlace | null }[] {
  if (to.kind !== 'onTrack') {
    const end = openEnds(network).find((one) => isSameEnd(one.end, to))
    return end === undefined ? [] : [{ target: { kind: 'pose', pose: end.pose }, place: null }]
  }
  const host = network.tracks.get(to.track)
  const places = host === undefined ? null : turnoutPlacesOn(network, host, host.lineClass.usualFrog)
  return places?.ok !== true ? [] : places.places.map((place) => ({ target: { kind: 'along', ...place }, place }))
}

export const isSameEnd = (a: JoinEnd, b: JoinTo): boolean =>
  a.kind === 'leg' ? b.kind === 'leg' && a.turnout === b.turnout : b.kind === 'trackEnd' && a.track === b.track && a.end === b.end

/** The join as one step. A free end of a track runs on; from a leg, or in another class, the line is a track of its own. */
export function joinCommand(plan: Plan, from: PosedEnd, to: JoinTo, { line, place }: JoinLine, lineClass: LineClass): PlanCommand {
  const turnout = planNextId(plan, 'turnouts')
  const placed: readonly PlanCommand[] =
    to.kind !== 'onTrack' || place === null
      ? []
      : [
          {
            kind: 'turnout.add',
            record: {
              id: turnout,
              name: `Turnout ${Object.keys(plan.turnouts).length + 1}`,
              kind: plainKind,
              track: to.track,
              stationMm: line.stationMm ?? place.fromMm,
              facing: place.facing,
              hand: place.hand,
              frog: place.frog,
              build: standardBuild,
            },
          },
        ]
  const leg = (id: string): LegEnd => ({ kind: 'leg', turnout: id, leg: 'diverging' })
  const arrives: Exclude<TrackEnd, { kind: 'closed' }> =
    to.kind === 'leg' ? leg(to.turnout) : to.kind === 'onTrack' ? leg(turnout) : { kind: 'free', x: line.end.x, y: line.end.y }
  return { kind: 'group', label: 'Join', commands: [...placed, ...lineCommands(plan, from, to, line, lineClass, arrives)] }
}

function lineCommands(
  plan: Plan,
  { end, pose }: PosedEnd,
  to: JoinTo,
  line: JoinAlternative,
  lineClass: LineClass,
  arrives: Exclude<TrackEnd, { kind: 'closed' }>,
): readonly PlanCommand[] {
  const track = end.kind === 'trackEnd' ? plan.tracks[end.track] : undefined
  const runsOn = end.kind === 'trackEnd' && track?.lineClass === lineClass.id && makerOf(plan, 'tracks', end.track) === null
  if (!runsOn || track === undefined) {
    const start =
      end.kind === 'leg'
        ? ({ kind: 'leg', turnout: end.turnout, leg: 'diverging' } as const)
        : ({ kind: 'free', x: pose.x, y: pose.y } as const)
    const name = `Track ${Object.keys(plan.tracks).length + 1}`
    const record = {
      name,
      lineClass: lineClass.id,
      start,
      corners: line.corners.map((corner) => ({ id: corner.id, ...cornerOf(corner) })),
      end: arrives,
    }
    return [{ kind: 'track.add', record }]
  }
  const id = track.id
  const closes = to.kind === 'trackEnd' && to.track === id
  if (end.end === 'end') {
    return [
      ...line.corners.map(
        (corner, i): PlanCommand => ({ kind: 'corner.insert', track: id, index: track.corners.length + i, corner: cornerOf(corner) }),
      ),
      { kind: 'track.setEnd', id, end: closes ? { kind: 'closed' } : arrives },
    ]
  }
  // Before the start the line is met the other way round, and all stations rise by its length; a loop keeps its station zero.
  const before = line.corners.map((corner): PlanCommand => {
    const { easementIn, easementOut, ...rest } = cornerOf(corner)
    return {
      kind: 'corner.insert',
      track: id,
      index: closes ? track.corners.length : 0,
      corner: { ...rest, easementIn: easementOut, easementOut: easementIn },
    }
  })
  const turnouts = Object.values(plan.turnouts).filter((turnout) => turnout.track === id)
  return [
    ...before,
    closes ? { kind: 'track.setEnd', id, end: { kind: 'closed' } } : { kind: 'track.setStart', id, start: arrives },
    ...turnouts.map(
      (turnout): PlanCommand => ({
        kind: 'turnout.set',
        id: turnout.id,
        change: { stationMm: turnout.stationMm + (closes ? 0 : line.lengthMm) },
      }),
    ),
  ]
}

function cornerOf({ x, y, radiusMm, easementInMm, easementOutMm }: JoinCorner): Omit<Corner, 'id'> {
  return { x, y, radius: radiusMm, easementIn: easementInMm, easementOut: easementOutMm }
}
