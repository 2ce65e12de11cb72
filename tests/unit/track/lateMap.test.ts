import { describe, expect, it } from 'vitest'
import { LateMap } from '../../../src/core/track/lateMap.ts'

/** The keys of three; of the last one nothing can be made. */
const keys = new Map([
  ['a', 1],
  ['b', 2],
  ['c', 3],
])

function made(): { readonly map: LateMap<string>; readonly calls: string[] } {
  const calls: string[] = []
  const map = new LateMap(keys, (id) => {
    calls.push(id)
    return id === 'c' ? undefined : id.toUpperCase()
  })
  return { map, calls }
}

describe('a map whose values are made late', () => {
  it('makes nothing before it is asked, and each value once', () => {
    const { map, calls } = made()
    expect([map.size, map.has('a'), map.has('x'), [...map.keys()]]).toEqual([3, true, false, ['a', 'b', 'c']])
    expect(calls).toEqual([])
    expect([map.get('b'), map.get('b')]).toEqual(['B', 'B'])
    expect(calls).toEqual(['b'])
  })

  it('makes nothing for a key that is not there', () => {
    const { map, calls } = made()
    expect(map.get('x')).toBeUndefined()
    expect(calls).toEqual([])
  })

  it('goes through the same values as a map that was made at once, without those that cannot be made', () => {
    const at = new Map([
      ['a', 'A'],
      ['b', 'B'],
    ])
    const { map } = made()
    const each: [string, string][] = []
    map.forEach((value, id) => each.push([id, value]))
    expect([[...map], [...map.entries()], each]).toEqual([[...at], [...at], [...at]])
    expect([...map.values()]).toEqual([...at.values()])
  })
})
