import { editLabel } from '../../words/editLabel.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Point } from '../../core/geom/types.ts'
import { angleParse, lengthParse } from '../../core/units/index.ts'
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
    case 'opening':
    case 'portal':
      return null
    default:
      return 'step'
  }
}

/** The command of a typed step; `from` and `to`: where the hand took hold and where it shows. */
export function stepTyped(text: string, grip: Grip, from: Point, to: Point, context: ToolContext): TypedStep {
  const { units, plan } = context
  const bare = units === 'imperial' ? 'in' : 'mm'
  switch (grip.kind) {
    case 'turn': {
      const angle = angleParse(text.trim().replace(/^</, ''))
      if (!angle.ok) return refuse({ kind: 'entry', refusal: { kind: 'angle', problem: angle.problem } })
      return severalTurned(grip, grip.about, angle.rad)
    }
    case 'turnout': {
      const typed = text.trim()
      const length = lengthParse(typed.replace(/^[+-]/, ''), { bare })
      if (!length.ok) return refuse({ kind: 'entry', refusal: { kind: 'length', problem: length.problem } })
      const stationMm = grip.stationMm + (typed.startsWith('-') ? -length.mm : length.mm)
      return { ok: true, command: { kind: 'turnout.set', id: grip.turnout, change: { stationMm } } }
    }
    default: {
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
  }
}

const refuse = (hint: Hint): TypedStep => ({ ok: false, hint })

function named(command: PlanCommand, plan: ToolContext['plan']): PlanCommand {
  return command.kind === 'group' ? { ...command, label: editLabel(command, plan) } : command
}
