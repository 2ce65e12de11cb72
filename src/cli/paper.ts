import type { Paper } from '../core/deliver/types.ts'
import { paperByName, paperList } from '../core/standards/index.ts'
import { lengthParse } from '../core/units/index.ts'
import { entryProblemText } from '../words/entryText.ts'
import type { Args } from './args.ts'
import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'
import { wordOption } from './values.ts'

/** Length of a page cut from a roll when none is given: what a workbench is deep and two hands can hold. */
const ROLL_PAGE_MM = 1200

/** The paper of an option: a name, a size, or a roll with its width and maybe a length. Throws BadInput. */
export function paperChosen(typed: string): Paper {
  const size = /^size:([^:]+):([^:]+)$/i.exec(typed)
  if (size) return { name: 'Own size', widthMm: lengthIn('paper', size[1] ?? ''), heightMm: lengthIn('paper', size[2] ?? '') }
  const roll = /^roll:([^:]+)(?::(.+))?$/i.exec(typed)
  if (!roll) {
    const paper = paperByName(typed)
    if (!paper)
      throw new BadInput(
        `--paper ${typed}: no such paper. ${nearestHint(typed, [...paperList().map(({ name }) => name.toLowerCase()), 'roll:24in', 'size:13in:19in'])}`,
      )
    return { name: paper.name, widthMm: paper.widthMm, heightMm: paper.heightMm }
  }
  const [width, length] = [roll[1], roll[2]].map((part) => (part === undefined ? null : lengthIn('paper', part)))
  return { name: typed, widthMm: width ?? 0, heightMm: length ?? ROLL_PAGE_MM, isRoll: true }
}

/** A length within the value of an option. Throws BadInput. */
export function lengthIn(option: string, text: string): number {
  const read = lengthParse(text, { bare: 'refuse' })
  if (!read.ok) throw new BadInput(`--${option} ${text}: ${entryProblemText(read.problem)}`)
  if (read.mm <= 0) throw new BadInput(`--${option} ${text}: it must be above zero.`)
  return read.mm
}

/** Units of what is printed: as asked, else those that go with the paper. */
export const unitsOnPaper = (args: Args, paper: Paper): 'imperial' | 'metric' =>
  wordOption(args, 'units', ['imperial', 'metric']) ?? (/^[ab]\d/i.test(paper.name) ? 'metric' : 'imperial')

/** The date that is printed: as asked, else today. */
export const dateOnPaper = (args: Args): string => args.values.get('date') ?? new Date().toISOString().slice(0, 10)
