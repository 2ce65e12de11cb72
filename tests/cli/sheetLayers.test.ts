import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { planWrite } from '../../src/formats/planjson.ts'
import { pdfRead } from '../support/pdfPages.ts'
import { aTrack, aTurnout, planWith } from '../support/plans.ts'
import { waybench } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-'))
const planPath = join(folder, 'plan.json')
const out = join(folder, 'sheets.pdf')
writeFileSync(
  planPath,
  planWrite(planWith({ tracks: [aTrack({ end: { kind: 'free', x: 900, y: 0 } })], turnouts: [aTurnout({ stationMm: 300 })] })),
)

const print = (...typed: readonly string[]) =>
  waybench('sheets', planPath, '--turnout', 'turnout-1', '--paper', 'a4', '--date', '2026-11-26', '--out', out, ...typed)
async function layersOf(...typed: readonly string[]): Promise<readonly string[]> {
  expect(await print(...typed)).toMatchObject({ code: 0, err: '' })
  return (await pdfRead(new Uint8Array(readFileSync(out)))).layers
}

describe('waybench sheets, layers', () => {
  it('draws only those that are named, and the frame', async () => {
    expect((await layersOf('--layers', 'rail-head, ties')).toSorted()).toEqual([
      'Frame, bars and title',
      'Head of the rails, with the gauge line',
      'Ties',
    ])
  })

  it('draws those that are not usual when all are asked, less those that are taken out again', async () => {
    const [usual, all] = [await layersOf(), await layersOf('--layers', 'all', '--without', 'ties')]
    expect(usual).toContain('Ties')
    expect(usual).not.toContain('Marks to prick through')
    expect(all).toContain('Marks to prick through')
    expect(all).not.toContain('Ties')
    expect(await layersOf('--without', 'text')).not.toContain('Words and figures of the plan')
  })

  it.each(['layers', 'without'])('--%s with a layer that there is not says which there are', async (option) => {
    const answer = await print(`--${option}`, 'rail-haed')
    expect(answer.code).toBe(2)
    expect(answer.err).toContain(`--${option} rail-haed: no such layer.`)
    expect(answer.err).toContain('rail-head')
  })
})
