import { describe, expect, it } from 'vitest'
import { findingText } from '../../../src/words/findingText.ts'
import { planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, planWith } from '../../support/plans.ts'

const prefs = { units: 'metric', fraction: 64 } as const

describe('the words of cures', () => {
  it('name their corner where they are of several, so that no two buttons read alike', () => {
    // Two quarter turns and their easements on a side too short for both: either may give way.
    const plan = planWith({
      tracks: [
        aTrack({
          start: { kind: 'free', x: 0, y: -1500 },
          corners: [aCorner({ id: 'a', x: 0, y: 0, radius: 800 }), aCorner({ id: 'b', x: 1950, y: 0, radius: 800 })],
          end: { kind: 'free', x: 1950, y: -1500 },
        }),
      ],
    })
    const [finding] = planFindings(plan)
    if (finding === undefined) throw new Error('nothing is found')
    const { cures } = findingText(finding, plan, prefs)
    expect(cures.filter((text) => /^PI 1: [a-z]/.test(text)).length).toBeGreaterThan(0)
    expect(cures.filter((text) => /^PI 2: [a-z]/.test(text)).length).toBeGreaterThan(0)
    expect(new Set(cures).size).toBe(cures.length)
    const [cure] = [finding.cure, ...(finding.others ?? [])]
    expect(findingText({ ...finding, cure: cure ?? null, others: [] }, plan, prefs).cures[0]).toMatch(/^[A-Z][a-z]/)
  })
})
