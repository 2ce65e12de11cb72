import { editLabel } from '../../words/editLabel.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Point } from '../../core/geom/types.ts'
import { angleParse, lengthParse } from '../../core/units/index.ts'
import { entryRadius } from '../shared/entryRadius.ts'
import { roomAlong } from './roomGrip.ts'
import { entryPoint } from '../shared/entry.ts'
import type { EntryKind, Hint, ToolContext } from '../types.ts'
import type { Grip } from './grip.ts'
import { gripMove } from './move.ts'
import { severalTurned } from './several.ts'

/* A step typed instead of dragged: "24in<90", "@2in; 1in", "15" of a turn, "-6in" along a track. */

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
      const typed = text.trim()
      const length = lengthParse(typed.replace(/^[+-]/, ''), { bare })
      if (!length.ok) return refuse({ kind: 'entry', refusal: { kind: 'length', problem: length.problem } })
      const alongMm = typed.startsWith('-') ? -length.mm : length.mm
      if (grip.kind === 'turnout')
        return { ok: true, command: { kind: 'turnout.set', id: grip.turnout, change: { stationMm: grip.stationMm + alongMm } } }
      const command = roomAlong(grip, alongMm, context)
      return command === null ? refuse({ kind: 'trackTied' }) : { ok: true, command }
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
