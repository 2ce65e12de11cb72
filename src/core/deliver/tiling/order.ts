/** One step of laying sheets together: the next sheet, and those on the board already that it joins. */
export interface LayingStep {
  readonly name: string
  readonly to: readonly string[]
}

/**
 * Sheets in an order in which each joins one that lies already, as long as there is such a one; else a new start. The order
 * of the names decides among those that could come next.
 */
export function layingOrder(names: readonly string[], joins: readonly { readonly a: string; readonly b: string }[]): readonly LayingStep[] {
  const neighbours = new Map<string, string[]>(names.map((name) => [name, []]))
  for (const { a, b } of joins) {
    neighbours.get(a)?.push(b)
    neighbours.get(b)?.push(a)
  }
  const steps: LayingStep[] = []
  const laid = new Set<string>()
  while (steps.length < names.length) {
    const open = names.filter((name) => !laid.has(name))
    const name = open.find((one) => neighbours.get(one)?.some((other) => laid.has(other))) ?? open[0]
    if (name === undefined) break
    steps.push({ name, to: (neighbours.get(name) ?? []).filter((other) => laid.has(other)) })
    laid.add(name)
  }
  return steps
}

/** A step in words: "A2 to A1"; the first of each group stands alone. */
export function layingWords({ name, to }: LayingStep): string {
  return to.length === 0 ? name : `${name} to ${to.join(', ')}`
}
