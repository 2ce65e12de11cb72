import { describe, expect, it } from 'vitest'
import type { Plan } from '../../../src/core/plan/index.ts'
import { vehicleByKey, vehicleOfRow } from '../../../src/core/vehicles/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, planWith } from '../../support/plans.ts'
import { referenceRows } from '../../support/reference.ts'

/** H0 as the table of NEM 103 implies it. */
const ratio = 87
const gaugeMm = 16.5

/** A right angle of one radius with a coach of the standard, and a post beside the middle of the curve, so far from the centreline. */
function bendWithPost(group: string, radius: number, side: 'inside' | 'outside', awayMm: number): Plan {
  const row = vehicleByKey(`coach-nem-${group.toLowerCase()}`)
  const { main } = planWith().lineClasses
  if (row === null || main === undefined) throw new Error(`no coach ${group}`)
  // The curve turns about (0, 0); its middle lies under 45 degrees below to the right.
  const out = (radius + (side === 'outside' ? awayMm : -awayMm)) * Math.SQRT1_2
  const back = side === 'outside' ? 200 : -200
  const outline = [
    { x: out, y: -out },
    { x: out + back, y: -out },
    { x: out, y: -out - back },
  ]
  return planWith({
    // The table holds what cars sweep against the clearance itself: nothing more is kept.
    railway: { runningClearanceMm: 0.001, ratio, gaugeMm },
    vehicles: [{ id: 'coach', ...vehicleOfRow(row, ratio) }],
    lineClasses: [{ ...main, cars: ['coach'], minRadiusMm: 0 }],
    tracks: [
      aTrack({
        start: { kind: 'free', x: -1500, y: -radius },
        corners: [aCorner({ x: radius, y: -radius, radius, easementIn: 0, easementOut: 0 })],
        end: { kind: 'free', x: radius, y: 1500 },
      }),
    ],
    obstacles: [{ id: 'post', name: 'Post', undersideMm: 0, outline }],
  })
}

const isFouled = (plan: Plan): boolean => planFindings(plan).some(({ rule }) => rule === 'fixed-clearance')

/*
 * NEM 103 (2016) prints by how much the clearance has to be wider on each side of a curve, in whole mm. The clearance of straight track already
 * leaves play beside a coach, so the table asks less than a coach swings: never more, and less by 1.2 mm and a tenth of the gauge at most.
 */
describe('a post beside a curve in H0', () => {
  it('is fouled by a coach where it stands nearer than its width and the widening that NEM 103 prints, and clear beyond the play', () => {
    let compared = 0
    for (const { id, inputs, expected } of referenceRows('clearances', { idPrefix: 'nem103-R' })) {
      const radius = (inputs['radius'] as { readonly value: number }).value
      if (![500, 600, 800, 1200].includes(radius)) continue
      for (const { name, value } of expected) {
        const [size, group = ''] = name.split('_')
        if (size !== 'H0') continue
        const row = vehicleByKey(`coach-nem-${group.toLowerCase()}`)
        const width = row === null ? Number.NaN : Math.max(...row.frames.map((frame) => (frame.kind === 'car' ? frame.widthMm : 0))) / ratio
        const near = width / 2 + value
        const beyond = near + 1.2 + gaugeMm / 10
        // A coach of the standard swings to either side about as much; one side at least takes all that the table gives.
        const sides = ['inside', 'outside'] as const
        expect(
          sides.some((side) => isFouled(bendWithPost(group, radius, side, near))),
          `${id} ${name}`,
        ).toBe(true)
        expect(
          sides.some((side) => isFouled(bendWithPost(group, radius, side, beyond))),
          `${id} ${name}`,
        ).toBe(false)
        compared++
      }
    }
    expect(compared).toBeGreaterThan(8)
  })
})
