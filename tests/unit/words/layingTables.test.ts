import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { roadbedOf } from '../../../src/core/roadbed/index.ts'
import { tiesOf } from '../../../src/core/ties/index.ts'
import { roadbedTables, tieTables } from '../../../src/words/layingTables.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({
  tracks: [
    aTrack({
      corners: [{ id: 'corner-1', x: 2400, y: 0, radius: 600, easementIn: 0, easementOut: 0 }],
      end: { kind: 'free', x: 2400, y: 1500 },
    }),
    aTrack({
      id: 'track-2',
      name: 'Siding',
      lineClass: 'siding',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 1500, y: 140 },
    }),
  ],
  turnouts: [aTurnout({ stationMm: 640 })],
})
const derived = pipelineCreate().derive(plan)
const prefs = { units: 'both', fraction: 32 } as const

describe('the lists of ties and roadbed', () => {
  const ties = tieTables(tiesOf(derived), plan, prefs)
  const work = roadbedOf(derived)
  const roadbed = roadbedTables(work, plan, prefs)

  it('have as many cells in every row as there are columns, and no value missing', () => {
    for (const { columns, rows, notes } of [...ties, ...roadbed]) {
      expect(rows.length).toBeGreaterThan(0)
      for (const row of rows) expect(row).toHaveLength(columns.length)
      expect(JSON.stringify([rows, notes])).not.toMatch(/undefined|NaN|null/)
    }
  })

  it('tie counts of the page add up to its last line, both ways', () => {
    const [cut, where] = ties
    const column = (rows: readonly (readonly string[])[], i: number): readonly number[] => rows.map((row) => Number(row[i]))
    for (const [rows, i] of [[cut?.rows ?? [], 6] as const, [where?.rows ?? [], 1] as const]) {
      const counts = column(rows, i)
      expect(counts.slice(0, -1).reduce((sum, n) => sum + n, 0)).toBe(counts.at(-1))
    }
    expect(cut?.rows.at(-1)?.[6]).toBe(where?.rows.at(-1)?.[1])
  })

  it('tell mm and inches side by side, and the ramp behind the turnout with its layers', () => {
    expect(ties[0]?.rows[0]?.[1]).toMatch(/mm \(.* in\)/)
    const ramp = roadbed.find(({ title }) => title.startsWith('Ramp of Siding'))
    expect(ramp?.notes.join(' ')).toMatch(/18 layers of 0\.13 mm/)
    expect(roadbed.map(({ title }) => title)).toEqual([
      'Roadbed strips',
      'Fans of strips in curves',
      'Pieces at turnouts and crossings',
      expect.stringContaining('Ramp'),
    ])
  })
})
