import { describe, expect, it } from 'vitest'
import { turnoutSolve, turnoutSolveKept } from '../../../src/core/turnout/index.ts'
import { requestOfScale } from '../../support/turnouts.ts'

describe('a turnout that was asked for before', () => {
  it('is the same as it was, and as one solved anew', () => {
    const request = requestOfScale('HO', 6, 'straight')
    const first = turnoutSolveKept(request)
    expect(turnoutSolveKept({ ...request })).toBe(first)
    expect(first).toEqual(turnoutSolve(request))
  })

  it('is not taken for another, whatever differs', () => {
    const request = requestOfScale('HO', 6, 'straight')
    for (const other of [
      requestOfScale('HO', 7, 'straight'),
      requestOfScale('N', 6, 'straight'),
      { ...request, hand: 'right' as const },
      { ...request, frog: 1 },
    ]) {
      expect(turnoutSolveKept(other)).toEqual(turnoutSolve(other))
      expect(turnoutSolveKept(other)).not.toEqual(turnoutSolveKept(request))
    }
  })

  it('is forgotten when many others have been asked for', () => {
    const request = requestOfScale('HO', 6, 'straight')
    const first = turnoutSolveKept(request)
    // Refused at once: each costs nothing.
    for (let i = 0; i < 100; i++) turnoutSolveKept({ ...request, frog: -i })
    expect(turnoutSolveKept(request)).not.toBe(first)
    expect(turnoutSolveKept(request)).toEqual(first)
  })
})
