import { crossLetters } from '../join.ts'

/** One step of laying sheets together: the next sheet, and those on the board already that it joins, each with the letters of the crosses. */
export interface LayingStep {
  readonly name: string
  readonly to: readonly { readonly name: string; readonly letters: readonly string[] }[]
}

/**
 * Sheets in an order in which each joins one that lies already, as long as there is such a one; else a new start. The order
 * of the names decides among those that could come next.
 */
export function layingOrder(names: readonly string[], joins: readonly { readonly a: string; readonly b: string }[]): readonly LayingStep[] {
  const neighbours = new Map<string, LayingStep['to'][number][]>(names.map((name) => [name, []]))
  for (const [nth, { a, b }] of joins.entries()) {
    const letters = crossLetters(nth)
    neighbours.get(a)?.push({ name: b, letters })
    neighbours.get(b)?.push({ name: a, letters })
  }
  const steps: LayingStep[] = []
  const laid = new Set<string>()
  while (steps.length < names.length) {
    const open = names.filter((name) => !laid.has(name))
    const name = open.find((one) => neighbours.get(one)?.some((other) => laid.has(other.name))) ?? open[0]
    if (name === undefined) break
    steps.push({ name, to: (neighbours.get(name) ?? []).filter((other) => laid.has(other.name)) })
    laid.add(name)
  }
  return steps
}

/** A step in words: "Sheet 2 joins sheet 1 at a, b"; each group begins with one that joins none. */
export function layingWords({ name, to }: LayingStep): string {
  if (to.length === 0) return `Sheet ${name}, to begin with`
  return `Sheet ${name} joins ${to.map((other) => `sheet ${other.name} at ${other.letters.join(', ')}`).join(' and ')}`
}
