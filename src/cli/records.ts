import type { Plan } from '../core/plan/index.ts'
import type { LineClass, Track, Turnout } from '../core/plan/types.ts'
import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'

interface Named {
  readonly id: string
  readonly name: string
}

/** The record with this id, or all that have this name. */
function recordsOf<R extends Named>(records: readonly R[], typed: string): readonly R[] {
  const byId = records.find((record) => record.id === typed)
  return byId ? [byId] : records.filter((record) => record.name.toLowerCase() === typed.toLowerCase())
}

/** The one record that an id or a name stands for. Names may be shared; then the id must be given. */
function recordChosen<R extends Named>(records: readonly R[], typed: string, word: string, option = word): R {
  const found = recordsOf(records, typed)
  if (found.length > 1)
    throw new BadInput(`--${option} ${typed}: ${found.length} have this name; give the id: ${found.map(({ id }) => id).join(', ')}.`)
  if (found[0]) return found[0]
  if (records.length === 0) throw new BadInput(`--${option} ${typed}: the plan has no ${word}.`)
  const words = records.map(({ id, name }) => (name === '' ? id : name))
  throw new BadInput(`--${option} ${typed}: the plan has no such ${word}. ${nearestHint(typed, words)}`)
}

/** The track of an id or name, given by an option. Throws BadInput. */
export function trackChosen(plan: Plan, typed: string, option = 'track'): Track {
  return recordChosen(Object.values(plan.tracks), typed, 'track', option)
}

/** The turnout of an id or name, given by an option. Throws BadInput. */
export function turnoutChosen(plan: Plan, typed: string, option = 'turnout'): Turnout {
  return recordChosen(Object.values(plan.turnouts), typed, 'turnout', option)
}

/** The line class of an id or name. Throws BadInput. */
export function lineClassChosen(plan: Plan, typed: string, option = 'class'): LineClass {
  return recordChosen(Object.values(plan.lineClasses), typed, 'class', option)
}

/** Whether an id or name is that of a track. */
export function isTrackNamed(plan: Plan, typed: string): boolean {
  return recordsOf(Object.values(plan.tracks), typed).length > 0
}

/** Whether an id or name is that of a turnout. */
export function isTurnoutNamed(plan: Plan, typed: string): boolean {
  return recordsOf(Object.values(plan.turnouts), typed).length > 0
}
