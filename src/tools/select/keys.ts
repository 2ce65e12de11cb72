import { editRemoveAllCommand, editRemoveCommand } from '../../core/edit/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { pathNearest, pathPoseAt, poseToPlan } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id, TurnoutLeg } from '../../core/plan/types.ts'
import type { Selection } from '../../store/types.ts'
import { jointNudge } from '../joints/jointNudge.ts'
import { selectionMembers } from '../../store/selection.ts'
import { legPoseIn, trackHandles } from '../shared/handles.ts'
import type { Hint, Modifiers, ToolContext, ToolEffect } from '../types.ts'
import { alongHeading, gripOf, type Grip } from './grip.ts'
import { gripMove } from './move.ts'
import { roomNudge } from './roomGrip.ts'
import { severalGrip, severalMoved, wholeGrip } from './several.ts'

/** What a key does to the selection while nothing is dragged: take it out, or nudge it. */
export function keyEffects(key: string, { shift, alt }: Modifiers, context: ToolContext): readonly ToolEffect[] {
  if (key === 'Delete' || key === 'Backspace') return removeEffects(context)
  const direction = arrows[key]
  if (direction === undefined) return []
  const unit = context.units === 'imperial' ? 25.4 / 16 : 1
  const step = unit * (shift ? 10 : 1)
  const flat = { x: direction.x * step, y: direction.y * step }
  const effects = nudgeEffects(alt ? alongLine(flat, context) : flat, context)
  return effects.map((effect) => (effect.kind === 'apply' ? { ...effect, isNudge: true } : effect))
}

/** A step to the right or left taken as along the selected line, one up or down as across it. */
function alongLine(step: Point, context: ToolContext): Point {
  const headingRad = selectionHeading(context)
  return headingRad === null ? step : poseToPlan({ x: 0, y: 0, headingRad }, step)
}

function selectionHeading({ selection, derived }: ToolContext): number | null {
  const id = selectionMembers(selection).find(({ table }) => table === 'tracks')?.id
  const network = id === undefined ? undefined : derived.network.tracks.get(id)
  if (network?.alignment.ok !== true) return null
  const { path } = network.alignment
  if (selection.kind === 'trackEnd') return pathPoseAt(path, selection.end === 'start' ? 0 : path.lengthMm).headingRad
  const handles = trackHandles(network)
  const corner = selection.kind === 'corner' ? network.track.corners.findIndex((one) => one.id === selection.corner) : -1
  const at = handles.corners[corner]
  return pathPoseAt(path, at === undefined ? path.lengthMm / 2 : pathNearest(path, at).stationMm).headingRad
}

const arrows: Readonly<Record<string, Point>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: 1 },
  ArrowDown: { x: 0, y: -1 },
}

function apply(command: PlanCommand): ToolEffect {
  return { kind: 'apply', command, selectAdded: false }
}

function hint(value: Hint): readonly ToolEffect[] {
  return [{ kind: 'hint', hint: value }]
}

/** Takes out what is selected; the selection goes up to what it was a part of. */
function removeEffects(context: ToolContext): readonly ToolEffect[] {
  const { plan, selection } = context
  const select = (next: Selection): ToolEffect => ({ kind: 'select', selection: next })
  switch (selection.kind) {
    case 'none':
      return []
    case 'several':
      return [apply(severalRemove(context)), select({ kind: 'none' })]
    case 'corner':
      return [
        apply({ kind: 'corner.remove', track: selection.track, corner: selection.corner }),
        select({ kind: 'record', table: 'tracks', id: selection.track }),
      ]
    case 'trackEnd':
      return endTakenBack(selection, context)
    case 'ringPoint': {
      const { benchwork: id, ring, index } = selection
      const record = recordFind(plan, 'benchworks', id)
      const isLastThree = record !== null && (ring < 0 ? record.outline : record.holes[ring])?.length === 3
      if (isLastThree && ring < 0) return hint({ kind: 'lastPoints' })
      const command: PlanCommand = isLastThree
        ? { kind: 'benchwork.removeHole', id, hole: ring }
        : { kind: 'benchwork.removePoint', id, ring, index }
      return [apply(command), select({ kind: 'record', table: 'benchworks', id })]
    }
    case 'record': {
      const poseOf = (turnout: Id, leg: TurnoutLeg): Pose | null => legPoseIn(context.derived, turnout, leg)
      if (selection.table === 'crossings' && recordFind(plan, 'crossings', selection.id) === null) return []
      return [apply(editRemoveCommand(plan, selection.table, selection.id, poseOf)), select({ kind: 'none' })]
    }
  }
}

/** Takes out all that is chosen, as one step. */
function severalRemove({ plan, selection, derived }: ToolContext): PlanCommand {
  return editRemoveAllCommand(plan, selectionMembers(selection), (turnout, leg) => legPoseIn(derived, turnout, leg))
}

/** Taking out an end shortens the line to its nearest PI. */
function endTakenBack(selection: Extract<Selection, { kind: 'trackEnd' }>, { plan }: ToolContext): readonly ToolEffect[] {
  const track = recordFind(plan, 'tracks', selection.track)
  const corner = selection.end === 'start' ? track?.corners[0] : track?.corners.at(-1)
  if (track === null || corner === undefined) return hint({ kind: 'lastPoints' })
  const place = { kind: 'free', x: corner.x, y: corner.y } as const
  const set: PlanCommand =
    selection.end === 'start' ? { kind: 'track.setStart', id: track.id, start: place } : { kind: 'track.setEnd', id: track.id, end: place }
  return [
    apply({
      kind: 'group',
      label: `Shorten ${track.name}`,
      commands: [{ kind: 'corner.remove', track: track.id, corner: corner.id }, set],
    }),
  ]
}

function nudgeEffects(step: Point, context: ToolContext): readonly ToolEffect[] {
  const { selection, plan, derived } = context
  if (selection.kind === 'record' && selection.table === 'railJoints') {
    const command = jointNudge(selection.id, step, plan, derived.network)
    return command === null ? [] : [apply(command)]
  }
  const grip = selectionGrip(context)
  if (grip === null) return []
  switch (grip.kind) {
    case 'corner':
    case 'trackEnd':
    case 'ringPoint':
    case 'joistEnd':
    case 'hatchPoint': {
      const to = { x: grip.at.x + step.x, y: grip.at.y + step.y }
      const move = gripMove(grip, grip.at, to, { shift: false, alt: true }, context)
      return move.ok ? [apply(move.command)] : hint(move.hint)
    }
    case 'several': {
      const move = severalMoved(grip, step)
      return move.ok ? [apply(move.command)] : hint(move.hint)
    }
    case 'turn':
      return []
    case 'turnout': {
      const host = context.derived.network.tracks.get(grip.host)
      if (host === undefined || !host.alignment.ok) return []
      const { path } = host.alignment
      const along = alongHeading(pathPoseAt(path, Math.min(Math.max(grip.stationMm, 0), path.lengthMm)).headingRad, step)
      return [
        apply({
          kind: 'turnout.set',
          id: grip.turnout,
          change: { stationMm: Math.min(Math.max(grip.stationMm + along, 0), path.lengthMm) },
        }),
      ]
    }
    case 'opening':
    case 'portal': {
      const command = roomNudge(grip, step, context)
      return command === null ? [] : [apply(command)]
    }
  }
}

/** The grip of what is selected, as if it had been taken hold of. */
export function selectionGrip(context: ToolContext): Grip | null {
  const { selection } = context
  const at = { x: 0, y: 0 }
  switch (selection.kind) {
    case 'none':
      return null
    case 'several':
      return severalGrip(context)
    case 'corner':
      return gripOf({ kind: 'corner', track: selection.track, corner: selection.corner, index: 0, at }, at, context)
    case 'trackEnd':
      return gripOf({ kind: 'trackEnd', track: selection.track, end: selection.end, at }, at, context)
    case 'ringPoint':
      return gripOf({ kind: 'ringPoint', benchwork: selection.benchwork, ring: selection.ring, index: selection.index, at }, at, context)
    case 'record':
      return recordGrip(selection.table, selection.id, at, context)
  }
}

function recordGrip(table: Extract<Selection, { kind: 'record' }>['table'], id: string, at: Point, context: ToolContext): Grip | null {
  switch (table) {
    case 'benchworks':
    case 'walls':
    case 'obstacles':
    case 'tracks':
    case 'hatches':
    case 'joists':
    case 'guides':
    case 'readings':
      return wholeGrip({ table, id }, context)
    case 'turnouts':
      return gripOf({ kind: 'turnout', turnout: id, at }, at, context)
    case 'openings':
      return gripOf({ kind: 'opening', opening: id, at }, at, context)
    case 'portals':
      return gripOf({ kind: 'portal', portal: id, at }, at, context)
    case 'materials':
    case 'stocks':
    case 'railJoints':
    case 'ticks':
    case 'underlays':
    case 'locks':
    case 'lineClasses':
    case 'vehicles':
    case 'crossings':
    case 'makers':
    case 'silences':
      return null
  }
}
