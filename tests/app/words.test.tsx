import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lowerFirst } from '../../src/app/commands/actions.ts'
import { planFileProblemText } from '../../src/words/fileText.ts'
import { keepText } from '../../src/app/keepText.ts'
import { lengthStep } from '../../src/words/measure.ts'
import { sideName } from '../../src/words/names.ts'
import { alignmentProblemText, editProblemText, placementProblemText, turnoutProblemText } from '../../src/words/problemText.ts'
import type { AlignmentProblem } from '../../src/core/alignment/types.ts'
import type { PlacementProblem } from '../../src/core/network/types.ts'
import type { TurnoutProblem } from '../../src/core/turnout/types.ts'
import { roomPlan } from './desk.tsx'

const plan = roomPlan()
const track = plan.tracks['track-1']
const inches = { units: 'imperial', fraction: 64 } as const
const at = { x: 0, y: 0 }

/** One of each kind: a kind without words does not compile in the words, a kind without an example not here. */
const alignmentProblems: { readonly [K in AlignmentProblem['kind']]: Extract<AlignmentProblem, { kind: K }> } = {
  notFinite: { kind: 'notFinite', where: 'corners.0.x' },
  radiusNotPositive: { kind: 'radiusNotPositive', corner: 0, radiusMm: -25.4 },
  easementNegative: { kind: 'easementNegative', corner: 1, lengthMm: -1 },
  coincidentPoints: { kind: 'coincidentPoints', side: 1, at },
  reversal: { kind: 'reversal', corner: 0, at },
  easementsTooLong: { kind: 'easementsTooLong', corner: 0, at, excessRad: 0.1, shortByMm: 10, fittingFactor: 0.9 },
  noCurvature: { kind: 'noCurvature', corner: 0 },
  arcsMisfit: { kind: 'arcsMisfit', corner: 0, at, excessRad: -0.2 },
  arcWithoutTurn: { kind: 'arcWithoutTurn', corner: 0, arc: 1 },
  sideTooShort: { kind: 'sideTooShort', side: 2, at, haveMm: 100, needMm: 150, shortByMm: 50 },
  behindLeg: { kind: 'behindLeg', end: 'start', at },
  legUnsolved: { kind: 'legUnsolved', end: 'end', turnout: 'turnout-1' },
  legsNotInLine: { kind: 'legsNotInLine', offsetMm: 3, headingRad: 0.01 },
  tooFewCorners: { kind: 'tooFewCorners', have: 1, need: 3 },
  circular: { kind: 'circular', through: ['track-1', 'turnout-1'] },
  closedFromLeg: { kind: 'closedFromLeg', turnout: 'turnout-1' },
  shiftImpossible: { kind: 'shiftImpossible', corner: 0, shiftMm: 500, maxShiftMm: 90 },
}
const turnoutProblems: { readonly [K in TurnoutProblem['kind']]: Extract<TurnoutProblem, { kind: K }> } = {
  frogOutOfRange: { kind: 'frogOutOfRange', frog: 2, min: 4, max: 20 },
  badValue: { kind: 'badValue', where: 'gaugeMm', value: -1, least: 0, most: null, because: '' },
  noClosureSpread: { kind: 'noClosureSpread', shortByMm: 1 },
  switchAngleTooLarge: { kind: 'switchAngleTooLarge', switchAngleRad: 0.2, frogAngleRad: 0.1, minPointLengthMm: 40 },
  pointsLongerThanLead: { kind: 'pointsLongerThanLead', pointLengthMm: 90, roomMm: 60 },
}
const placementProblems: { readonly [K in PlacementProblem['kind']]: Extract<PlacementProblem, { kind: K }> } = {
  hostMissing: { kind: 'hostMissing' },
  hostUnsolved: { kind: 'hostUnsolved' },
  runsOff: { kind: 'runsOff', end: 'start', overMm: 12 },
  hostNotStraight: { kind: 'hostNotStraight', straightFromMm: 0, straightToMm: 200 },
  geometry: { kind: 'geometry', problem: turnoutProblems.noClosureSpread },
}

/** A sentence: begins large, ends with a stop, and has nothing of the machine in it. */
function isSentence(text: string): void {
  expect(text).toMatch(/^[A-Z“].*\.$/s)
  expect(text).not.toMatch(/undefined|NaN|null|\[object|!|Mm\b|Rad\b/)
}

describe('words for problems', () => {
  it.each(Object.values(alignmentProblems))('of an alignment: $kind', (problem) =>
    isSentence(alignmentProblemText(problem, track, plan, inches)),
  )
  it.each(Object.values(turnoutProblems))('of a turnout: $kind', (problem) => isSentence(turnoutProblemText(problem, inches)))
  it.each(Object.values(placementProblems))('of a place: $kind', (problem) => isSentence(placementProblemText(problem, inches)))
  it('of an edit', () => {
    isSentence(editProblemText({ kind: 'badValue', where: 'x', value: Number.NaN, expected: 'a number' }, plan))
    isSentence(editProblemText({ kind: 'notFound', table: 'tracks', id: 'track-9' }, plan))
    isSentence(editProblemText({ kind: 'inUse', table: 'lineClasses', id: 'main', by: 'Harbour line' }, plan))
  })
  it('of a file', () => {
    isSentence(planFileProblemText({ kind: 'badValue', where: '', value: undefined, expected: 'a plan' }))
    isSentence(planFileProblemText({ kind: 'tooDeep', where: 'tracks.a', limit: 64 }))
    isSentence(planFileProblemText({ kind: 'broken', reference: { kind: 'legTaken', where: 'tracks.b.start', turnout: 't', by: 'a' } }))
  })
  it('of a browser that keeps nothing', () => {
    expect(keepText({ kind: 'failed', reason: 'full', message: 'x' })).toContain('Save the plan to a file')
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
