import { describe, expect, test } from 'vitest'
import { planEmpty } from '../../../src/core/plan/index.ts'
import { checkStandard } from '../../../src/core/turnout/index.ts'
import { findingText } from '../../../src/words/findingText.ts'
import { fineTextsApart } from '../../../src/words/measure.ts'
import { planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout } from '../../support/plans.ts'

const metric = { units: 'metric', fraction: 16 } as const

// NEM 110 (2018) gives N a flangeway of 0.80 to 0.90 mm, as REFERENCES.md has it.
function bentN(flangewayMm: number) {
  const empty = planEmpty('N', 'metric')
  if (empty === null) throw new Error('N is a scale')
  const track = aTrack({ corners: [aCorner({ x: 1500, y: 0, radius: 'class' })], end: { kind: 'free', x: 1500, y: 1500 } })
  const plan = {
    ...empty,
    railway: { ...empty.railway, flangewayMm },
    tracks: { [track.id]: track },
    turnouts: { 'turnout-1': aTurnout({ stationMm: 1350, frog: 6 }) },
  }
  const told = planFindings(plan)
    .filter(({ rule }) => rule === 'check-dimensions')
    .map((finding) => findingText(finding, plan, metric).body)
  return { plan, told }
}

describe('check dimensions at their limit', () => {
  test('a flangeway as wide as the standard allows is allowed on a curve too, and a hundredth over it is not', () => {
    const { plan, told } = bentN(0.9)
    expect(checkStandard(plan.railway).flangeway.maxMm).toBeCloseTo(0.9, 9)
    expect(told).toEqual([])
    expect(bentN(0.91).told).not.toEqual([])
  })

  test('what breaks a limit never reads like the limit', () => {
    for (const text of bentN(0.907).told) {
      const [, here, asked] = /is ([\d.]+) mm; .* ([\d.]+) mm\./.exec(text) ?? []
      expect(here).not.toBe(asked)
    }
    expect(fineTextsApart(0.906, 0.9, metric)).toEqual(['0.91 mm', '0.90 mm'])
    expect(fineTextsApart(0.904, 0.9, metric)).toEqual(['0.904 mm', '0.900 mm'])
    const inches = fineTextsApart(0.91, 0.9, { ...metric, units: 'imperial' })
    expect(inches[0]).not.toBe(inches[1])
    expect(fineTextsApart(2, 1, metric)).toEqual(['2.00 mm', '1.00 mm'])
  })
})
