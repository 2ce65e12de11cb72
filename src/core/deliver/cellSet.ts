/** Cells of a map that has no bounds, by column and row. */
export interface CellSet {
  readonly add: (column: number, row: number) => void
  readonly has: (column: number, row: number) => boolean
}

/** Cells along the side of a block, of which a row is the bits of one number. */
const SIDE = 32

/** No cells yet. They are kept by blocks of bits: a set of numbers makes a new one for every cell that is asked about. */
export function cellSetCreate(): CellSet {
  const blocks = new Map<number, Uint32Array>()
  // Who asks about one cell asks about its neighbours next.
  let [lastKey, last]: [number, Uint32Array | undefined] = [NaN, undefined]
  const blockOf = (column: number, row: number): Uint32Array | undefined => {
    const key = Math.floor(row / SIDE) * 1048576 + Math.floor(column / SIDE)
    if (key !== lastKey) [lastKey, last] = [key, blocks.get(key)]
    return last
  }
  return {
    add: (column, row) => {
      let block = blockOf(column, row)
      if (!block) {
        block = new Uint32Array(SIDE)
        blocks.set(lastKey, block)
        last = block
      }
      const y = row & (SIDE - 1)
      block[y] = (block[y] ?? 0) | (1 << (column & (SIDE - 1)))
    },
    has: (column, row) => {
      const bits = blockOf(column, row)?.[row & (SIDE - 1)] ?? 0
      return (bits & (1 << (column & (SIDE - 1)))) !== 0
    },
  }
}
