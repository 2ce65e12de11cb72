import type { Plan } from '../core/plan/index.ts'
import type { Track, Turnout } from '../core/plan/types.ts'
import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'

/** The one record that an id or a name stands for. Names may be shared; then the id must be given. */
function recordChosen<R extends { readonly id: string; readonly name: string }>(records: readonly R[], typed: string, word: string): R {
  const byId = records.find((record) => record.id === typed)
  if (byId) return byId
  const named = records.filter((record) => record.name.toLowerCase() === typed.toLowerCase())
  if (named.length > 1)
    throw new BadInput(`--${word} ${typed}: ${named.length} have this name; give the id: ${named.map(({ id }) => id).join(', ')}.`)
  const found = named[0]
  if (found) return found
  if (records.length === 0) throw new BadInput(`--${word} ${typed}: the plan has no ${word}.`)
  const words = records.map(({ id, name }) => (name === '' ? id : name))
  throw new BadInput(`--${word} ${typed}: the plan has no such ${word}. ${nearestHint(typed, words)}`)
}

/** The track of an id or name. Throws BadInput. */
export function trackChosen(plan: Plan, typed: string): Track {
  return recordChosen(Object.values(plan.tracks), typed, 'track')
}

/** The turnout of an id or name. Throws BadInput. */
export function turnoutChosen(plan: Plan, typed: string): Turnout {
  return recordChosen(Object.values(plan.turnouts), typed, 'turnout')
}
