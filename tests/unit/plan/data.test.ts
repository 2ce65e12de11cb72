import { describe, expect, it } from 'vitest'
import { dataCopy, dataDepthLimit, dataEqual, dataFreeze, dataShared } from '../../../src/core/plan/index.ts'

const faultOf = (value: unknown) => {
  const result = dataCopy(value)
  return result.ok ? null : result.fault
}
class Car {
  length = 40
}

describe('a copy as plain data', () => {
  it('says the same and shares nothing', () => {
    const value = { a: [1, { b: null }], c: 'x', d: false }
    const result = dataCopy(value)
    expect(result).toEqual({ ok: true, data: value })
    expect(result.ok && result.data !== value && (result.data as typeof value).a !== value.a).toBe(true)
  })

  it.each<[string, unknown, string]>([
    ['infinity', { a: [0, Infinity] }, 'a.1'],
    ['not a number', { a: { b: NaN } }, 'a.b'],
    ['a missing value', { a: undefined }, 'a'],
    // oxlint-disable-next-line no-sparse-arrays -- the hole is the case
    ['a hole in a list', { a: [1, , 3] }, 'a.1'],
    ['a function', { a: () => 1 }, 'a'],
    ['a big integer', 10n, ''],
    ['a date', { a: new Date(0) }, 'a'],
    ['a map', { a: new Map() }, 'a'],
    ['a key that reaches a prototype', JSON.parse('{"a": {"__proto__": 1}}'), 'a.__proto__'],
  ])('refuses %s and says where', (_, value, where) => {
    expect(faultOf(value)?.where).toBe(where)
  })

  it('names the first of several faults', () => {
    expect(faultOf({ a: { b: NaN }, c: Infinity })).toEqual({ where: 'a.b', value: NaN, expected: 'a finite number' })
  })

  it('goes down to the limit of depth and no further', () => {
    const nested = (levels: number): unknown => (levels === 0 ? 1 : [nested(levels - 1)])
    expect(faultOf(nested(dataDepthLimit))).toBeNull()
    expect(faultOf(nested(dataDepthLimit + 1))?.expected).toBe(`at most ${dataDepthLimit} levels`)
  })

  it('takes the plain fields of an instance for data, as JSON does', () => {
    expect(dataCopy(new Car())).toEqual({ ok: true, data: { length: 40 } })
  })
})

describe('plain data', () => {
  it('is equal when it says the same in whatever order of keys', () => {
    expect(dataEqual({ a: 1, b: [1, { c: 2 }] }, { b: [1, { c: 2 }], a: 1 })).toBe(true)
    for (const [a, b] of [
      [{ a: 1 }, { a: 1, b: 2 }],
      [
        { a: 1, c: 2 },
        { a: 1, b: 2 },
      ],
      [
        [1, 2],
        [2, 1],
      ],
      [[], {}],
      [null, {}],
      [1, '1'],
      [[1], [1, 2]],
    ]) {
      expect([a, b, dataEqual(a, b)]).toEqual([a, b, false])
    }
  })

  it('is frozen all the way down', () => {
    const frozen = dataFreeze({ a: [{ b: 1 }] })
    expect([frozen, frozen.a, frozen.a[0]].every((part) => Object.isFrozen(part))).toBe(true)
  })
})

describe('what two values share', () => {
  const before = { railway: { scale: 87, laying: { kerfMm: 0.5 } }, tracks: { a: { x: [1, 2] }, b: { x: [3] } } }

  it('is the earlier value itself where nothing is different, copied or not', () => {
    expect(dataShared(before, structuredClone(before))).toBe(before)
  })

  it('is every part that is not different; the rest is as it is now', () => {
    const after = { ...structuredClone(before), tracks: { a: { x: [1, 2] }, b: { x: [3, 4] }, c: { x: [] } } }
    const shared = dataShared(before, after)
    expect(shared).toEqual(after)
    expect(shared.railway).toBe(before.railway)
    expect(shared.tracks.a).toBe(before.tracks.a)
    expect(shared.tracks.b).not.toBe(before.tracks.b)
  })

  it('keeps the order of keys as it is now', () => {
    const turned = { tracks: structuredClone(before.tracks), railway: before.railway }
    expect(Object.keys(dataShared(before, turned))).toEqual(['tracks', 'railway'])
    expect(dataShared({ a: 1, b: 2 }, { a: 1 })).toEqual({ a: 1 })
    expect(dataShared([1, 2], { 0: 1, 1: 2 })).toEqual({ 0: 1, 1: 2 })
    expect(dataShared(null, before)).toBe(before)
  })
})
