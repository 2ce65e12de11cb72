import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Values } from '../../../src/core/plan/index.ts'

const list = fc.array(fc.integer(), { minLength: 0, maxLength: 300 })
const changes = fc.array(fc.tuple(fc.nat(299), fc.integer()), { maxLength: 8 })

test('a list in blocks is read, changed and compared as an array is', () => {
  fc.assert(
    fc.property(list, changes, (array, wanted) => {
      const before = Values.of(array)
      const there = wanted.filter(([place]) => place < array.length)
      const anew = array.slice()
      for (const [place, value] of there) anew[place] = value
      const after = before.with(there)
      expect([after.list(), [...after], after.length]).toEqual([anew, anew, array.length])
      // What it was made from stays.
      expect(before.list()).toEqual(array)
      expect(Array.from({ length: array.length + 2 }, (_, i) => after.at(i - 1))).toEqual(
        Array.from({ length: array.length + 2 }, (_, i) => anew[i - 1]),
      )
      const seen: unknown[] = []
      after.forEach((value, place) => seen.push([place, value]))
      expect(seen).toEqual(anew.map((value, place) => [place, value]))
      const differ = anew.flatMap((value, place) => (value === array[place] ? [] : [place]))
      expect(Values.changed(before, after)).toEqual(differ)
      expect(Values.changed(Values.of(array), Values.of(anew))).toEqual(differ)
      expect(Values.changed(before, Values.of([...array, 1]))).toBe(null)
    }),
  )
})
