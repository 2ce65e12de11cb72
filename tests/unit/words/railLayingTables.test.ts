import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { LineClass } from '../../../src/core/plan/index.ts'
import { railsCreateDeriver } from '../../../src/core/rails/index.ts'
import { railLayingTables } from '../../../src/words/railLayingTables.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const metric = { units: 'metric', fraction: 16 } as const

describe('lists of laying', () => {
  const bent = aTrack({
    corners: [{ id: 'corner-1', x: 3000, y: 0, radius: 700, easementIn: 200, easementOut: 200 }],
    end: { kind: 'free', x: 3000, y: 3000 },
  })
  const level = planWith({ tracks: [bent], turnouts: [aTurnout({ stationMm: 800 })] })
  const main = level.lineClasses['main'] as LineClass
  const plan = { ...level, lineClasses: { ...level.lineClasses, main: { ...main, superelevationMm: 0.5 } } }
  const rails = railsCreateDeriver()(pipelineCreate().derive(plan))
  const tables = railLayingTables(rails, plan, metric)
  const rowsOf = (title: string): readonly (readonly string[])[] => tables.find((table) => table.title === title)?.rows ?? []

  it('mark every piece once, with the places of its curve', () => {
    const rows = rowsOf('Marks on the rails')
    expect(rows.map(([mark]) => mark).toSorted()).toEqual(rails.pieces.map(({ id }) => id).toSorted())
    const told = rows.map(([, marks]) => marks).join(', ')
    for (const place of ['TS', 'SC', 'CS', 'ST']) expect(told.match(new RegExp(`${place} `, 'g'))?.length, place).toBe(2)
  })

  it('count spikes as the plan of spikes does, and name every tie that is spiked', () => {
    const total = rowsOf('Spikes').reduce((sum, row) => sum + Number(row.at(-1)), 0)
    expect(total).toBe(rails.spiking.spikes)
    const stations = rowsOf(`Spiked ties of ${bent.name}`).flatMap((row) => (row[3] ?? '').split(', '))
    expect(stations).toHaveLength(rails.spiking.tracks[0]?.ties.length ?? Number.NaN)
  })

  it('raise the outer rail in layers up to what the class asks, and say nothing of it where it is level', () => {
    const shims = rowsOf('Shims under the outer rail')
    // 0.5 mm of layers of 0.127 mm: four, the last one past the half millimetre by less than half a layer.
    expect(shims.map(([, , layer]) => layer)).toEqual(['1', '2', '3', '4'])
    expect(rowsOf('Gauge and superelevation on curves').map((row) => row.at(-1))).toEqual(['0.50 mm'])
    const titles = railLayingTables(railsCreateDeriver()(pipelineCreate().derive(level)), level, metric).map(({ title }) => title)
    expect(titles).not.toContain('Shims under the outer rail')
  })
})
