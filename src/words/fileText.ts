import type { PlanNote, ReferenceProblem } from '../core/plan/index.ts'
import type { PlanFileProblem } from '../formats/planjson.ts'
import { numberText } from './measure.ts'
import { tableWord } from './names.ts'

const megabytes = (bytes: number): string => `${numberText(bytes / 1024 / 1024, 1)} MB`

/** What stands in a file where something else should; short enough for a line. */
function foundText(value: unknown): string {
  if (value === undefined) return 'nothing'
  if (Array.isArray(value)) return 'a list'
  if (typeof value === 'object' && value !== null) return 'a group of values'
  const text = typeof value === 'string' ? `“${value}”` : (JSON.stringify(value) ?? String(value))
  return text.length > 40 ? `${text.slice(0, 39)}…` : text
}

/** Why a file was not opened: what, where, and what would be right. The open plan is untouched, which is said beside it. */
export function planFileProblemText(problem: PlanFileProblem): string {
  switch (problem.kind) {
    case 'tooLarge':
      return `The file is ${megabytes(problem.size)} large; a plan is at most ${megabytes(problem.limit)}.`
    case 'empty':
      return 'The file is empty.'
    case 'truncated':
      return `The file breaks off in line ${problem.line}; ${problem.expected} should follow. It was not saved or copied to its end.`
    case 'damaged':
      // What does not even begin like a plan is another kind of file, not a plan that came to harm.
      if (problem.line === 1 && problem.column === 1)
        return `This is not a Waybench plan but some other kind of file: it begins with ${foundText(problem.found)}. A plan is a file that Waybench saved.`
      return `The file is damaged in line ${problem.line}, column ${problem.column}: ${foundText(problem.found)} stands where ${problem.expected} should.`
    case 'unreadable':
      return `The file cannot be read: ${problem.reason.replace(/\.$/, '')}.`
    case 'notAPlan':
      return 'This is not a Waybench plan, though it is written in the same way. A plan is a file that Waybench saved.'
    case 'newerVersion':
      return `The plan was written by a newer Waybench (version ${problem.version} of the document; this one reads up to ${problem.newest}).`
    case 'tooDeep':
      return `The file is nested more than ${problem.limit} deep at ${problem.where}; no plan is.`
    case 'badValue':
      return `At ${problem.where === '' ? 'the beginning' : problem.where} stands ${foundText(problem.value)}; it should be ${problem.expected}.`
    case 'broken':
      return referenceText(problem.reference)
  }
}

function referenceText(reference: ReferenceProblem): string {
  switch (reference.kind) {
    case 'idMismatch':
      return `At ${reference.where} the id is ${foundText(reference.id)}; it should be ${foundText(reference.expected)}.`
    case 'missingRecord':
      return `At ${reference.where} stands the ${tableWord(reference.table)} ${foundText(reference.id)}, which is not in the file.`
    case 'cornerTwice':
      return `At ${reference.where} a second corner is called ${foundText(reference.id)}; each needs an id of its own.`
    case 'legTaken':
      return `At ${reference.where} a second track takes the same leg of ${foundText(reference.turnout)}; ${foundText(reference.by)} has it.`
    case 'loopStart':
      return `At ${reference.where} a closed track starts at a leg; a loop has no end that could.`
    case 'madeTwice':
      return `At ${reference.where} a second maker claims the ${tableWord(reference.table)} ${foundText(reference.id)}; ${foundText(reference.by)} has it.`
    case 'makerOnOwn':
      return `At ${reference.where} a maker stands on ${foundText(reference.id)}, which it made itself.`
  }
}

/** What the reader wants known of a file that it did open. */
export function planNoteText(note: PlanNote): string {
  switch (note.kind) {
    case 'migrated':
      return `It was brought from version ${note.from} of the document to ${note.to}.`
    case 'unknownKeys':
      return `It holds ${note.where.length === 1 ? 'a key' : `${note.where.length} keys`} of another program (${note.where.slice(0, 3).join(', ')}${note.where.length > 3 ? ', …' : ''}), kept as they are.`
  }
}
