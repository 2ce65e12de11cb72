/**
 * What was wrong with a typed quantity.
 *
 * `text` is the part of the entry that is wrong, `at` its place (UTF-16 index in the entry), `expected` a sample or
 * short description of what would be right there.
 */
export interface EntryProblem {
  readonly kind:
    | 'empty'
    | 'noNumber'
    | 'unexpected'
    | 'unknownUnit'
    | 'unitMissing'
    | 'unitOrder'
    | 'zeroDenominator'
    | 'ambiguousComma'
    | 'outOfRange'
    | 'tooLarge'
  readonly text: string
  readonly at: number
  readonly expected: string
}

export interface EntryRefused {
  readonly ok: false
  readonly problem: EntryProblem
}

/** Makes the refusal that a parser hands back. */
export function entryRefuse(kind: EntryProblem['kind'], text: string, at: number, expected: string): EntryRefused {
  return { ok: false, problem: { kind, text, at, expected } }
}

const headline = {
  empty: () => 'Nothing is entered.',
  noNumber: (p) => `“${p.text}” is not a number.`,
  unexpected: (p) => `“${p.text}” cannot stand there (character ${p.at + 1}).`,
  unknownUnit: (p) => `“${p.text}” is not a unit known here (character ${p.at + 1}).`,
  unitMissing: (p) => `“${p.text}” has no unit.`,
  unitOrder: (p) => `The unit “${p.text}” does not follow the one before it (character ${p.at + 1}).`,
  zeroDenominator: (p) => `The fraction divides by zero (character ${p.at + 1}).`,
  ambiguousComma: (p) => `“${p.text}” can be read in two ways.`,
  outOfRange: (p) => `“${p.text}” is out of its range (character ${p.at + 1}).`,
  tooLarge: (p) => `“${p.text}” is too large.`,
} satisfies Record<EntryProblem['kind'], (p: EntryProblem) => string>

/** The problem in words: what is wrong, where, and what would be right. */
export function problemText(problem: EntryProblem): string {
  return `${headline[problem.kind](problem)} Right would be: ${problem.expected}.`
}
