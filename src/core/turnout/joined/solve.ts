import { pathMove, pathStart, pointRotate, poseToLocal } from '../../geom/index.ts'
import type { Point, Pose } from '../../geom/types.ts'
import { frogLengths } from '../crossing/lines.ts'
import type { CrossingGeometry, CrossingProblem, CrossingRequest } from '../crossing/types.ts'
import { partOf } from '../dimensions/faces.ts'
import { frogLengthsAt } from '../frog.ts'
import { frogLengthsLeast } from '../requestCheck.ts'
import { gapsBetweenTies } from '../ties/gapBays.ts'
import type { RailPart, RouteName, TurnoutGap, TurnoutGeometry, TurnoutRail, WorkFrog } from '../types.ts'
import { lineMeetings } from '../work/meetings.ts'
import type { Meeting } from '../work/meetings.ts'
import { railReverse } from '../work/railOf.ts'
import { workPieces } from '../work/solve.ts'
import type { WorkPiece, WorkPieces } from '../work/solve.ts'
import type { GaugeLine, WorkRequest } from '../work/types.ts'
import { memberLines, membersOf, ofCrossing, trackLines } from './lines.ts'
import type { Member } from './lines.ts'
import type { JoinRequest, JoinResult } from './types.ts'

/** A frog of a work alone lies this near to the same in the joined one, mm. */
const samePlaceMm = 1e-3

/** A rail that lies on no more than two ties cannot be held: it is part of its neighbour. Common practice, no source. */
const stubSpacings = 2

/** Whether a turnout can be built in one with a crossing: its rails follow from its lines, to the same measures. */
export function canJoin(
  {
    gaugeMm,
    flangewayMm,
    checkGaugeMm,
    railHeadMm,
    railFootMm,
  }: Pick<CrossingRequest, 'gaugeMm' | 'flangewayMm' | 'checkGaugeMm' | 'railHeadMm' | 'railFootMm'>,
  { lines, request }: TurnoutGeometry,
): boolean {
  return (
    lines !== null &&
    request.gaugeMm === gaugeMm &&
    request.flangewayMm === flangewayMm &&
    request.checkGaugeMm === checkGaugeMm &&
    request.railHeadMm === railHeadMm &&
    request.railFootMm === railFootMm
  )
}

/**
 * A crossing and the turnouts into which it reaches, built in one: all gauge lines are laid out together, and every rail is cut where the flanges
 * of any route pass. So it is with a scissors at usual centres, whose diamond lies between the frogs of its turnouts.
 *
 * Every frog stays with the turnout or crossing that it is of, and so do the rails that it asks for; where a wing goes on as the guard rail of
 * another's frog, the rail is told to that other one too, under `beside`. Ties stay as they are.
 *
 * Units:      mm, rad; frame of the crossing.
 * Domain:     turnouts for which canJoin, on the tracks of the crossing.
 * Exactness:  as specialWork. Outcome: all of them anew, or what has no room. Never throws.
 */
export function worksJoin(request: JoinRequest): JoinResult {
  const { crossing } = request
  const members = membersOf(request)
  const work = workOf(crossing, members)
  const { measures, gaugeMm } = work
  const tight = railsTooNear(lineMeetings(work.lines, measures, gaugeMm), work)
  if (tight !== null) return { ok: false, problem: tight }
  const pieces = workPieces(work)
  const before = [crossing, ...members.map(({ arm }) => arm.geometry)].flatMap(({ frogs }) => frogs)
  const lost = Math.max(0, ...pieces.frogs.filter(({ kind }) => kind === 'vee').map(({ unguardedMm }) => unguardedMm))
  if (lost > Math.max(0, ...before.filter(({ kind }) => kind === 'vee').map(({ unguardedMm }) => unguardedMm)))
    return { ok: false, problem: { kind: 'frogsTooNear', what: 'guard', shortByMm: lost } }

  const placed = pieces.pieces.map((piece) => ({ piece, owner: ownerOf(piece, pieces, members) }))
  // Where a frog begins where another one ends there is one cut for both: the first one's.
  const cut: Point[] = []
  const partsOf = (member: Member | null): Pick<CrossingGeometry, 'rails' | 'gaps' | 'beside'> => {
    const of = member?.of ?? ofCrossing
    const { ties } = member?.arm.geometry ?? crossing
    const rails = placed.filter(({ owner }) => owner === of).map(({ piece }) => railFor(member, piece, ownPart(member, piece)))
    const own = pieces.gaps.filter(
      ({ gap, frog }) => frogOwner(frog, members) === of && !cut.some(({ x, y }) => Math.hypot(x - gap.at.x, y - gap.at.y) < samePlaceMm),
    )
    cut.push(...own.map(({ gap }) => gap.at))
    return {
      rails,
      gaps: gapsBetweenTies(
        own.map((gap) => gapFor(member, gap)),
        rails,
        ties,
      ),
      beside: placed.flatMap(({ piece, owner }) => (owner === of ? [] : besideOf(member, piece, members))),
    }
  }
  const turnouts = [1, 2, 3, 4].map((of) => {
    const member = members.find((one) => one.of === of)
    return member === undefined ? null : { ...member.arm.geometry, ...partsOf(member) }
  })
  const unguarded = (frog: WorkFrog): WorkFrog => {
    const found = pieces.frogs.find(({ at }) => Math.hypot(at.x - frog.at.x, at.y - frog.at.y) < samePlaceMm)
    return found === undefined || found.unguardedMm === frog.unguardedMm ? frog : { ...frog, unguardedMm: found.unguardedMm }
  }
  const frogs = crossing.request.elbow === 'movable' ? crossing.frogs : crossing.frogs.map(unguarded)
  return {
    ok: true,
    crossing: {
      ...crossing,
      ...partsOf(null),
      frogs,
      unguardedMm: Math.max(0, ...frogs.filter(({ kind }) => kind === 'elbow').map(({ unguardedMm }) => unguardedMm)),
    },
    turnouts,
  }
}

function workOf(crossing: CrossingGeometry, members: readonly Member[]): WorkRequest {
  const { request, extents } = crossing
  const { gaugeMm } = request
  return {
    lines: [
      ...trackLines('straight', request.first, extents.first, members, gaugeMm),
      ...trackLines('other', request.second, extents.second, members, gaugeMm),
      ...members.flatMap((member) => memberLines(member).filter(({ of }) => of === member.of)),
    ],
    measures: request,
    gaugeMm,
    stubMm: stubSpacings * request.tieSpacingMm,
    frogLengthsOf: (angleRad, at) => {
      const member = members.find(({ arm }) => hasFrogAt(arm.geometry.frogs, poseToLocal(arm.pose, at)))
      if (member === undefined) return frogLengths(request, angleRad)
      const { geometry } = member.arm
      return frogLengthsAt(geometry.request, geometry.frogAngleRad, angleRad)
    },
  }
}

function hasFrogAt(frogs: readonly WorkFrog[], { x, y }: Point): boolean {
  return frogs.some(({ at }) => Math.hypot(at.x - x, at.y - y) < samePlaceMm)
}

/** Two frogs on one line of which each needs more of it than there is between them. */
function railsTooNear(meetings: readonly Meeting[], { lines, measures }: WorkRequest): CrossingProblem | null {
  let worst = 0
  for (const line of lines) {
    const own = meetings.filter((meeting) => meeting.line === line).toSorted((a, b) => a.stationMm - b.stationMm)
    own.slice(1).forEach((next, i) => {
      const last = own[i] ?? next
      const [behind, ahead] = [reachOf(last, measures), reachOf(next, measures)]
      worst = Math.max(worst, behind.aheadMm + ahead.behindMm - (next.stationMm - last.stationMm))
    })
  }
  return worst > 0 ? { kind: 'frogsTooNear', what: 'rails', shortByMm: worst } : null
}

function reachOf(
  { frog, interrupted }: Meeting,
  measures: WorkRequest['measures'],
): { readonly behindMm: number; readonly aheadMm: number } {
  const { toeMm, heelMm } = frogLengthsLeast(frog.angleRad, measures)
  return interrupted === 'behind' ? { behindMm: toeMm, aheadMm: heelMm } : { behindMm: heelMm, aheadMm: toeMm }
}

function frogOwner({ at }: WorkFrog, members: readonly Member[]): number {
  return members.find(({ arm }) => hasFrogAt(arm.geometry.frogs, poseToLocal(arm.pose, at)))?.of ?? ofCrossing
}

/** Rails of a frog go with it; what lies before the first frog of a crossing's track and behind the last is the turnout's at that end. */
function ownerOf({ line, frog, behindFrogs }: WorkPiece, { pieces }: WorkPieces, members: readonly Member[]): number {
  if (frog !== null) return frogOwner(frog, members)
  if (line.of !== ofCrossing) return line.of ?? ofCrossing
  const last = Math.max(...pieces.filter((piece) => piece.line === line && piece.frog !== null).map((piece) => piece.behindFrogs + 1))
  const at = (isEnd: boolean): number => members.find((one) => one.track === line.route && one.isEnd === isEnd)?.of ?? ofCrossing
  return behindFrogs === 0 ? at(false) : behindFrogs === last ? at(true) : ofCrossing
}

/** Part of a rail to its owner: what reaches from a turnout's front to the first frog without points is a stock rail, wherever its line ends. */
function ownPart(member: Member | null, { rail, line, frog, behindFrogs }: WorkPiece): RailPart {
  const part = partOf(rail)
  if (part !== 'closure' || frog !== null || member === null || line.of !== ofCrossing) return part
  const hasPoint = (behindFrogs === 0 ? line.pointAtStart : line.pointAtEnd) !== null
  return hasPoint ? part : 'stock'
}

function routeFor(member: Member | null, { of, route }: Pick<GaugeLine, 'of' | 'route'>): RouteName | null {
  if (member === null) return of === ofCrossing ? route : null
  return of === ofCrossing ? (route === member.track ? member.route : null) : of === member.of ? route : null
}

/** A rail as the turnout or the crossing has it: in its own frame, under its own name, along its own direction; thin ends stay first. */
function railFor(member: Member | null, { rail, line }: Pick<WorkPiece, 'rail' | 'line'>, part: RailPart): TurnoutRail {
  const route = routeFor(member, line) ?? line.route
  const named: TurnoutRail = { ...rail, role: `${part}-${route}` }
  if (member === null) return named
  const moved = { ...named, gaugeLine: pathMove(named.gaugeLine, frameIn(member.arm.pose)) }
  return moved.headTaper === undefined && Math.cos(pathStart(moved.gaugeLine).headingRad) < 0 ? railReverse(moved) : moved
}

function gapFor(member: Member | null, { gap, line }: WorkPieces['gaps'][number]): TurnoutGap {
  const part = gap.rail.slice(0, gap.rail.indexOf('-')) as RailPart
  const rail = `${part}-${routeFor(member, line) ?? line.route}` as const
  return { at: member === null ? gap.at : poseToLocal(member.arm.pose, gap.at), rail }
}

/** What another's rail is to this one: a running rail of one of its routes, or what guards one of its frogs; else nothing. */
function besideOf(member: Member | null, piece: WorkPiece, members: readonly Member[]): readonly TurnoutRail[] {
  const of = member?.of ?? ofCrossing
  const part = partOf(piece.rail)
  const guarded = piece.guards.filter(({ frog }) => frogOwner(frog, members) === of)
  if (guarded.length > 0) return guarded.map(({ line }) => railFor(member, { rail: piece.rail, line }, 'guard'))
  if (part === 'wing' || part === 'guard' || part === 'check' || routeFor(member, piece.line) === null) return []
  return [railFor(member, piece, 'closure')]
}

/** The frame of what a pose was told in, as seen from that pose. */
function frameIn(pose: Pose): Pose {
  const { x, y } = pointRotate({ x: -pose.x, y: -pose.y }, -pose.headingRad)
  return { x, y, headingRad: -pose.headingRad }
}
