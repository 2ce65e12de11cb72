import { pathNearest, poseToLocal } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id, Track } from '../../core/plan/types.ts'
import type { Member } from '../../core/stretch/index.ts'
import { selectionMembers } from '../../store/selection.ts'
import type { Selection } from '../../store/types.ts'
import { benchworkRing, legPoseIn, trackCorner, trackHandles } from '../shared/handles.ts'
import { jointAt, jointIsStraight, jointLine, type Joint } from '../shared/joinedEnds.ts'
import type { Pick, ToolContext } from '../types.ts'
import { roomGrip, type RoomGrip } from './roomGrip.ts'
import { severalGrip, turnGrip, wholeGrip, type SeveralGrip } from './several.ts'

/** What a drag holds, with all that it was when the drag began: every move is computed from there, so nothing adds up. */
export type Grip =
  | {
      readonly kind: 'corner'
      readonly track: Id
      readonly corner: Id
      /** The track as it was. */
      readonly record: Track
      readonly at: Point
      /** Its neighbours in the polygon, to keep a tangent or to line up with. */
      readonly before: Point | null
      readonly after: Point | null
      /** The leg on whose tangent it must stay. */
      readonly bound: Pose | null
      /** Joints beside it that run straight through: they go where it leads. */
      readonly joints: readonly Joint[]
    }
  | {
      readonly kind: 'trackEnd'
      readonly track: Id
      readonly end: 'start' | 'end'
      readonly at: Point
      readonly neighbour: Point | null
      readonly bound: Pose | null
      /** What goes on from it, and comes along. */
      readonly joint: Joint | null
    }
  | {
      readonly kind: 'ringPoint'
      readonly benchwork: Id
      readonly ring: number
      readonly index: number
      readonly at: Point
      readonly before: Point
      readonly after: Point
    }
  | RoomGrip
  | SeveralGrip
  | {
      readonly kind: 'turnout'
      readonly turnout: Id
      readonly host: Id
      readonly stationMm: number
      /** Station of the host next to where the hand took hold. */
      readonly heldMm: number
    }

export function selectionOf(pick: Pick): Selection {
  switch (pick.kind) {
    case 'turnKnob':
      return { kind: 'none' }
    case 'reading':
      return { kind: 'record', table: 'readings', id: pick.reading }
    case 'guide':
      return { kind: 'record', table: 'guides', id: pick.guide }
    case 'corner':
      return { kind: 'corner', track: pick.track, corner: pick.corner }
    case 'trackEnd':
      return { kind: 'trackEnd', track: pick.track, end: pick.end }
    case 'ringPoint':
      return { kind: 'ringPoint', benchwork: pick.benchwork, ring: pick.ring, index: pick.index }
    case 'turnout':
      return { kind: 'record', table: 'turnouts', id: pick.turnout }
    case 'crossing':
      return { kind: 'record', table: 'crossings', id: pick.crossing }
    case 'track':
    case 'trackSide':
      return { kind: 'record', table: 'tracks', id: pick.track }
    case 'ringSide':
    case 'benchwork':
      return { kind: 'record', table: 'benchworks', id: pick.benchwork }
    case 'wall':
      return { kind: 'record', table: 'walls', id: pick.wall }
    case 'obstacle':
      return { kind: 'record', table: 'obstacles', id: pick.obstacle }
    case 'opening':
      return { kind: 'record', table: 'openings', id: pick.opening }
    case 'hatch':
    case 'hatchPoint':
      return { kind: 'record', table: 'hatches', id: pick.hatch }
    case 'joist':
    case 'joistEnd':
      return { kind: 'record', table: 'joists', id: pick.joist }
    case 'portal':
      return { kind: 'record', table: 'portals', id: pick.portal }
  }
}

/** The record that a pick is of; null: of none. */
export function pickMember(pick: Pick): Member | null {
  const [member] = selectionMembers(selectionOf(pick))
  return member ?? null
}

const isOf = (member: Member | null, { table, id }: Member): boolean => member?.table === table && member.id === id

function isOfSeveral(pick: Pick, { selection }: ToolContext): boolean {
  const member = selection.kind === 'several' ? pickMember(pick) : null
  return member !== null && selectionMembers(selection).some((one) => isOf(member, one))
}

/** A handle can be dragged at once; a whole thing only after it was selected, so that no board moves by a slip. */
export function pickIsGripped(pick: Pick, context: ToolContext): boolean {
  const { selection } = context
  if (isOfSeveral(pick, context)) return true
  switch (pick.kind) {
    case 'corner':
    case 'trackEnd':
    case 'ringPoint':
    case 'hatchPoint':
    case 'joistEnd':
    case 'turnKnob':
      return true
    case 'turnout':
    case 'track':
    case 'guide':
    case 'benchwork':
    case 'wall':
    case 'obstacle':
    case 'opening':
    case 'hatch':
    case 'joist':
    case 'portal':
      return selection.kind === 'record' && isOf(pickMember(pick), selection)
    case 'crossing':
    case 'trackSide':
    case 'ringSide':
    case 'reading':
      return false
  }
}

/** The grip of what was picked at a point; null when it is no longer there or cannot move. */
export function gripOf(pick: Pick, at: Point, context: ToolContext): Grip | null {
  const { plan } = context
  if (isOfSeveral(pick, context)) return severalGrip(context)
  switch (pick.kind) {
    case 'turnKnob':
      return turnGrip(at, context)
    case 'corner':
      return cornerGrip(pick.track, pick.corner, context)
    case 'trackEnd':
      return endGrip(pick.track, pick.end, context)
    case 'ringPoint': {
      const benchwork = recordFind(plan, 'benchworks', pick.benchwork)
      if (benchwork === null) return null
      const ring = benchworkRing(benchwork, pick.ring)
      const here = ring[pick.index]
      if (here === undefined) return null
      const before = ring.at(pick.index - 1) ?? here
      const after = ring[(pick.index + 1) % ring.length] ?? here
      return { kind: 'ringPoint', benchwork: pick.benchwork, ring: pick.ring, index: pick.index, at: here, before, after }
    }
    case 'benchwork':
    case 'wall':
    case 'obstacle':
    case 'track':
    case 'hatch':
    case 'joist':
    case 'guide':
    case 'reading': {
      const member = pickMember(pick)
      return member === null ? null : wholeGrip(member, context)
    }
    case 'turnout':
      return turnoutGrip(pick.turnout, at, context)
    case 'opening':
    case 'hatchPoint':
    case 'joistEnd':
    case 'portal':
      return roomGrip(pick, at, context)
    case 'crossing':
    case 'trackSide':
    case 'ringSide':
      return null
  }
}

function cornerGrip(trackId: Id, cornerId: Id, context: ToolContext): Grip | null {
  const found = trackCorner(context.plan, trackId, cornerId)
  const networkTrack = context.derived.network.tracks.get(trackId)
  if (found === null || networkTrack === undefined) return null
  const { track, index } = found
  const handles = trackHandles(networkTrack)
  const isLoop = track.end.kind === 'closed'
  const count = track.corners.length
  const at = handles.corners[index] ?? track.corners[index]
  if (at === undefined) return null
  const before = handles.corners[index - 1] ?? (isLoop ? handles.corners.at(-1) : handles.start) ?? null
  const after = handles.corners[index + 1] ?? (isLoop ? handles.corners[0] : handles.end) ?? null
  const bound = index === 0 && track.start.kind === 'leg' ? legPoseIn(context.derived, track.start.turnout, track.start.leg) : null
  const boundEnd = index === count - 1 && track.end.kind === 'leg' ? legPoseIn(context.derived, track.end.turnout, track.end.leg) : null
  const beside = [...(index === 0 ? (['start'] as const) : []), ...(index === count - 1 ? (['end'] as const) : [])]
  const joints = beside.flatMap((end) => jointAt(context.derived.network, trackId, end) ?? []).filter(jointIsStraight)
  // A straight from a leg does not turn: what goes on from it stays on its line.
  const boundBeyond = joints.find(({ other }) => other.bound !== null)?.other.bound ?? null
  return {
    kind: 'corner',
    track: trackId,
    corner: cornerId,
    record: track,
    at: { x: at.x, y: at.y },
    before,
    after,
    bound: bound ?? boundEnd ?? boundBeyond,
    joints,
  }
}

function endGrip(trackId: Id, end: 'start' | 'end', context: ToolContext): Grip | null {
  const networkTrack = context.derived.network.tracks.get(trackId)
  if (networkTrack === undefined) return null
  const handles = trackHandles(networkTrack)
  const at = end === 'start' ? handles.start : handles.end
  if (at === null) return null
  const corner = end === 'start' ? handles.corners[0] : handles.corners.at(-1)
  const other = end === 'start' ? handles.end : handles.start
  // Without PIs the end of a line from a leg lies on that leg's tangent.
  const far = end === 'start' ? networkTrack.track.end : networkTrack.track.start
  const bound = corner === undefined && far.kind === 'leg' ? legPoseIn(context.derived, far.turnout, far.leg) : null
  const joint = jointAt(context.derived.network, trackId, end)
  return {
    kind: 'trackEnd',
    track: trackId,
    end,
    at: { x: at.x, y: at.y },
    neighbour: corner ?? other,
    bound: bound ?? (joint === null ? null : jointLine(joint)),
    joint,
  }
}

function turnoutGrip(id: Id, at: Point, context: ToolContext): Grip | null {
  const turnout = recordFind(context.plan, 'turnouts', id)
  if (turnout === null) return null
  const host = context.derived.network.tracks.get(turnout.track)
  if (host === undefined || !host.alignment.ok) return null
  const heldMm = pathNearest(host.alignment.path, at).stationMm
  return { kind: 'turnout', turnout: id, host: turnout.track, stationMm: turnout.stationMm, heldMm }
}

/** How far along a heading a step goes; for nudging a turnout along its host. */
export function alongHeading(headingRad: number, step: Point): number {
  return poseToLocal({ x: 0, y: 0, headingRad }, step).x
}
