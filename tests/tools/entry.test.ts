import { describe, expect, it } from 'vitest'
import { entryPoint, type EntryFrame } from '../../src/tools/shared/entry.ts'

const frame: EntryFrame = { from: { x: 100, y: 50 }, towards: { x: 103, y: 54 }, units: 'imperial' }

describe('a typed place', () => {
  it.each([
    ['10in', { x: 100 + 254 * 0.6, y: 50 + 254 * 0.8 }],
    ['10', { x: 100 + 254 * 0.6, y: 50 + 254 * 0.8 }],
    ['100mm<90', { x: 100, y: 150 }],
    ['1\' 6-1/2" < 180°', { x: 100 - 469.9, y: 50 }],
    ['100mm<-90', { x: 100, y: -50 }],
    ['100mm, -90', { x: 100, y: -50 }],
    ['1\' 6-1/2",180', { x: 100 - 469.9, y: 50 }],
    // No space behind it: a decimal comma.
    ['2,54', { x: 100 + 64.516 * 0.6, y: 50 + 64.516 * 0.8 }],
    // Angle only: as far as the pointer is, a 3-4-5 triangle.
    ['<0', { x: 105, y: 50 }],
    ['10mm; 20mm', { x: 10, y: 20 }],
    ['@10mm; -20mm', { x: 110, y: 30 }],
  ])('%s', (text, point) => {
    const read = entryPoint(text, frame)
    if (!read.ok) throw new Error(JSON.stringify(read.refusal))
    // Rounding of a few products; a nanometre.
    expect(Math.hypot(read.point.x - point.x, read.point.y - point.y)).toBeLessThan(1e-9)
  })

  it.each([
    ['', 'length'],
    ['24 furlongs', 'length'],
    ['24in<', 'angle'],
    ['24in<x', 'angle'],
    ['0', 'notPositive'],
    ['-3in', 'notPositive'],
    ['3in;', 'length'],
  ])('refuses "%s"', (text, kind) => {
    expect(entryPoint(text, frame)).toMatchObject({ ok: false, refusal: { kind } })
  })

  it('needs a point to measure from, and a direction', () => {
    expect(entryPoint('24in', { ...frame, from: null })).toMatchObject({ refusal: { kind: 'nothingToMeasureFrom' } })
    expect(entryPoint('@1;1', { ...frame, from: null })).toMatchObject({ refusal: { kind: 'nothingToMeasureFrom' } })
    expect(entryPoint('24in', { ...frame, towards: null })).toMatchObject({ refusal: { kind: 'noDirection' } })
    expect(entryPoint('<45', { ...frame, towards: frame.from })).toMatchObject({ refusal: { kind: 'noDirection' } })
  })
})
