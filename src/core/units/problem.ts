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
    /** A number such as 1e3. */
    | 'powerOfTen'
    | 'unknownUnit'
    | 'unitMissing'
    | 'unitOrder'
    | 'zeroDenominator'
    | 'ambiguousComma'
    /** 3 14: feet and inches by the space between them, but the inches would make a foot. */
    | 'inchesBeyond'
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
