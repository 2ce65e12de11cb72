import { describe, expect, it } from 'vitest'
import { expectMeets, referenceInput, referenceRows } from '../support/reference.ts'
import { numberOf, waybench, waybenchJson } from '../support/waybench.ts'

describe('waybench curve', () => {
  it('gives the exact clothoid at model size', async () => {
    for (const row of referenceRows('spiral', { quantity: 'exact clothoid at model size' })) {
      const answer = await waybenchJson(
        'curve',
        '--delta',
        '120deg',
        '--radius',
        `${referenceInput(row, 'radius')}mm`,
        '--easement',
        `${referenceInput(row, 'length')}mm`,
      )
      expectMeets(row, 'theta', numberOf(answer, 'spiralAngleRad'))
      expectMeets(row, 'X', numberOf(answer, 'points', 'SC', 'xMm'))
      expectMeets(row, 'Y', numberOf(answer, 'points', 'SC', 'yMm'))
      expectMeets(row, 'shift_p', numberOf(answer, 'shiftMm'))
      expectMeets(row, 'tangent_k', numberOf(answer, 'kMm'))
    }
  })

  it('gives the printed tangent and shift of a full-size curve with equal transitions', async () => {
    const row = referenceRows('spiral', { idPrefix: 'uk-shift' })[0]
    if (!row) throw new Error('row')
    const typed = ['--radius', '1000m', '--easement', '95.093m', '--delta', '32.4deg']
    const answer = await waybenchJson('curve', ...typed)
    expectMeets(row, 'shift', numberOf(answer, 'shiftMm'))
    // The print takes L/2 for the exact k, which is 3.6 mm shorter here.
    expectMeets(row, 'tangent', numberOf(answer, 'tangentInMm') - numberOf(answer, 'kMm') + 95093 / 2)
  })

  it('closes: stations add up, and ST lies on the far tangent at its distance from the PI', async () => {
    const answer = await waybenchJson('curve', '--delta', '75deg', '--radius', '30in', '--easement', '15in', '--easement-out=12in')
    const st = (name: string): number => numberOf(answer, 'points', 'ST', name)
    const delta = (75 * Math.PI) / 180
    const tangentIn = numberOf(answer, 'tangentInMm')
    const tangentOut = numberOf(answer, 'tangentOutMm')
    // 1e-9 mm: rounding of doubles at lengths of a metre.
    expect(st('xMm')).toBeCloseTo(tangentIn + tangentOut * Math.cos(delta), 9)
    expect(st('yMm')).toBeCloseTo(tangentOut * Math.sin(delta), 9)
    expect(st('headingRad')).toBeCloseTo(delta, 12)
    expect(st('stationMm')).toBeCloseTo(numberOf(answer, 'totalLengthMm'), 9)
    expect(numberOf(answer, 'points', 'TS', 'xMm')).toBe(0)
    expect(numberOf(answer, 'points', 'SC', 'stationMm')).toBeCloseTo(381, 9)
    expect(numberOf(answer, 'totalLengthMm')).toBeCloseTo(381 + 304.8 + numberOf(answer, 'arcLengthMm'), 9)
  })

  it('without an easement is a plain arc', async () => {
    const answer = await waybenchJson('curve', '--delta', '90deg', '--radius', '500mm')
    expect(numberOf(answer, 'tangentInMm')).toBeCloseTo(500, 9)
    expect(numberOf(answer, 'arcLengthMm')).toBeCloseTo(250 * Math.PI, 9)
    expect(numberOf(answer, 'externalMm')).toBeCloseTo(500 * (Math.SQRT2 - 1), 9)
    expect(numberOf(answer, 'shiftMm')).toBe(0)
  })

  it('says it in words with units', async () => {
    const { code, out } = await waybench('curve', '--delta', '60deg', '--radius', '30in', '--easement', '15in')
    expect(code).toBe(0)
    expect(out).toMatch(/^Radius +762\.00 mm {2}\(30 in\)$/m)
    expect(out).toMatch(/^SC +381\.00 /m)
  })

  it('refuses easements that the curve cannot hold and says what would just fit', async () => {
    const { code, out, err } = await waybench('curve', '--delta', '20deg', '--radius', '30in', '--easement', '15in')
    expect(code).toBe(2)
    expect(out).toBe('')
    // Both easements turn L/R = 0.5 rad; 20 deg = .349066 rad: they meet at 381 x .349066/.5 = 265.99 mm.
    expect(err).toContain('265.99 mm')
  })
})
