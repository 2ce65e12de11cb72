import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { patchApply } from '../../../src/core/edit/index.ts'
import {
  dataFreeze,
  idCompare,
  keysOf,
  planEmpty,
  planHasAny,
  planRecords,
  planRows,
  recordFind,
  RowMap,
  rowsWith,
  Values,
} from '../../../src/core/plan/index.ts'
import type { Guide, Plan } from '../../../src/core/plan/index.ts'

const guide = (id: string, x: number): Guide => ({ id, name: '', at: { x, y: 0 }, angleRad: 0 })
const byId = (guides: readonly Guide[]): { readonly [id: string]: Guide } => Object.fromEntries(guides.map((one) => [one.id, one]))
const withGuides = (guides: readonly Guide[]): Plan =>
  dataFreeze({ ...planEmpty(), guides: byId(guides.toSorted((a, b) => idCompare(a.id, b.id))) })

const ids = ['guide-1', 'guide-2', 'guide-10', 'guide-11', 'constructor', 'toString']
const anyGuides = fc.uniqueArray(fc.record({ id: fc.constantFrom(...ids), x: fc.integer() }), { selector: ({ id }) => id })

describe('a table changed by its rows', () => {
  it('is the table written anew, with its keys in their order', () => {
    fc.assert(
      fc.property(anyGuides, anyGuides, fc.subarray(ids), (first, put, gone) => {
        const plan = withGuides(first.map(({ id, x }) => guide(id, x)))
        const isPut = new Set(put.map(({ id }) => id))
        const out = gone.filter((id) => !isPut.has(id))
        const changes = [...put.map(({ id, x }) => ({ id, after: guide(id, x) })), ...out.map((id) => ({ id, after: null }))]
        const after = patchApply(plan, {
          railway: null,
          records: changes.map((change) => ({ table: 'guides', before: null, ...change })),
        })
        const touched = new Set(changes.map(({ id }) => id))
        const anew = withGuides([...first.filter(({ id }) => !touched.has(id)), ...put].map(({ id, x }) => guide(id, x)))
        expect(Object.entries(after.guides)).toEqual(Object.entries(anew.guides))
        expect(Object.isFrozen(after.guides)).toBe(true)
        // What the plan of before was is left as it was.
        expect(Object.entries(plan.guides)).toEqual(Object.entries(withGuides(first.map(({ id, x }) => guide(id, x))).guides))
        expect(planRecords(after, 'guides')).toEqual(Object.values(after.guides))
        expect(planHasAny(after, 'guides')).toBe(Object.keys(after.guides).length > 0)
        for (const id of ids) expect(recordFind(after, 'guides', id)).toBe(Object.hasOwn(after.guides, id) ? after.guides[id] : null)
      }),
    )
  })

  it('shares its keys with the table of before as long as no record comes or goes', () => {
    const plan = withGuides([guide('guide-1', 0), guide('guide-2', 0)])
    const put = (id: string): Plan =>
      patchApply(plan, { railway: null, records: [{ table: 'guides', id, before: null, after: guide(id, 5) }] })
    expect(planRows(put('guide-2'), 'guides').keys).toBe(planRows(plan, 'guides').keys)
    expect(planRows(put('guide-3'), 'guides').keys).not.toBe(planRows(plan, 'guides').keys)
  })
})

describe('a table that stands in its plan as rows', () => {
  const plan = withGuides([guide('guide-1', 0), guide('guide-2', 0)])
  const put = (into: Plan, id: string, x: number): Plan =>
    patchApply(into, { railway: null, records: [{ table: 'guides', id, before: null, after: guide(id, x) }] })
  const moved = put(plan, 'guide-2', 5)

  it('is read like any other: by its key, spread, copied, written', () => {
    const anew = withGuides([guide('guide-1', 0), guide('guide-2', 5)])
    expect({ ...moved }).toEqual({ ...anew })
    expect(Object.keys(moved)).toEqual(Object.keys(plan))
    expect(structuredClone(moved)).toEqual(structuredClone(anew))
    expect(JSON.stringify(moved)).toBe(JSON.stringify(anew))
    expect([Object.isFrozen(moved), Object.isFrozen(moved.guides)]).toEqual([true, true])
    expect(moved.guides).toBe(moved.guides)
  })

  it('keeps its identity through changes of other tables and of the railway', () => {
    const later = patchApply(moved, { railway: { before: moved.railway, after: { ...moved.railway, title: 'Other' } }, records: [] })
    expect(later.guides).toBe(moved.guides)
    expect(later.railway.title).toBe('Other')
  })

  it('is an object again once a record comes or goes, and may be changed by rows after that', () => {
    const grown = put(moved, 'guide-3', 1)
    expect(Object.keys(grown.guides)).toEqual(['guide-1', 'guide-2', 'guide-3'])
    expect(recordFind(put(grown, 'guide-3', 2), 'guides', 'guide-3')).toEqual(guide('guide-3', 2))
  })
})

describe('rows as a map', () => {
  it('are read as a map of the same entries is', () => {
    const entries = [
      ['b', 2],
      ['a', 1],
    ] as const
    const map = new Map<string, number>(entries)
    const rows = { keys: keysOf(['b', 'a']), values: Values.of([2, 1]) }
    const read = new RowMap(rows)
    expect([...read]).toEqual([...map])
    expect([[...read.keys()], [...read.values()], [...read.entries()]]).toEqual([[...map.keys()], [...map.values()], [...map.entries()]])
    expect([read.size, read.get('a'), read.get('constructor'), read.has('b'), read.has('c')]).toEqual([2, 1, undefined, true, false])
    const seen: unknown[] = []
    read.forEach((value, id) => seen.push([id, value]))
    expect(seen).toEqual([...map])
    expect([...new RowMap(rowsWith(rows, [[1, 7]])).entries()]).toEqual([
      ['b', 2],
      ['a', 7],
    ])
    expect(read.get('a')).toBe(1)
  })
})
