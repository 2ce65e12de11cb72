import fc from 'fast-check'
import { expect, test } from 'vitest'
import { nearOnesCreate } from '../../../src/core/checks/nearOnes.ts'
import type { Boxed } from '../../../src/core/checks/nearOnes.ts'
import { boxesWithin } from '../../../src/core/geom/index.ts'

const boxed: fc.Arbitrary<Boxed> = fc
  .tuple(
    fc.integer({ min: -500, max: 500 }),
    fc.integer({ min: -500, max: 500 }),
    fc.integer({ min: 0, max: 150 }),
    fc.integer({ min: 0, max: 40 }),
  )
  .map(([x, y, size, nearMm]) => ({ box: { minX: x, minY: y, maxX: x + size, maxY: y + size / 2 }, nearMm: nearMm / 2 }))

type Change = (all: readonly Boxed[]) => readonly Boxed[]

const otherOnes = (least: number, most: number): fc.Arbitrary<Change> =>
  fc.array(fc.tuple(fc.nat({ max: 999 }), boxed), { minLength: least, maxLength: most }).map((others) => (all) => {
    const next = [...all]
    for (const [at, other] of others) next[at % next.length] = other
    return next
  })

const change: fc.Arbitrary<Change> = fc.oneof(
  { weight: 6, arbitrary: otherOnes(1, 3) },
  { weight: 1, arbitrary: otherOnes(40, 60) },
  {
    weight: 1,
    arbitrary: fc.tuple(fc.nat({ max: 999 }), boxed).map(
      ([at, more]) =>
        (all: readonly Boxed[]) =>
          all.toSpliced(at % all.length, 0, more),
    ),
  },
  { weight: 1, arbitrary: fc.nat({ max: 999 }).map((at) => (all: readonly Boxed[]) => all.toSpliced(at % all.length, 1)) },
  { weight: 1, arbitrary: fc.constant((all: readonly Boxed[]) => all) },
)

test('each has those from it on that it may come too near to, and keeps its list as long as they are the same', () => {
  const counts = { kept: 0, made: 0, many: 0 }
  fc.assert(
    fc.property(fc.array(boxed, { minLength: 30, maxLength: 50 }), fc.array(change, { minLength: 4, maxLength: 12 }), (first, changes) => {
      const nearOf = nearOnesCreate<Boxed>()
      let all: readonly Boxed[] = first
      let before = nearOf(all)
      for (const one of changes) {
        all = one(all)
        const now = nearOf(all)
        const were = new Map(before.map((near) => [near.one, near]))
        expect(now.map((near) => near.one)).toEqual(all)
        for (const [i, near] of now.entries()) {
          const meant = all.filter((other, j) => j >= i && boxesWithin(near.one.box, other.box, near.one.nearMm + other.nearMm))
          // By identity: two boxes alike are two.
          expect(near.others.length === meant.length && near.others.every((other, j) => other === meant[j])).toBe(true)
          const was = were.get(near.one)
          const isAsBefore = was?.others.length === meant.length && was.others.every((other, j) => other === meant[j])
          expect(near === was).toBe(isAsBefore)
          if (isAsBefore) counts.kept++
          else if (was !== undefined) counts.made++
        }
        if (now.length === before.length && now.filter((near, i) => near.one !== before[i]?.one).length > 16) counts.many++
        before = now
      }
    }),
    { seed: 20261205, numRuns: 60 },
  )
  expect(counts.kept).toBeGreaterThan(1000)
  expect(counts.made).toBeGreaterThan(100)
  expect(counts.many).toBeGreaterThan(10)
})
