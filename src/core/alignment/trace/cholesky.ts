/** Solves a symmetric positive definite system; null when it is none. */
export function choleskySolve(matrix: number[][], right: readonly number[]): number[] | null {
  const n = right.length
  for (let j = 0; j < n; j++) {
    const row = matrix[j] ?? []
    let pivot = row[j] ?? 0
    for (let k = 0; k < j; k++) pivot -= (row[k] ?? 0) ** 2
    if (!(pivot > 0)) return null
    const root = Math.sqrt(pivot)
    row[j] = root
    for (let i = j + 1; i < n; i++) {
      const lower = matrix[i] ?? []
      let value = lower[j] ?? 0
      for (let k = 0; k < j; k++) value -= (lower[k] ?? 0) * (row[k] ?? 0)
      lower[j] = value / root
    }
  }
  const x = [...right]
  for (let i = 0; i < n; i++) {
    const row = matrix[i] ?? []
    let value = x[i] ?? 0
    for (let k = 0; k < i; k++) value -= (row[k] ?? 0) * (x[k] ?? 0)
    x[i] = value / (row[i] ?? 1)
  }
  for (let i = n - 1; i >= 0; i--) {
    let value = x[i] ?? 0
    for (let k = i + 1; k < n; k++) value -= (matrix[k]?.[i] ?? 0) * (x[k] ?? 0)
    x[i] = value / (matrix[i]?.[i] ?? 1)
  }
  return x.every(Number.isFinite) ? x : null
}
