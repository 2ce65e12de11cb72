import Flatbush from 'flatbush'
import { boxesWithin, boxGrow, boxRow, boxRowMeets, boxRowOverlaps, boxRowSet, boxUnion } from '../geom/index.ts'
import type { BoxRow } from '../geom/index.ts'
import type { Box } from '../geom/types.ts'
import { placesOtherwise } from '../plan/index.ts'

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
  let before: readonly T[] = []
  let near: readonly NearOnes<T>[] = []
  let rooms = boxRow(0)
  return (all) => {
    const changed = placesOtherwise(before, all)
    if (changed === null || changed.length > fewOthers) {
      rooms = boxRow(all.length)
      for (const [place, one] of all.entries()) boxRowSet(rooms, place, roomOf(one))
      near = nearOnesOf(near, all)
    } else if (changed.length > 0) near = nearOnesAfter(near, all, changed, rooms)
    before = all
    return near
  }
}

const areNear = (one: Boxed, other: Boxed): boolean => boxesWithin(one.box, other.box, one.nearMm + other.nearMm)

/** What the last digits of sums may be off, and more, mm. */
const grainMm = 1e-3

/** What is near has room in common, to the last digit; what has may be near. */
const roomOf = ({ box, nearMm }: Boxed): Box => boxGrow(box, nearMm + grainMm)

/** before: whoever has the same company as there keeps its list. */
function nearOnesOf<T extends Boxed>(before: readonly NearOnes<T>[], all: readonly T[]): readonly NearOnes<T>[] {
  if (all.length === 0) return []
  const index = new Flatbush(all.length)
  let mostMm = 0
  for (const { box, nearMm } of all) {
    index.add(box.minX, box.minY, box.maxX, box.maxY)
    mostMm = Math.max(mostMm, nearMm)
  }
  index.finish()
  const known = new Map(before.map((near) => [near.one, near]))
  return all.map((one, i) => {
    const reachMm = one.nearMm + mostMm
    const { minX, minY, maxX, maxY } = one.box
    const found = index.search(minX - reachMm, minY - reachMm, maxX + reachMm, maxY + reachMm, (j) => j >= i)
    const others = found
      .toSorted((a, b) => a - b)
      .flatMap((j) => all[j] ?? [])
      .filter((other) => areNear(one, other))
    const was = known.get(one)
    return was !== undefined && placesOtherwise(was.others, others)?.length === 0 ? was : { one, others }
  })
}

/**
 * The lists after an edit that made a few anew, each in its place. Most are far from all that was and is changed there: rows of numbers tell
 * that without a look at themselves.
 *
 * rooms: before, of the ones that were; afterwards of all.
 */
function nearOnesAfter<T extends Boxed>(
  before: readonly NearOnes<T>[],
  all: readonly T[],
  changed: readonly number[],
  rooms: BoxRow,
): readonly NearOnes<T>[] {
  const fresh = changed.map((place) => ({ place, was: before[place]?.one as T, is: all[place] as T }))
  for (const { place, is } of fresh) boxRowSet(rooms, place, roomOf(is))
  /** Of those before it in the list, each that may have had it, or may have it now. */
  const suspects = new Set(changed)
  for (const { place, was, is } of fresh) {
    const room = boxUnion(roomOf(was), roomOf(is))
    for (let i = 0; i < place; i++) if (boxRowOverlaps(rooms, i, room)) suspects.add(i)
  }
  const after = before.slice()
  for (const i of suspects) {
    const [near, one] = [before[i] as NearOnes<T>, all[i] as T]
    const isSame = near.one === one && !fresh.some(({ place, was, is }) => place > i && (areNear(one, is) || areNear(one, was)))
    if (!isSame) after[i] = { one, others: all.filter((other, j) => j >= i && boxRowMeets(rooms, i, j) && areNear(one, other)) }
  }
  return after
}
