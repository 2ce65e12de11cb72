import type { EntryProblem } from '../core/units/index.ts'

const headline = {
  empty: () => 'Nothing is entered.',
  noNumber: (p) => `“${p.text}” is not a number.`,
  unexpected: (p) => `“${p.text}” cannot stand there (character ${p.at + 1}).`,
  powerOfTen: (p) => `“${p.text}” is a number with a power of ten; write it out.`,
  unknownUnit: (p) => `“${p.text}” is not a unit known here (character ${p.at + 1}).`,
  unitMissing: (p) => `“${p.text}” has no unit.`,
  unitOrder: (p) => `The unit “${p.text}” does not follow the one before it (character ${p.at + 1}).`,
  zeroDenominator: (p) => `The fraction divides by zero (character ${p.at + 1}).`,
  ambiguousComma: (p) => `“${p.text}” can be read in two ways.`,
  inchesBeyond: (p) =>
    `“${p.text}” cannot be inches after feet (character ${p.at + 1}): two numbers with a space between are feet and inches, and those are less than 12.`,
  outOfRange: (p) => `“${p.text}” is out of its range (character ${p.at + 1}).`,
  tooLarge: (p) => `“${p.text}” is too large.`,
} satisfies Record<EntryProblem['kind'], (p: EntryProblem) => string>

/** What is wrong with something typed, where, and what would be right. */
export function entryProblemText(problem: EntryProblem): string {
  return `${headline[problem.kind](problem)} Right would be: ${problem.expected}.`
}
