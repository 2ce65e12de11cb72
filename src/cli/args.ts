import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'

/** An option of a verb: its sample value for the help, absent for a plain switch, and what it means. */
export interface OptionSpec {
  readonly value?: string
  readonly about: string
  readonly isRequired?: boolean
}
export type OptionSpecs = Readonly<Record<string, OptionSpec>>

export interface VerbSpec {
  readonly name: string
  readonly about: string
  /** Word for the one thing that stands without a name, such as PLAN. */
  readonly operand?: string
  readonly options: OptionSpecs
  readonly example: string
}

/** What was typed after the verb, not yet read as lengths or angles. */
export interface Args {
  readonly verb: VerbSpec
  readonly operand: string | null
  readonly values: ReadonlyMap<string, string>
}

/** Options that every verb has. */
export const commonOptions: OptionSpecs = {
  json: { about: 'print one JSON object: lengths in mm, angles in rad' },
  csv: { value: 'table.csv', about: 'writes the tables of the answer as CSV too, with the names and numbers of --json' },
  help: { about: 'show this help' },
}

/** Sorts what was typed into options and the operand. Throws BadInput. */
export function argsRead(verb: VerbSpec, typed: readonly string[]): Args {
  const known: OptionSpecs = { ...commonOptions, ...verb.options }
  const values = new Map<string, string>()
  let operand: string | null = null
  for (let at = 0; at < typed.length; at += 1) {
    const word = typed[at] ?? ''
    if (!word.startsWith('--')) {
      if (verb.operand === undefined)
        throw new BadInput(`“${word}” stands alone; waybench ${verb.name} takes options only, such as ${verb.example}`)
      if (operand !== null) throw new BadInput(`“${word}” is a second ${verb.operand}; “${operand}” is there already.`)
      operand = word
      continue
    }
    const [name = '', attached] = splitAtEquals(word.slice(2))
    const spec = Object.hasOwn(known, name) ? known[name] : undefined
    if (!spec) throw new BadInput(`waybench ${verb.name} has no option --${name}. ${nearestHint(name, Object.keys(known))}`)
    if (values.has(name)) throw new BadInput(`--${name} is given twice.`)
    if (spec.value === undefined) {
      if (attached !== undefined) throw new BadInput(`--${name} takes no value; “${attached}” is too much.`)
      values.set(name, '')
      continue
    }
    const next = typed[at + 1]
    if (attached === undefined && (next === undefined || next.startsWith('--')))
      throw new BadInput(`--${name} needs a value, such as --${name} ${spec.value}.`)
    values.set(name, attached ?? next ?? '')
    if (attached === undefined) at += 1
  }
  if (values.has('help')) return { verb, operand, values }
  if (verb.operand !== undefined && operand === null)
    throw new BadInput(`waybench ${verb.name} needs a ${verb.operand}, such as ${verb.example}`)
  for (const [name, spec] of Object.entries(verb.options)) {
    if (spec.isRequired && !values.has(name))
      throw new BadInput(`waybench ${verb.name} needs --${name}, such as --${name} ${spec.value ?? ''}.`)
  }
  return { verb, operand, values }
}

function splitAtEquals(text: string): readonly [string, string?] {
  const at = text.indexOf('=')
  return at < 0 ? [text] : [text.slice(0, at), text.slice(at + 1)]
}
