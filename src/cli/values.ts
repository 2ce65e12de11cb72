import { angleParse, frogNumberParse, lengthParse, numberParse, type EntryProblem } from '../core/units/index.ts'
import type { Args } from './args.ts'
import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'
import { entryProblemText } from '../words/entryText.ts'

function refuse(args: Args, name: string, problem: EntryProblem): never {
  refuseTyped(name, args.values.get(name) ?? '', problem)
}

function refuseTyped(name: string, typed: string, problem: EntryProblem): never {
  const isBare = problem.kind === 'unitMissing'
  throw new BadInput(
    `--${name} ${typed}: ${isBare ? `a length needs its unit. Right would be: ${typed.trim()}in or ${typed.trim()}mm.` : entryProblemText(problem)}`,
  )
}

/** Range of a length option, mm; where it ends it says what it must be. */
export interface LengthRange {
  readonly least: 'above zero' | 'zero or more'
}

/** A length option in mm; null when it is not given. A bare number is refused: on a command line nobody knows what was meant. */
export function lengthOption(args: Args, name: string, range: LengthRange = { least: 'above zero' }): number | null {
  const typed = args.values.get(name)
  if (typed === undefined) return null
  const mm = lengthTyped(name, typed)
  if (range.least === 'above zero' ? mm <= 0 : mm < 0) throw new BadInput(`--${name} ${typed}: it must be ${range.least}.`)
  return mm
}

/** A length that is all or a part of what an option was given, mm. */
export function lengthTyped(name: string, typed: string): number {
  const read = lengthParse(typed, { bare: 'refuse' })
  // Nothing has no unit: 0 means the same in all.
  return /^0+([.,]0+)?$/.test(typed.trim()) ? 0 : read.ok ? read.mm : refuseTyped(name, typed, read.problem)
}

/** A length option that must be there. */
export function lengthRequired(args: Args, name: string, range?: LengthRange): number {
  const mm = lengthOption(args, name, range)
  if (mm === null) throw new BadInput(`waybench ${args.verb.name} needs --${name}.`)
  return mm
}

/** An angle option in rad; a bare number is degrees. */
export function angleOption(args: Args, name: string): number | null {
  const typed = args.values.get(name)
  if (typed === undefined) return null
  const read = angleParse(typed)
  return read.ok ? read.rad : refuse(args, name, read.problem)
}

/** A number option. */
export function numberOption(args: Args, name: string): number | null {
  const typed = args.values.get(name)
  if (typed === undefined) return null
  const read = numberParse(typed)
  return read.ok ? read.value : refuse(args, name, read.problem)
}

/** A frog number option, with how it was written. */
export function frogOption(args: Args, name: string): { readonly frog: number; readonly writtenAs: 'number' | 'slope' } | null {
  const typed = args.values.get(name)
  if (typed === undefined) return null
  const read = frogNumberParse(typed)
  return read.ok ? read : refuse(args, name, read.problem)
}

/** One of a few words. */
export function wordOption<W extends string>(args: Args, name: string, words: readonly W[]): W | null {
  const typed = args.values.get(name)
  if (typed === undefined) return null
  const found = words.find((word) => word === typed.toLowerCase())
  if (found === undefined) throw new BadInput(`--${name} ${typed}: it must be ${words.join(' or ')}. ${nearestHint(typed, words)}`)
  return found
}
