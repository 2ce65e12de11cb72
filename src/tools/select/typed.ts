import { editLabel } from '../../words/editLabel.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Point } from '../../core/geom/types.ts'
import { angleParse, lengthParse } from '../../core/units/index.ts'
import { entryRadius } from '../shared/entryRadius.ts'
import { openingHeld } from '../shared/roomThings.ts'
import { entryPoint } from '../shared/entry.ts'
import type { EntryKind, Hint, ToolContext } from '../types.ts'
import type { Grip } from './grip.ts'
import { gripMove } from './move.ts'
import { severalTurned } from './several.ts'

/* A step typed instead of dragged: "24in<90", "@2in; 1in", "15" of a turn, "-6in" along a track or "sta 6ft" on it. */

export type TypedStep = { readonly ok: true; readonly command: PlanCommand } | { readonly ok: false; readonly hint: Hint }

/** What a field takes for what is held; null: nothing is typed for it. */
export function stepKind(grip: Grip): EntryKind {
  switch (grip.kind) {
    case 'turn':
      return 'turn'
    case 'corner':
      return 'piStep'
    case 'turnout':
    case 'opening':
    case 'portal':
      return 'along'
    default:
      return 'step'
  }
}

/** The command of a typed step; `from` and `to`: where the hand took hold and where it shows. */
export function stepTyped(text: string, grip: Grip, from: Point, to: Point, context: ToolContext): TypedStep {
  const { units } = context
  const bare = units === 'imperial' ? 'in' : 'mm'
  switch (grip.kind) {
    case 'turn': {
      const angle = angleParse(text.trim().replace(/^</, ''))
      if (!angle.ok) return refuse({ kind: 'entry', refusal: { kind: 'angle', problem: angle.problem } })
      return severalTurned(grip, grip.about, angle.rad)
    }
    case 'turnout':
    case 'opening':
    case 'portal': {
      const place = placeTyped(
        text,
        grip.kind === 'turnout' ? grip.stationMm : grip.kind === 'portal' ? grip.record.stationMm : grip.record.fromMm,
        bare,
      )
      return place.ok ? alongTyped(grip, place.mm, context) : place
    }
    case 'corner': {
      const { corner, track } = grip
      const typed = entryRadius(text, units)
      if (!typed.ok) return refuse({ kind: 'entry', refusal: typed.refusal })
      const { rest, radiusMm } = typed
      const isMoved = from.x !== to.x || from.y !== to.y
      if (radiusMm !== null && rest === '' && !isMoved)
        return { ok: true, command: { kind: 'corner.set', track, corner, change: { radius: radiusMm } } }
      const moved: TypedStep =
        rest === '' ? gripMove(grip, from, to, { shift: false, alt: true }, context) : pointTyped(rest, grip, from, to, context)
      if (!moved.ok || radiusMm === null) return moved
      return { ok: true, command: withRadius(moved.command, radiusMm) }
    }
    default:
      return pointTyped(text, grip, from, to, context)
  }
}

type Along = Extract<Grip, { kind: 'turnout' | 'opening' | 'portal' }>

/** A station behind its sign, "sta 6ft", as in the field of the particulars; without one, a step from where it lay. */
const stationSign = /^sta(?:tion)?\b\.?\s*/i

function placeTyped(
  text: string,
  fromMm: number,
  bare: 'in' | 'mm',
): { readonly ok: true; readonly mm: number } | Extract<TypedStep, { ok: false }> {
  const typed = text.trim()
  const isStation = stationSign.test(typed)
  const measure = typed.replace(stationSign, '')
  const length = lengthParse(measure.replace(/^[+-]/, ''), { bare })
  if (!length.ok) return { ok: false, hint: { kind: 'entry', refusal: { kind: 'length', problem: length.problem } } }
  const mm = measure.startsWith('-') ? -length.mm : length.mm
  return { ok: true, mm: isStation ? mm : fromMm + mm }
}

/** What is typed is taken as it stands or not at all: only a hand is held to the ends of a track or a side. */
function alongTyped(grip: Along, toMm: number, { derived }: ToolContext): TypedStep {
  if (grip.kind === 'opening') {
    const { record, wall } = grip
    const heldMm = openingHeld(wall, toMm, record.widthMm)
    if (heldMm !== toMm) return refuse({ kind: 'beyondSide', nearestMm: heldMm })
    return { ok: true, command: { kind: 'opening.set', id: record.id, change: { fromMm: toMm } } }
  }
  const alignment = derived.network.tracks.get(grip.kind === 'turnout' ? grip.host : grip.record.track)?.alignment
  if (alignment?.ok !== true) return refuse({ kind: 'trackTied' })
  const { lengthMm } = alignment.path
  if (toMm < 0 || toMm > lengthMm) return refuse({ kind: 'beyondTrack', lengthMm })
  const change = { stationMm: toMm }
  return {
    ok: true,
    command:
      grip.kind === 'turnout' ? { kind: 'turnout.set', id: grip.turnout, change } : { kind: 'portal.set', id: grip.record.id, change },
  }
}

/** The move of a PI with a radius of its own, also where joints come along. */
function withRadius(command: PlanCommand, radiusMm: number): PlanCommand {
  if (command.kind === 'group') return { ...command, commands: command.commands.map((one) => withRadius(one, radiusMm)) }
  return command.kind === 'corner.set' ? { ...command, change: { ...command.change, radius: radiusMm } } : command
}

function pointTyped(text: string, grip: Grip, from: Point, to: Point, context: ToolContext): TypedStep {
  const { units, plan } = context
  const isPoint = 'at' in grip
  const start = isPoint ? grip.at : from
  // Of a whole thing no place is known but where it is held: two measures are a step.
  const asStep = !isPoint && text.includes(';') && !text.trim().startsWith('@') ? `@${text.trim()}` : text
  const towards = { x: start.x + to.x - from.x, y: start.y + to.y - from.y }
  const point = entryPoint(asStep, { from: start, towards, units })
  if (!point.ok) return refuse({ kind: 'entry', refusal: point.refusal })
  const move = gripMove(grip, start, point.point, { shift: false, alt: true }, context)
  if (!move.ok) return move
  return { ok: true, command: named(move.command, plan) }
}

const refuse = (hint: Hint): TypedStep => ({ ok: false, hint })

function named(command: PlanCommand, plan: ToolContext['plan']): PlanCommand {
  return command.kind === 'group' ? { ...command, label: editLabel(command, plan) } : command
}
