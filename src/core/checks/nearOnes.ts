import Flatbush from 'flatbush'
import { boxesWithin, boxUnion } from '../geom/index.ts'
import type { Box } from '../geom/types.ts'

/** What may come too near to others of its kind: runs, or the ties of turnouts. */
export interface Boxed {
  readonly box: Box
  /** As far as it asks for room, mm: two are near where their boxes are no farther apart than both ask. */
  readonly nearMm: number
}

/** One of a list, and those from it on whose boxes it may come too near to, itself among them. */
export interface NearOnes<T extends Boxed> {
  readonly one: T
  readonly others: readonly T[]
}

/** Where so few are others than before, each is held against all; else they are looked up. */
const fewOthers = 16

/** A function that tells which of a list may come too near to each other; what an edit left alone keeps its list. */
export function nearOnesCreate<T extends Boxed>(): (all: readonly T[]) => readonly NearOnes<T>[] {
  let before: readonly NearOnes<T>[] = []
  return (all) => {
    before = nearOnesAfter(before, all) ?? nearOnesOf(all)
    return before
  }
}

const areNear = (one: Boxed, other: Boxed): boolean => boxesWithin(one.box, other.box, one.nearMm + other.nearMm)

function nearOnesOf<T extends Boxed>(all: readonly T[]): readonly NearOnes<T>[] {
  if (all.length === 0) return []
  const index = new Flatbush(all.length)
  let mostMm = 0
  for (const { box, nearMm } of all) {
    index.add(box.minX, box.minY, box.maxX, box.maxY)
    mostMm = Math.max(mostMm, nearMm)
  }
  index.finish()
  return all.map((one, i) => {
    const reachMm = one.nearMm + mostMm
    const { minX, minY, maxX, maxY } = one.box
    const found = index.search(minX - reachMm, minY - reachMm, maxX + reachMm, maxY + reachMm, (j) => j >= i)
    const others = found.toSorted((a, b) => a - b).flatMap((j) => all[j] ?? [])
    return { one, others: others.filter((other) => areNear(one, other)) }
  })
}

/** The lists after an edit that made a few anew, each in its place; null: more than that has changed. */
function nearOnesAfter<T extends Boxed>(before: readonly NearOnes<T>[], all: readonly T[]): readonly NearOnes<T>[] | null {
  if (before.length !== all.length) return null
  const fresh: { readonly one: T; readonly place: number }[] = []
  const gone = new Set<T>()
  for (let place = 0; place < all.length; place++) {
    const [was, one] = [before[place]?.one, all[place]]
    if (was === undefined || one === undefined || was === one) continue
    fresh.push({ one, place })
    gone.add(was)
    if (fresh.length > fewOthers) return null
  }
  const changed = boxedTogether([...gone, ...fresh.map(({ one }) => one)])
  if (changed === null) return before
  return all.map((one, i) => {
    const was = before[i]
    // Most are far from all that was and is changed.
    if (was?.one === one && !areNear(one, changed)) return was
    const isSame =
      was?.one === one && !was.others.some((other) => gone.has(other)) && !fresh.some((other) => other.place > i && areNear(one, other.one))
    return isSame ? was : { one, others: all.filter((other, j) => j >= i && areNear(one, other)) }
  })
}

/** What is near one of these is near this; null: there are none. */
function boxedTogether(ones: readonly Boxed[]): Boxed | null {
  const [first] = ones
  if (first === undefined) return null
  return {
    box: ones.reduce((all, { box }) => boxUnion(all, box), first.box),
    nearMm: ones.reduce((most, { nearMm }) => Math.max(most, nearMm), 0),
  }
}
