import type { EntryProblem } from '../core/units/index.ts'

// The wrong part is quoted; of a single sign, that may stand twice, its place is told as well.
const headline = {
  empty: () => 'Nothing is entered.',
  noNumber: (p) => `“${p.text}” is not a number.`,
  unexpected: (p) => `“${p.text}” cannot stand there${p.text.length === 1 && p.at > 0 ? ` (character ${p.at + 1})` : ''}.`,
  powerOfTen: (p) => `“${p.text}” is a number with a power of ten; write it out.`,
  unknownUnit: (p) => `“${p.text}” is not a unit known here.`,
  unitMissing: (p) => `“${p.text}” has no unit.`,
  unitOrder: (p) => `The unit “${p.text}” does not follow the one before it.`,
  zeroDenominator: (p) => `The fraction divides by zero (character ${p.at + 1}).`,
  ambiguousComma: (p) => `“${p.text}” can be read in two ways.`,
  inchesBeyond: (p) =>
    `“${p.text}” cannot be inches after feet: two numbers with a space between are feet and inches, and those are less than 12.`,
  outOfRange: (p) => `“${p.text}” is out of its range.`,
  tooLarge: (p) => `“${p.text}” is too large.`,
} satisfies Record<EntryProblem['kind'], (p: EntryProblem) => string>

/** What is wrong with something typed, where, and what would be right. */
export function entryProblemText(problem: EntryProblem): string {
  return `${headline[problem.kind](problem)} Right would be: ${problem.expected}.`
}
