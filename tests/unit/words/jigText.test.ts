import { describe, expect, it } from 'vitest'
import { jigKinds, jigSolve, printerUsual } from '../../../src/core/jigs/index.ts'
import { jigDimensionText, jigFactText, jigProblemText } from '../../../src/words/jigText.ts'
import type { MeasurePrefs } from '../../../src/words/measure.ts'
import { jigOf, jigRequest } from '../../support/solids.ts'

const metric: MeasurePrefs = { units: 'metric', fraction: 32 }
const imperial: MeasurePrefs = { units: 'imperial', fraction: 32 }

describe('words for jigs', () => {
  it.each(jigKinds)('tell facts and measures of %s as lengths with a unit, angles in degrees, or counts', (kind) => {
    const jig = jigOf(kind)
    for (const prefs of [metric, imperial]) {
      for (const fact of jig.facts)
        expect(jigFactText(fact, prefs)[1]).toMatch(fact.kind === 'count' ? /^\d+$/ : fact.kind === 'angle' ? /°/ : / (mm|in)$/)
      for (const dimension of jig.dimensions) expect(jigDimensionText(dimension, prefs)).toMatch(/°|mm|in|″/)
    }
  })

  it('names a bound that will do when it is typed as it reads', () => {
    const refused = jigSolve(jigRequest('tieSpacing', { tieWidthMm: 2.6037, spacingMm: 3 }), printerUsual)
    if (refused.ok || refused.problems[0] === undefined) throw new Error('a refusal was expected')
    const text = jigProblemText(refused.problems[0], metric)
    const least = Number(/; ([\d.]+) mm to/.exec(text)?.[1])
    expect(least).toBeCloseTo(3.76, 9)
    expect(jigSolve(jigRequest('tieSpacing', { tieWidthMm: 2.6037, spacingMm: least }), printerUsual).ok).toBe(true)
  })
})
