import { describe, expect, test } from 'vitest'
import { keptForAll, placesOtherwise } from '../../../src/core/plan/index.ts'

interface Thing {
  readonly size: number
}

/** Even ones are told with what they are multiplied by; asked: each that was not remembered. */
function evenOnes() {
  const asked: Thing[] = []
  const of = keptForAll((thing: Thing, by: number) => {
    asked.push(thing)
    if (thing.size < 0) throw new Error('negative')
    return thing.size % 2 === 0 ? { told: thing.size * by } : null
  })
  return { of, asked }
}

describe('what is kept for all of a list', () => {
  const [two, three, four]: readonly Thing[] = [{ size: 2 }, { size: 3 }, { size: 4 }]
  if (!two || !three || !four) throw new Error('three things')

  test('is told in order without those of which nothing is made, as the same objects again', () => {
    const { of, asked } = evenOnes()
    const first = of([two, three, four], 10)
    expect(first).toEqual([{ told: 20 }, { told: 40 }])
    expect(of([two, three, four], 10)).toBe(first)
    expect(asked).toEqual([two, three, four])
  })

  test('is made anew where another stands in a place, and found again where one comes back', () => {
    const { of, asked } = evenOnes()
    const first = of([two, three, four], 10)
    const six: Thing = { size: 6 }
    expect(of([two, six, four], 10)).toEqual([{ told: 20 }, { told: 60 }, { told: 40 }])
    expect(asked).toEqual([two, three, four, six])
    const back = of([two, three, four], 10)
    expect(back).toEqual(first)
    expect(back.map((one, i) => one === first[i])).toEqual([true, true])
    expect(asked).toHaveLength(4)
    // The list that was given out stays what it was.
    expect(first).toEqual([{ told: 20 }, { told: 40 }])
  })

  test('is in the order of a list that grew, shrank or was turned round, and nobody is asked twice', () => {
    const { of, asked } = evenOnes()
    of([two, three], 10)
    expect(of([four, two, three], 10)).toEqual([{ told: 40 }, { told: 20 }])
    expect(of([four, two], 10)).toEqual([{ told: 40 }, { told: 20 }])
    expect(of([two, four], 10)).toEqual([{ told: 20 }, { told: 40 }])
    expect(of([], 10)).toEqual([])
    expect(asked).toEqual([two, three, four])
  })

  test('is all made anew for another number', () => {
    const { of } = evenOnes()
    of([two, three, four], 10)
    expect(of([two, three, four], 100)).toEqual([{ told: 200 }, { told: 400 }])
  })

  test('is not mixed with what was made in a look that failed', () => {
    const { of } = evenOnes()
    of([two, three, four], 10)
    expect(() => of([four, { size: -1 }, four], 10)).toThrow('negative')
    expect(of([two, three, { size: 6 }], 10)).toEqual([{ told: 20 }, { told: 60 }])
  })
})

test('places of other objects are told rising, and of lists of unlike length not at all', () => {
  const [a, b, c] = [{}, {}, {}]
  expect(placesOtherwise([a, b, c], [a, b, c])).toEqual([])
  expect(placesOtherwise([a, b, c], [c, b, a])).toEqual([0, 2])
  expect(placesOtherwise([a, b], [a, b, c])).toBeNull()
})
