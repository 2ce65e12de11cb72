import { expect, test } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { SheetSubject } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aPaper } from '../../support/paper.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const titleOf = (name: string, subject: SheetSubject): string => {
  const derived = pipelineCreate().derive(planWith({ tracks: [aTrack({ name })], turnouts: [aTurnout({ name })] }))
  const options = {
    paper: aPaper('a4'),
    marginMm: 8,
    overlapMm: 10,
    calibrationX: 1,
    calibrationY: 1,
    units: 'metric',
    date: '2026-11-25',
  } as const
  return sheetsForSubject(derived, subject, options).title
}

test('a title says what the sheet is of once, also where the name begins with it', () => {
  const track = { kind: 'track', id: 'track-1' } as const
  const turnout = { kind: 'turnout', id: 'turnout-1' } as const
  expect(titleOf('Quay', track)).toBe('Track Quay')
  expect(titleOf('Track 1', track)).toBe('Track 1')
  expect(titleOf('Quay', turnout)).toBe('Turnout Quay, No. 6 left, straight points')
  expect(titleOf('Turnout 1', turnout)).toBe('Turnout 1, No. 6 left, straight points')
})
