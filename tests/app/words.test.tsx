import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { keepText } from '../../src/app/keepText.ts'
import { lengthStep } from '../../src/words/measure.ts'
import { lowerFirst, sideName } from '../../src/words/names.ts'
import { roomPlan } from './desk.tsx'

const track = roomPlan().tracks['track-1']

describe('how it stands with the plan', () => {
  it('says when it is kept, and what to do where nothing is', () => {
    expect(keepText({ kind: 'failed', reason: 'full', message: 'x' })).toContain('Save the plan to a file')
    expect(keepText({ kind: 'failed', reason: 'newer', message: 'x' })).toMatch(/newer Waybench.*Save the plan.*load this page again/)
    expect(keepText({ kind: 'failed', reason: 'older', message: 'x' })).toMatch(/Close that page/)
    expect(keepText({ kind: 'elsewhere', hasOwn: true })).toMatch(/What you changed here is not kept/)
    expect(keepText({ kind: 'kept', atMs: new Date(2026, 2, 9, 9, 2).getTime() })).toBe('Kept at 09:02, here')
  })
})

describe('names', () => {
  it('of sides run from point to point', () => {
    expect(sideName(track, 0)).toBe('the side from the start to PI 1')
    expect(sideName(track, 1)).toBe('the side from PI 1 to PI 2')
    expect(sideName(track, 2)).toBe('the side from PI 2 to the end')
  })
  it('keep their capitals in the undo line', () => {
    expect(lowerFirst('Set radius')).toBe('set radius')
    expect(lowerFirst('PI 3')).toBe('PI 3')
  })
})

describe('an arrow step', () => {
  it('lands on the next mark of the ruler, never on the same value', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 5000, noNaN: true }),
        fc.constantFrom<1 | -1>(1, -1),
        fc.constantFrom(...(['imperial', 'metric'] as const)),
        (mm, direction, units) => {
          const step = units === 'metric' ? 1 : 25.4 / 16
          const next = lengthStep(mm, direction, { units, fraction: 16 })
          expect(Math.sign(next - mm)).toBe(direction)
          expect(Math.abs(next - mm)).toBeLessThanOrEqual(step * (1 + 1e-6))
          expect(Math.abs(next / step - Math.round(next / step))).toBeLessThan(1e-9)
        },
      ),
      { seed: 7, numRuns: 300 },
    )
  })
})
