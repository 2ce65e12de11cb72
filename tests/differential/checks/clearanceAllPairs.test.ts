import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findingsOf } from '../../../src/core/checks/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { allPairs } from '../../support/allPairs.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** Bands are swept at other stations: every 10 mm against every 8 mm where curvature changes, and at once where it does not. */
const slackMm = 0.25

describe('tracks beside each other', () => {
  const bend = (id: string, lineClass: string, y: number, radius: number, easement: number) =>
    aTrack({
      id,
      lineClass,
      start: { kind: 'free', x: 0, y },
      corners: [aCorner({ x: 2600 - y, y, radius: radius - y, easementIn: easement, easementOut: easement })],
      end: { kind: 'free', x: 2600 - y, y: 2400 },
    })

  test('are told by the index as by every pair, and as near', () => {
    let [told, clear] = [0, 0]
    const apart = fc.integer({ min: 34, max: 58 })
    fc.assert(
      fc.property(
        fc.array(apart, { minLength: 3, maxLength: 3 }),
        fc.integer({ min: 900, max: 1300 }),
        fc.constantFrom(0, 220),
        fc.constantFrom(5, 6, 8),
        (centres, radius, easement, frog) => {
          let y = 0
          const beside = centres.map((mm, i) => bend(`t${i + 1}`, i % 2 === 0 ? 'main' : 'yard', (y += mm), radius, easement))
          const spur = aTrack({
            id: 'spur',
            lineClass: 'yard',
            start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
            corners: [aCorner({ x: 1000, y: -44, radius: 700, easementIn: 0, easementOut: 0 })],
            end: { kind: 'free', x: 1600, y: -44 },
          })
          const plan = planWith({
            tracks: [bend('t0', 'main', 0, radius, easement), ...beside, spur],
            turnouts: [aTurnout({ track: 't0', stationMm: 300, hand: 'right', frog })],
          })
          const derived = pipelineCreate().derive(plan)
          const findings = findingsOf(derived).filter(({ rule }) => rule === 'track-clearance')
          for (const [pair, { gapMm, isPlain }] of allPairs(derived)) {
            if (!isPlain) continue
            const measured = findings
              .filter(({ record, otherRecord }) => [`${record} ${otherRecord}`, `${otherRecord} ${record}`].includes(pair))
              .map((finding) => finding.measured ?? Infinity)
            const limit = plan.railway.runningClearanceMm
            if (gapMm < limit - slackMm) {
              told++
              expect(Math.min(...measured), pair).toBeLessThan(limit)
              if (gapMm > slackMm) expect(Math.abs(Math.min(...measured) - gapMm), pair).toBeLessThan(slackMm)
            } else if (gapMm > limit + slackMm) {
              clear++
              expect(measured, pair).toEqual([])
            }
          }
        },
      ),
      { seed: 91, numRuns: 8 },
    )
    expect(told).toBeGreaterThan(4)
    expect(clear).toBeGreaterThan(4)
  })
})
