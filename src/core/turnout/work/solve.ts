import { pathPoseAt, pathSlice } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import type { TurnoutGap, TurnoutRail } from '../types.ts'
import { railClear } from './clear.ts'
import { checkRail, elbowPoint, elbowRail } from './elbow.ts'
import { isLine, lineMeetings, meetingFromToe, meetingReverse } from './meetings.ts'
import type { Meeting } from './meetings.ts'
import { pointRailLay } from './pointRail.ts'
import { railOf, railReverse } from './railOf.ts'
import { runsOn } from './runOn.ts'
import type { RunsOn } from './runOn.ts'
import { lineReverse } from './side.ts'
import { steepChecks, steepLeast, steepRad, steepRails } from './steep.ts'
import type { GaugeLine, PointRail, SpecialWork, WorkFrog, WorkRequest } from './types.ts'
import { abreastOf, guardRail, pointOfFrog, wingRail } from './vee.ts'
import type { WingRunOn } from './vee.ts'

/** A frog on a line, with the stretch of the line that its rails take. */
interface FrogStretch {
  readonly meeting: Meeting
  readonly fromMm: number
  readonly toMm: number
}

/**
 * Rails, frogs and gaps from gauge lines.
 *
 * Every line is a rail along its whole length; where it begins or ends as a point it is planed to lie against its neighbour; where
 * another line crosses it, it is cut as lineMeetings says, and gets a wing and a guard rail (vee) or a corner with a check
 * rail (elbow). Two frogs that want the same stretch of a line share it.
 *
 * Units:      mm, rad. Lines of one turnout or crossing, all in the direction of the first route.
 * Outcome:    rails in the order of the lines, then guard and check rails; guards cut where other wheels run.
 * Exactness:  every face on its gauge line to 1e-7 mm; bends and flares apart.
 * Throws:     never for lines that cross at less than a right angle. Source: derived; flares and cover name theirs.
 */
export function specialWork(request: WorkRequest): SpecialWork {
  const { pieces, frogs, gaps } = workPieces(request)
  return { rails: pieces.map(({ rail }) => rail), frogs, gaps: gaps.map(({ gap }) => gap) }
}

/** A rail of special work with what it belongs to. */
export interface WorkPiece {
  readonly rail: TurnoutRail
  readonly line: GaugeLine
  /** Null: points, and what lies between frogs. */
  readonly frog: WorkFrog | null
  /** Frogs before it on its line. */
  readonly behindFrogs: number
  /** Frogs of other works that a wing goes on to guard, with the line that is guarded. */
  readonly guards: readonly { readonly frog: WorkFrog; readonly line: GaugeLine }[]
}

export interface WorkPieces {
  readonly pieces: readonly WorkPiece[]
  readonly frogs: readonly WorkFrog[]
  readonly gaps: readonly { readonly gap: TurnoutGap; readonly frog: WorkFrog; readonly line: GaugeLine }[]
}

/** The same as specialWork, each rail and each gap with what it belongs to. */
export function workPieces(request: WorkRequest): WorkPieces {
  const { lines, measures } = request
  const meetings = lineMeetings(lines, measures, request.gaugeMm)
  const shared = runsOn(meetings, request)
  const rails: WorkPiece[] = []
  const guards: WorkPiece[] = []
  const gaps: WorkPieces['gaps'][number][] = []
  const unguarded = new Map<WorkFrog, number>()
  /** Elbows whose check rail has no room, as where the rails of a slip pass: nothing holds a wheel all over their gap. */
  const bare = new Set<WorkFrog>()
  const isAlone = meetings.length === 2
  const stretches = new Map(lines.map((line) => [line, frogStretches(line, meetings, request)]))
  for (const [line, frogs] of stretches) {
    rails.push(...lineRails(line, frogs, stretches, shared, request))
    gaps.push(...lineGaps(line, frogs))
    const guardPiece = (rail: TurnoutRail, frog: WorkFrog | null): WorkPiece => ({ rail, line, frog, behindFrogs: 0, guards: [] })
    const steep = meetings.filter((meeting) => meeting.line.route === line.route && meeting.line.of === line.of && isSteep(meeting))
    if (steep.length > 0) {
      const checks = steepChecks(line, steep, lines, measures, request.gaugeMm)
      guards.push(...checks.map((rail) => guardPiece(rail, steep[0]?.frog ?? null)))
    }
    for (const { meeting } of frogs) {
      if (isSteep(meeting) || shared.guarded.has(meeting)) continue
      for (const guard of meetingGuards(meeting, request)) {
        // Beside the only frog there is nothing else that a guard could stand in the way of.
        const clear = isAlone ? { rail: guard.rail, lostMm: 0 } : railClear(guard.rail, guard.keyMm, lines, measures, request.gaugeMm)
        if (clear.rail) guards.push(guardPiece(clear.rail, meeting.frog))
        else if (meeting.frog.kind === 'elbow') bare.add(meeting.frog)
        if (clear.lostMm > 0) unguarded.set(meeting.frog, (unguarded.get(meeting.frog) ?? 0) + clear.lostMm)
      }
    }
  }
  const frogs = [...new Set(meetings.map(({ frog }) => frog))].map((frog) => {
    if (bare.has(frog)) return { ...frog, unguardedMm: measures.flangewayMm / Math.sin(frog.angleRad) }
    const lost = unguarded.get(frog) ?? 0
    return lost > 0 && frog.kind === 'vee' ? { ...frog, unguardedMm: lost } : frog
  })
  return { pieces: [...rails, ...guards], frogs, gaps }
}

/** A rail shorter than this many heads at the end of a line is no rail of its own. */
const stubHeads = 4

type Stretches = ReadonlyMap<GaugeLine, readonly FrogStretch[]>

/** Frogs of a line by station, each with toe and heel; two that reach into each other part where each keeps the same share. */
function frogStretches(line: GaugeLine, meetings: readonly Meeting[], request: WorkRequest): readonly FrogStretch[] {
  const found = frogStretchesApart(line, meetings, request)
  return found.map((stretch, i) => {
    const next = found[i + 1]
    return next && next.fromMm - stretch.toMm < (request.stubMm ?? 0) ? { ...stretch, toMm: next.fromMm } : stretch
  })
}

function frogStretchesApart(
  line: GaugeLine,
  meetings: readonly Meeting[],
  { frogLengthsOf, measures }: WorkRequest,
): readonly FrogStretch[] {
  const stubMm = stubHeads * measures.railHeadMm
  const own = meetings.filter((meeting) => meeting.line === line).toSorted((a, b) => a.stationMm - b.stationMm)
  const wanted = own.map((meeting) => {
    const { toeMm, heelMm } = frogLengthsOf(Math.abs(meeting.angleRad), meeting.frog.at)
    const leastMm = isSteep(meeting) ? steepLeast(Math.abs(meeting.angleRad), measures) : 0
    const [toe, heel] = [Math.max(toeMm, leastMm), Math.max(heelMm, leastMm)]
    const [before, behind] = meeting.interrupted === 'behind' ? [toe, heel] : [heel, toe]
    return { meeting, before, behind }
  })
  return wanted.map(({ meeting, before, behind }, i) => {
    const last = wanted[i - 1]
    const next = wanted[i + 1]
    const room = last ? meeting.stationMm - last.meeting.stationMm : meeting.stationMm
    const roomBehind = next ? next.meeting.stationMm - meeting.stationMm : line.path.lengthMm - meeting.stationMm
    const shareBefore = last ? Math.min(1, room / (before + last.behind)) : Math.min(1, room / before)
    const shareBehind = next ? Math.min(1, roomBehind / (behind + next.before)) : Math.min(1, roomBehind / behind)
    const fromMm = meeting.stationMm - before * shareBefore
    const toMm = meeting.stationMm + behind * shareBehind
    // Nobody lays a stub of rail before a frog or behind it: the frog's own rail takes it over. A frog ends where a point begins.
    return {
      meeting,
      fromMm: line.pointAtStart ? Math.max(line.pointAtStart.lengthMm, fromMm) : !last && fromMm < stubMm ? 0 : fromMm,
      toMm: line.pointAtEnd
        ? Math.min(line.path.lengthMm - line.pointAtEnd.lengthMm, toMm)
        : !next && line.path.lengthMm - toMm < stubMm
          ? line.path.lengthMm
          : toMm,
    }
  })
}

/** The rails of one line from its start to its end. */
function lineRails(
  line: GaugeLine,
  frogs: readonly FrogStretch[],
  stretches: Stretches,
  { wings }: RunsOn,
  request: WorkRequest,
): WorkPiece[] {
  const { measures } = request
  const { path, pointAtStart, pointAtEnd } = line
  const rails: WorkPiece[] = []
  const between = (rail: TurnoutRail, behindFrogs: number): void => {
    rails.push({ rail, line, frog: null, behindFrogs, guards: [] })
  }
  const againstOf = (point: PointRail): Path => (request.lines.find((other) => isLine(other, point.against)) ?? line).path
  const plainPart = pointAtStart || pointAtEnd ? 'closure' : 'stock'
  const plain = (part: 'stock' | 'closure', fromMm: number, toMm: number, behindFrogs: number): void => {
    if (toMm - fromMm > shortestMm) between(railOf(measures, part, line, pathSlice(path, fromMm, toMm), line.side), behindFrogs)
  }
  let at = 0
  if (pointAtStart) {
    between(pointRailLay(line, pointAtStart, againstOf(pointAtStart), measures), 0)
    at = Math.min(pointAtStart.lengthMm, path.lengthMm)
  }
  const end = pointAtEnd ? Math.max(at, path.lengthMm - pointAtEnd.lengthMm) : path.lengthMm
  frogs.forEach((stretch, i) => {
    const { meeting, toMm } = stretch
    const fromMm = Math.max(at, stretch.fromMm)
    plain(i === 0 ? plainPart : 'closure', at, fromMm, i)
    const beyond = stretches.get(meeting.other)?.find((other) => other.meeting.frog === meeting.frog)
    const { runOn = null, guards = [] } = wings.get(meeting) ?? {}
    for (const rail of frogRails({ meeting, fromMm, toMm }, beyond ?? stretch, runOn, measures)) {
      rails.push({ rail, line, frog: meeting.frog, behindFrogs: i, guards: rail.role.startsWith('wing') ? guards : [] })
    }
    at = toMm
  })
  plain(plainPart, at, end, frogs.length)
  if (pointAtEnd) {
    const reversed = lineReverse(line)
    between(pointRailLay(reversed, pointAtEnd, againstOf(pointAtEnd), measures), frogs.length)
  }
  return rails
}

function isSteep({ angleRad }: Meeting): boolean {
  return Math.abs(angleRad) > steepRad
}

/** A rail shorter than this is nothing: rounding of stations. */
const shortestMm = 1e-6

/**
 * The two rails that a line has in a frog, in the order of the line. An elbow's bent rail is told by the line that enters it; it ends
 * where the stretch of the line that leaves it does.
 */
function frogRails(
  { meeting, fromMm, toMm }: FrogStretch,
  other: FrogStretch,
  runOn: WingRunOn | null,
  measures: WorkRequest['measures'],
): TurnoutRail[] {
  if (isSteep(meeting)) return steepRails(meeting, fromMm, toMm, measures)
  const whole = (rail: TurnoutRail | null): TurnoutRail[] => (rail ? [rail] : [])
  const back = meetingReverse(meeting)
  const length = meeting.line.path.lengthMm
  const isBehind = meeting.interrupted === 'behind'
  if (meeting.frog.kind === 'vee') {
    return isBehind
      ? [wingRail(meeting, fromMm, measures, runOn), ...whole(pointOfFrog(meeting, toMm, measures))]
      : [...whole(pointOfFrog(back, length - fromMm, measures)), railReverse(wingRail(back, length - toMm, measures, runOn))]
  }
  // What follows on the line that leaves an elbow is its bent rail, told by the line that enters.
  if (isBehind) return whole(elbowPoint(back, length - fromMm, measures))
  return [elbowRail(meeting, fromMm, other.toMm, measures), ...whole(elbowPoint(meeting, toMm, measures))]
}

interface Guard {
  readonly rail: TurnoutRail
  /** The station that must stay guarded. */
  readonly keyMm: number
}

/** What holds a wheel in a frog: a guard rail for each gauge that runs on a vee's line, one check rail for an elbow. */
function meetingGuards(meeting: Meeting, { measures, gaugeMm }: WorkRequest): readonly Guard[] {
  const guardOf = (rail: TurnoutRail): Guard => ({ rail, keyMm: abreastOf(rail, meeting) })
  if (meeting.frog.kind === 'elbow') return meeting.interrupted === 'behind' ? [] : [guardOf(checkRail(meeting, measures, gaugeMm))]
  const seen = meetingFromToe(meeting)
  return (meeting.line.gaugesMm ?? [gaugeMm]).map((ownMm) => {
    const rail = guardRail(seen, { ...measures, checkGaugeMm: measures.checkGaugeMm - (gaugeMm - ownMm) }, ownMm)
    return guardOf(seen === meeting ? rail : railReverse(rail))
  })
}

/** A gap at each end of a frog where the line goes on: the frog stands alone. */
function lineGaps(line: GaugeLine, frogs: readonly FrogStretch[]): WorkPieces['gaps'] {
  return frogs.flatMap(({ meeting, fromMm, toMm }) =>
    [fromMm, toMm].map((station, i) => {
      const { x, y } = pathPoseAt(line.path, station)
      const isToe = (meeting.interrupted === 'behind') === (i === 0)
      const gap: TurnoutGap = { at: { x, y }, rail: `${isToe ? 'closure' : 'frog'}-${line.route}` }
      return { gap, frog: meeting.frog, line }
    }),
  )
}
