import type { PlanCommand } from '../../core/edit/types.ts'
import { boxOfPoints, boxUnion, pathBox, pathNearest } from '../../core/geom/index.ts'
import type { Box, Point } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id, Plan, TableName } from '../../core/plan/types.ts'
import { motionShift, motionTurn, readingsAlong, stretchMove, stretchPoints, type Member } from '../../core/stretch/index.ts'
import { selectionMembers, selectionOfMembers } from '../../store/selection.ts'
import type { Selection } from '../../store/types.ts'
import { membersName } from '../../words/names.ts'
import { inSight } from '../shared/inSight.ts'
import type { Hint, Modifiers, ToolContext } from '../types.ts'

/* Several records in the hand as one piece. */

/** What a drag of several holds. The plan is the one from when it began. */
export type SeveralGrip =
  | { readonly kind: 'several'; readonly plan: Plan; readonly members: readonly Member[] }
  | {
      readonly kind: 'turn'
      readonly plan: Plan
      readonly members: readonly Member[]
      readonly about: Point
      /** Of the hand from the pivot, where it took hold. */
      readonly fromRad: number
    }

/** Above the frame of what was chosen, px: far enough for a finger. */
const knobPx = 34
/** Turning by hand goes in steps, rad; with Alt it does not. */
const turnStepRad = Math.PI / 36

/** The frame around several chosen records; null: not several, or nothing of them lies anywhere. */
export function severalFrame({ selection, plan, derived }: Pick<ToolContext, 'selection' | 'plan' | 'derived'>): Box | null {
  if (selection.kind !== 'several') return null
  const boxes = selection.members.flatMap(({ table, id }): readonly Box[] => {
    const alignment = table === 'tracks' ? derived.network.tracks.get(id)?.alignment : undefined
    const box = alignment?.ok === true ? pathBox(alignment.path, 0) : boxOfPoints(stretchPoints(plan, [{ table, id }]))
    return box === null ? [] : [box]
  })
  const [first, ...rest] = boxes
  return first === undefined ? null : rest.reduce(boxUnion, first)
}

export function frameMiddle({ minX, minY, maxX, maxY }: Box): Point {
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 }
}

/** Where the knob is by which several are turned. */
export function turnKnobAt(context: Pick<ToolContext, 'selection' | 'plan' | 'derived' | 'pxPerMm'>): Point | null {
  const frame = severalFrame(context)
  return frame === null ? null : { x: frameMiddle(frame).x, y: frame.maxY + knobPx / context.pxPerMm }
}

export function turnGrip(at: Point, context: ToolContext): SeveralGrip | null {
  const frame = severalFrame(context)
  if (frame === null) return null
  const about = frameMiddle(frame)
  const fromRad = Math.atan2(at.y - about.y, at.x - about.x)
  return { kind: 'turn', plan: context.plan, members: withReadings(selectionMembers(context.selection), context), about, fromRad }
}

export function severalGrip(context: ToolContext): SeveralGrip {
  return { kind: 'several', plan: context.plan, members: withReadings(selectionMembers(context.selection), context) }
}

/** One thing is moved as several are, with all that hangs on it; null: it is not there. */
export function wholeGrip(member: Member, context: ToolContext): SeveralGrip | null {
  if (recordFind<TableName>(context.plan, member.table, member.id) === null) return null
  return { kind: 'several', plan: context.plan, members: withReadings([member], context) }
}

/** With what was measured on them. */
export function withReadings(members: readonly Member[], { plan, derived }: Pick<ToolContext, 'plan' | 'derived'>): readonly Member[] {
  const offTrackMm = (track: Id, point: Point): number => {
    const alignment = derived.network.tracks.get(track)?.alignment
    return alignment?.ok === true ? pathNearest(alignment.path, point).distanceMm : Infinity
  }
  const along = readingsAlong(plan, members, offTrackMm)
  return [...members, ...along.filter(({ id }) => !members.some((member) => member.table === 'readings' && member.id === id))]
}

export type SeveralMove = { readonly ok: true; readonly command: PlanCommand } | { readonly ok: false; readonly hint: Hint }

export function severalMoved({ plan, members }: SeveralGrip, step: Point): SeveralMove {
  return asCommand(stretchMove(plan, members, motionShift(step)), `Move ${membersName(plan, members)}`)
}

export function severalTurned({ plan, members }: SeveralGrip, about: Point, turnRad: number): SeveralMove {
  return asCommand(stretchMove(plan, members, motionTurn(about, turnRad)), `Turn ${membersName(plan, members)}`)
}

/** How far the hand has turned about the pivot, in whole steps. */
export function turnOf(grip: Extract<SeveralGrip, { kind: 'turn' }>, to: Point, modifiers: Modifiers): number {
  const turned = Math.atan2(to.y - grip.about.y, to.x - grip.about.x) - grip.fromRad
  return modifiers.alt ? turned : Math.round(turned / turnStepRad) * turnStepRad
}

function asCommand(result: ReturnType<typeof stretchMove>, label: string): SeveralMove {
  if (!result.ok) return { ok: false, hint: { kind: 'stretch', problem: result.problem } }
  return { ok: true, command: { kind: 'group', label, commands: result.commands } }
}

/** What lies wholly within a frame: tracks, and where there are none the things of the room. */
export function boxSelection(from: Point, to: Point, context: ToolContext): Selection {
  const { plan, derived } = inSight(context)
  const frame: Box = {
    minX: Math.min(from.x, to.x),
    minY: Math.min(from.y, to.y),
    maxX: Math.max(from.x, to.x),
    maxY: Math.max(from.y, to.y),
  }
  const holds = (box: Box | null): boolean =>
    box !== null && box.minX >= frame.minX && box.minY >= frame.minY && box.maxX <= frame.maxX && box.maxY <= frame.maxY
  const tracks = [...derived.network.tracks].flatMap(([id, { alignment }]): readonly Member[] => {
    const member: Member = { table: 'tracks', id }
    return holds(alignment.ok ? pathBox(alignment.path, 0) : boxOfPoints(stretchPoints(plan, [member]))) ? [member] : []
  })
  if (tracks.length > 0) return selectionOfMembers(tracks)
  const things = (['benchworks', 'walls', 'obstacles', 'hatches', 'joists'] as const).flatMap((table) =>
    Object.keys(plan[table]).map((id): Member => ({ table, id })),
  )
  return selectionOfMembers(things.filter((member) => holds(boxOfPoints(stretchPoints(plan, [member])))))
}
