import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cellSetCreate } from '../../../src/core/deliver/cellSet.ts'

/** Close together, so that cells are met again; on both sides of the edges of blocks, below 0, and far off. */
const place = fc.oneof(
  fc.integer({ min: -3, max: 3 }),
  fc.integer({ min: 29, max: 34 }),
  fc.integer({ min: -34, max: 70 }),
  fc.nat(5_000_000),
)

describe('a set of cells', () => {
  it('holds the same cells as a set of their names', () => {
    let held = 0
    fc.assert(
      fc.property(
        fc.array(fc.record({ column: place, row: place, isAdded: fc.boolean() }), { minLength: 100, maxLength: 300 }),
        (steps) => {
          const [cells, names] = [cellSetCreate(), new Set<string>()]
          for (const { column, row, isAdded } of steps) {
            const name = `${column} ${row}`
            expect(cells.has(column, row), name).toBe(names.has(name))
            if (names.has(name)) held++
            if (!isAdded) continue
            cells.add(column, row)
            names.add(name)
            expect(cells.has(column, row), name).toBe(true)
          }
        },
      ),
      { seed: 20261128, numRuns: 100 },
    )
    // Asking only for what was never added would prove little.
    expect(held).toBeGreaterThan(100)
  })
})
