import { pathNearest, pointDistance } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id, TurnoutLeg } from '../../core/plan/types.ts'
import { legPoseIn } from '../shared/handles.ts'
import { jointFollows, jointMove, type Joint } from '../shared/joinedEnds.ts'
import { pickToleranceMm } from '../shared/pick.ts'
import { snapBest, wholeOf, wholeStepMm, type SnapLine } from '../shared/snap.ts'
import { targetEdges, targetGuides, targetParallels, targetPoints, type TargetWish } from '../shared/targets.ts'
import type { Hint, Modifiers, Snap, ToolContext } from '../types.ts'
import { cornerLaidDown } from '../track/shallow.ts'
import type { Grip } from './grip.ts'
import { roomSlide } from './roomGrip.ts'
import { severalMoved, severalTurned, turnOf, type SeveralMove } from './several.ts'
import { turnoutSlide } from './slide.ts'

/** A move as a command on the plan as it was when the drag began, or why this cannot be moved. */
export type Move =
  | { readonly ok: true; readonly command: PlanCommand; readonly snap: Snap | null }
  | { readonly ok: false; readonly hint: Hint }

const tied: Move = { ok: false, hint: { kind: 'trackTied' } }
const moves = (command: PlanCommand, snap: Snap | null = null): Move => ({ ok: true, command, snap })

/** The command of a drag from where the hand took hold to where it is now. */
export function gripMove(grip: Grip, from: Point, to: Point, modifiers: Modifiers, context: ToolContext): Move {
  const moved = (at: Point): Point => ({ x: at.x + to.x - from.x, y: at.y + to.y - from.y })
  switch (grip.kind) {
    case 'corner': {
      const lines = tangentLines(grip.at, [grip.before, grip.after])
      const lineUp = [grip.before, grip.after].filter((point) => point !== null)
      const wish: TargetWish = { legs: false, tracks: true, benchwork: false, walls: false, exceptTrack: grip.track }
      const { point, snap } = snapped(context, moved(grip.at), modifiers, wish, lines, lineUp, grip.bound, null)
      const { record, corner } = grip
      const lineClass = recordFind(context.plan, 'lineClasses', record.lineClass)
      const legPoseOf = (turnout: Id, leg: TurnoutLeg): Pose | null => legPoseIn(context.derived, turnout, leg)
      const change = lineClass === null ? point : cornerLaidDown(record, corner, pointOf(point), lineClass, legPoseOf)
      const set: PlanCommand = { kind: 'corner.set', track: grip.track, corner, change }
      if (grip.joints.length === 0) return moves(set, snap)
      const along = grip.joints.map((joint) => jointMove(joint, jointFollows(joint, point), ''))
      return moves({ kind: 'group', label: `Move a corner of ${record.name}`, commands: [set, ...along] }, snap)
    }
    case 'trackEnd': {
      const lines = tangentLines(grip.at, [grip.neighbour])
      const lineUp = grip.neighbour === null ? [] : [grip.neighbour]
      const wish: TargetWish = { legs: grip.joint === null, tracks: true, benchwork: false, walls: false, exceptTrack: grip.track }
      const { point, snap } = snapped(context, moved(grip.at), modifiers, wish, lines, lineUp, grip.bound, null)
      if (grip.joint !== null) return moves(jointMove(grip.joint, point, `Move the joint of ${jointNames(grip.joint, context)}`), snap)
      const place = snap?.leg
        ? ({ kind: 'leg', turnout: snap.leg.turnout, leg: snap.leg.leg } as const)
        : ({ kind: 'free', ...point } as const)
      return {
        ok: true,
        command:
          grip.end === 'start'
            ? { kind: 'track.setStart', id: grip.track, start: place }
            : { kind: 'track.setEnd', id: grip.track, end: place },
        snap,
      }
    }
    case 'ringPoint': {
      const lines = tangentLines(grip.at, [grip.before, grip.after])
      const wish: TargetWish = { legs: false, tracks: false, benchwork: true, walls: true, exceptBenchwork: grip.benchwork }
      const { point, snap } = snapped(
        context,
        moved(grip.at),
        modifiers,
        wish,
        lines,
        [grip.before, grip.after],
        null,
        wholeStepMm(context.pxPerMm, context.units),
      )
      return { ok: true, command: { kind: 'benchwork.movePoint', id: grip.benchwork, ring: grip.ring, index: grip.index, to: point }, snap }
    }
    case 'turnout': {
      const host = context.derived.network.tracks.get(grip.host)
      if (host === undefined || !host.alignment.ok) return tied
      const station = grip.stationMm + pathNearest(host.alignment.path, to).stationMm - grip.heldMm
      const { stationMm, snap } = turnoutSlide(grip.turnout, host, station, modifiers, context)
      return { ok: true, command: { kind: 'turnout.set', id: grip.turnout, change: { stationMm } }, snap }
    }
    case 'joistEnd': {
      const wish: TargetWish = { legs: false, tracks: false, benchwork: true, walls: true, exceptJoist: grip.record.id }
      const whole = wholeStepMm(context.pxPerMm, context.units)
      const lines = tangentLines(grip.at, [grip.other])
      const { point, snap } = snapped(context, moved(grip.at), modifiers, wish, lines, [grip.other], null, whole)
      return { ok: true, command: { kind: 'joist.set', id: grip.record.id, change: { [grip.end]: pointOf(point) } }, snap }
    }
    case 'hatchPoint': {
      const wish: TargetWish = { legs: false, tracks: false, benchwork: true, walls: false }
      const whole = wholeStepMm(context.pxPerMm, context.units)
      const beside = [grip.before, grip.after]
      const { point, snap } = snapped(context, moved(grip.at), modifiers, wish, tangentLines(grip.at, beside), beside, null, whole)
      const outline = grip.record.outline.with(grip.index, pointOf(point))
      return { ok: true, command: { kind: 'hatch.set', id: grip.record.id, change: { outline } }, snap }
    }
    case 'opening':
    case 'portal': {
      const command = roomSlide(grip, to, modifiers.alt ? null : wholeStepMm(context.pxPerMm, context.units), context)
      return command === null ? tied : moves(command)
    }
    case 'several':
      return unsnapped(severalMoved(grip, wholeStep({ x: to.x - from.x, y: to.y - from.y }, modifiers, context)))
    case 'turn':
      return unsnapped(severalTurned(grip, grip.about, turnOf(grip, to, modifiers)))
  }
}

function jointNames({ track, met }: Joint, { plan }: ToolContext): string {
  return [track, met.track].map((id) => recordFind(plan, 'tracks', id)?.name ?? id).join(' and ')
}

const unsnapped = (move: SeveralMove): Move => (move.ok ? moves(move.command) : move)

function pointOf({ x, y }: Point): Point {
  return { x, y }
}

/** Whole things move by whole steps, with Shift along one axis only. */
function wholeStep(step: Point, modifiers: Modifiers, context: ToolContext): Point {
  const isAcross = Math.abs(step.x) >= Math.abs(step.y)
  const held = modifiers.shift ? { x: isAcross ? step.x : 0, y: isAcross ? 0 : step.y } : step
  const whole = modifiers.alt ? null : wholeStepMm(context.pxPerMm, context.units)
  if (whole === null) return held
  return { x: wholeOf(held.x, whole), y: wholeOf(held.y, whole) }
}

/** The sides that meet in a point, as lines on which it may slide: so a neighbour's tangent keeps its direction. */
function tangentLines(at: Point, neighbours: readonly (Point | null)[]): readonly SnapLine[] {
  return neighbours.flatMap((neighbour): readonly SnapLine[] => {
    if (neighbour === null || pointDistance(neighbour, at) === 0) return []
    const headingRad = Math.atan2(at.y - neighbour.y, at.x - neighbour.x)
    return [{ kind: 'tangent', pose: { x: neighbour.x, y: neighbour.y, headingRad }, isRay: true }]
  })
}

function snapped(
  context: ToolContext,
  at: Point,
  modifiers: Modifiers,
  wish: TargetWish,
  lines: readonly SnapLine[],
  lineUp: readonly Point[],
  bound: Pose | null,
  /** Boards are cut to whole measures; a line goes where it must, smoothly. */
  wholeMm: number | null,
): ReturnType<typeof snapBest> {
  return snapBest({
    at,
    toleranceMm: pickToleranceMm(context),
    modifiers,
    points: targetPoints(context, wish, at),
    edges: targetEdges(context, wish),
    lines: [...lines, ...targetGuides(context), ...targetParallels(context, wish, at)],
    from: null,
    lineUp,
    wholeMm,
    bound,
  })
}
