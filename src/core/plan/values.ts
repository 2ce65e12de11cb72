/** So many values to the block: of five thousand a change copies a block and a list of eighty blocks. */
const blockSize = 64

/**
 * A list that is only read, in blocks. A copy with other values at some places shares every block in which none of them lies, so that it is
 * made, and held against the list that it was made from, in a hundredth of the time that the whole list would take.
 */
export class Values<V> implements Iterable<V> {
  readonly length: number
  readonly #blocks: readonly (readonly V[])[]
  #list: readonly V[] | null = null

  private constructor(blocks: readonly (readonly V[])[], length: number) {
    this.#blocks = blocks
    this.length = length
  }

  static of<V>(list: readonly V[]): Values<V> {
    const blocks = Array.from({ length: Math.ceil(list.length / blockSize) }, (_, i) => list.slice(i * blockSize, (i + 1) * blockSize))
    return new Values(blocks, list.length)
  }

  /** The value at a place; undefined: there is no such place. */
  at(place: number): V | undefined {
    return this.#blocks[Math.floor(place / blockSize)]?.[place % blockSize]
  }

  /** The list with other values at some places, which all must be there. */
  with(changes: Iterable<readonly [place: number, value: V]>): Values<V> {
    const blocks = this.#blocks.slice()
    const copied = new Map<number, V[]>()
    for (const [place, value] of changes) {
      const at = Math.floor(place / blockSize)
      const block = copied.get(at) ?? (blocks[at] ?? []).slice()
      block[place % blockSize] = value
      copied.set(at, block)
      blocks[at] = block
    }
    return new Values(blocks, this.length)
  }

  /** All of it as an array, made when it is first asked for. */
  list(): readonly V[] {
    return (this.#list ??= this.#blocks.flat(1) as readonly V[])
  }

  forEach(each: (value: V, place: number) => void): void {
    let place = 0
    for (const block of this.#blocks) for (const value of block) each(value, place++)
  }

  [Symbol.iterator](): ArrayIterator<V> {
    return this.list()[Symbol.iterator]()
  }

  /** Places at which two lists differ, rising; null: they are of unlike length. */
  static changed<V>(before: Values<V>, after: Values<V>): readonly number[] | null {
    if (before.length !== after.length) return null
    const places: number[] = []
    // Counted, not iterated: each step of a drag runs through this several times before the engine has made it quick.
    for (let at = 0; at < after.#blocks.length; at++) {
      const [was, is] = [before.#blocks[at], after.#blocks[at]]
      if (is === undefined || was === is) continue
      for (let i = 0; i < is.length; i++) if (was?.[i] !== is[i]) places.push(at * blockSize + i)
    }
    return places
  }
}
