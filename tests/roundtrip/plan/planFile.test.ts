import { describe, expect, it } from 'vitest'
import { planFileName, planFileRead, planRead, planSizeLimit, planWrite } from '../../../src/formats/planjson.ts'
import { aBenchwork, aCorner, aCrossing, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

const plan = planWith({
  tracks: [aTrack({ corners: [aCorner()] })],
  turnouts: [aTurnout({ kind: { kind: 'three-way', secondFrog: 7, secondAfterMm: 40 } })],
  crossings: [aCrossing({ other: 'track-1', slip: 'double' })],
  benchworks: [aBenchwork()],
})
const problemOf = (text: string) => {
  const result = planRead(text)
  if (result.ok) throw new Error('it was taken')
  return result.problem
}

describe('a plan file', () => {
  it('gives back the plan that was written', () => {
    expect(planRead(planWrite(plan))).toEqual({ ok: true, plan, notes: [] })
    expect(planRead(`\uFEFF${planWrite(plan)}`)).toEqual({ ok: true, plan, notes: [] })
  })

  it('is the same text for the same plan, in whatever order its keys came', () => {
    const reversed: unknown = JSON.parse(planWrite(plan), (_key, value: unknown) =>
      typeof value === 'object' && value !== null && !Array.isArray(value) ? Object.fromEntries(Object.entries(value).toReversed()) : value,
    )
    const result = planRead(JSON.stringify(reversed))
    expect(result.ok && planWrite(result.plan)).toBe(planWrite(plan))
  })

  it('begins with what it is', () => {
    expect(planWrite(plan).split('\n').slice(0, 5)).toEqual([
      '{',
      '  "format": "waybench-plan",',
      '  "version": 6,',
      '  "railway": {',
      '    "title": "Untitled railway",',
    ])
  })

  it('keeps what other programs wrote through an edit and a save', () => {
    const text = planWrite(plan)
      .replace('"version": 6,', '"version": 6, "x-camera": {"zoom": 2},')
      .replace('"name": "Main",\n      "lineClass"', '"name": "Main", "x-spikes": [1, 2],\n      "lineClass"')
      .replace('"radius": "class"', '"radius": "class", "x-note": "tight"')
    const opened = planRead(text)
    if (!opened.ok) throw new Error('refused')
    const edited = planAfter(
      opened.plan,
      { kind: 'track.set', id: 'track-1', change: { name: 'Harbour' } },
      { kind: 'corner.set', track: 'track-1', corner: 'pi-1', change: { radius: 700 } },
    )
    const again = planRead(planWrite(edited))
    expect(again.ok && again.plan).toMatchObject({
      'x-camera': { zoom: 2 },
      tracks: { 'track-1': { name: 'Harbour', 'x-spikes': [1, 2], corners: [{ radius: 700, 'x-note': 'tight' }] } },
    })
  })
})

describe('a file that cannot be opened', () => {
  it('is said to break off when it does, wherever that is', () => {
    const text = planWrite(plan).trimEnd()
    for (let length = 1; length < text.length; length += 7) {
      expect(problemOf(text.slice(0, length))).toMatchObject({ kind: 'truncated', offset: length })
    }
  })

  it('is said to be damaged, with line and column', () => {
    const lines = planWrite(plan).split('\n')
    lines[4] = '    "title": Quay,'
    expect(problemOf(lines.join('\n'))).toMatchObject({ kind: 'damaged', line: 5, column: 14, found: 'Q', expected: 'a value' })
    expect(problemOf('{"a": 1,}')).toMatchObject({ kind: 'damaged', line: 1, column: 9, found: '}' })
    expect(problemOf('{"a": 1 "b": 2}')).toMatchObject({ kind: 'damaged', column: 9, expected: "',' or '}'" })
    expect(problemOf('%PDF-1.7')).toMatchObject({ kind: 'damaged', line: 1, column: 1 })
    expect(problemOf(' \n')).toEqual({ kind: 'empty' })
  })

  it('is refused by its size before it is read', async () => {
    const size = 100 * 1024 * 1024
    expect(problemOf('7'.repeat(planSizeLimit + 1))).toMatchObject({ kind: 'tooLarge', limit: planSizeLimit })
    const huge = { size, text: () => Promise.reject(new Error('was read')) } as unknown as Blob
    expect(await planFileRead(huge)).toEqual({ ok: false, problem: { kind: 'tooLarge', size, limit: planSizeLimit } })
  })

  it('is refused when brackets are nested a million deep', () => {
    const depth = 1_000_000
    expect(problemOf(`{"format":"waybench-plan","x":${'['.repeat(depth)}${']'.repeat(depth)}}`).kind).toBe('tooDeep')
    expect(problemOf('['.repeat(depth))).toMatchObject({ kind: 'truncated', offset: depth })
  })

  it('is reported with the words of the system when it cannot be read', async () => {
    const gone = { size: 10, text: () => Promise.reject(new Error('the file is gone')) } as unknown as Blob
    expect(await planFileRead(gone)).toEqual({ ok: false, problem: { kind: 'unreadable', reason: 'the file is gone' } })
    expect((await planFileRead(new Blob([planWrite(plan)]))).ok).toBe(true)
  })
})

describe('the name of a plan file', () => {
  it.each([
    ['Fennimore Quay Tramway & Dock Co.', 'fennimore-quay-tramway-dock-co.json'],
    ['Überlandbahn Nº 2', 'uberlandbahn-no-2.json'],
    ['../../etc', 'etc.json'],
    ['???', 'railway.json'],
    ['', 'railway.json'],
  ])('of %j is %s', (title, name) => {
    expect(planFileName(planWith({ railway: { title } }))).toBe(name)
  })
})
