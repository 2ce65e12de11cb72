import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { expansionOf } from '../../../src/core/rails/expansion.ts'
import { railsCreateDeriver } from '../../../src/core/rails/index.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const inch = 25.4
const { climate } = planWith().railway.laying

describe('rails against figures of the trade', () => {
  // Brass 10.4e-6 by degree F: a stick of 36 in grows by .011 in over 30 F. Common practice, no source.
  it('a stick of brass in a room that grows 30 F warmer', () => {
    const rise = (30 * 5) / 9
    const { closesPart, opensPart } = expansionOf({
      ...climate,
      railPerK: 10.4e-6 * 1.8,
      hottestC: climate.laidC + rise,
      benchPerHumidity: 0,
    })
    expect(closesPart * 36).toBeCloseTo(0.011, 3)
    expect(opensPart).toBeCloseTo(10.4e-6 * 1.8 * (climate.laidC - climate.coldestC), 12)
  })

  // Nine feet soldered into one and a swing of 150 F: .168 in. Common practice, no source.
  it('nine feet soldered into one, over 150 F', () => {
    const hot = { ...climate, railPerK: 10.4e-6 * 1.8, hottestC: climate.laidC + (150 * 5) / 9, benchPerHumidity: 0 }
    expect(expansionOf(hot).closesPart * 9 * 12).toBeCloseTo(0.168, 3)
  })

  // A bench that swells opens the gaps that warm rail closes: laid in the dampest air, all that follows dries it.
  it('damp air opens gaps and dry air closes them', () => {
    const damp = expansionOf({ ...climate, laidHumidity: climate.dampestHumidity })
    const dry = expansionOf({ ...climate, laidHumidity: climate.driestHumidity })
    expect(damp.closesPart).toBeGreaterThan(dry.closesPart)
    expect(dry.opensPart).toBeGreaterThan(damp.opensPart)
  })

  // Round half a circle the outer rail of HO is longer by gauge times pi: .651 in [NMRA-S-3.2-2010] gives 2.045 in. Derived.
  it('the outer rail of two quarter circles', () => {
    const corner = (id: string, x: number, y: number) => ({ id, x, y, radius: 700, easementIn: 0, easementOut: 0 })
    const corners = [corner('pi-1', 2000, 0), corner('pi-2', 2000, 2500)]
    const plan = planWith({ tracks: [aTrack({ corners, end: { kind: 'free', x: 0, y: 2500 } })] })
    const work = railsCreateDeriver()(pipelineCreate().derive(plan))
    const [left, right] = ['left', 'right'].map((side) =>
      work.runs.filter((run) => run.stretches[0]?.from?.rail === side).reduce((sum, { lengthMm }) => sum + lengthMm, 0),
    )
    expect(((right ?? 0) - (left ?? 0)) / inch).toBeCloseTo(0.651 * Math.PI, 3)
  })
})
