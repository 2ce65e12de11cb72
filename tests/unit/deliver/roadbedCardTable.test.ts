import { describe, expect, it } from 'vitest'
import { buildTables, turnoutParts } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { benchUsual, constructionOf } from '../../../src/core/turnout/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const radiusMm = 600

/** A quarter circle to the right without easements, and a left turnout in it: its main runs away from the tangent that the card is measured along. */
function cardTable(hand: 'left' | 'right') {
  const plan = planWith({
    tracks: [
      aTrack({
        start: { kind: 'free', x: 0, y: 0 },
        corners: [aCorner({ x: 1000, y: 0, radius: radiusMm, easementIn: 0, easementOut: 0 })],
        end: { kind: 'free', x: 1000, y: hand === 'left' ? -1000 : 1000 },
      }),
    ],
    turnouts: [aTurnout({ stationMm: 500, frog: 5.5, hand })],
  })
  const set = pipelineCreate().derive(plan).network.turnouts.get('turnout-1')?.result
  if (!set?.ok) throw new Error(`the turnout is not solved: ${JSON.stringify(set).slice(0, 300)}`)
  const practice = benchUsual(set.geometry.request)
  const table = buildTables(turnoutParts(set.geometry), constructionOf(set.geometry, practice), 'metric').find(
    ({ key }) => key === 'roadbed',
  )
  if (!table) throw new Error('no card')
  return { table, halfMm: practice.roadbedMm / 2 }
}

describe('the table of the card for the roadbed', () => {
  it.each(['left', 'right'] as const)(
    'lays the edge that butts against a curved main on a circle, on both sides of the tangent: %s',
    (hand) => {
      const { table, halfMm } = cardTable(hand)
      const points = table.rows.map((row) => ({ along: Number(row[0]), off: Number(String(row[1]).replace('−', '-')) }))
      // Elementary: the edge of the main's roadbed is a circle about the middle of the main's, wider by half the roadbed.
      const onCircle = points.filter(({ along, off }) => Math.abs(Math.hypot(along, off + radiusMm) - radiusMm - halfMm) < 0.02)
      expect(onCircle.length).toBeGreaterThan(4)
      expect(Math.min(...onCircle.map(({ off }) => off))).toBeLessThan(0)
      expect(table.notes.join(' ')).toContain('minus')
    },
  )
})
