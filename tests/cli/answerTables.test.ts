import { existsSync, mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { answerTableRows, answerTables } from '../../src/cli/answerTables.ts'
import { csvRead } from '../support/csvRead.ts'
import { waybench, waybenchJson } from '../support/waybench.ts'

const demo = 'public/demo/fennimore.json'
const folder = mkdtempSync(join(tmpdir(), 'waybench-csv-'))
const at = (name: string): string => join(folder, name)
const rowsAt = (path: string) => csvRead(readFileSync(path, 'utf8').slice(1))

describe('an answer as tables', () => {
  it('has one of what stands alone, and one for each list, those within lists led by whose they are', () => {
    const tables = answerTables({
      title: 'Quay',
      size: { lengthMm: 12.5, isLoop: false },
      corners: [1, 2],
      tracks: [
        { track: 'main', limit: null, points: [{ xMm: 1, frame: { yMm: 2 } }] },
        { track: 'siding', radiusMm: 600, points: [{ xMm: 3 }, { xMm: 4 }] },
      ],
      none: [],
    })
    expect(tables).toEqual([
      {
        name: 'values',
        heads: ['name', 'value'],
        rows: [
          ['title', 'Quay'],
          ['size.lengthMm', '12.5'],
          ['size.isLoop', 'no'],
          ['corners', '1; 2'],
        ],
      },
      {
        name: 'tracks',
        heads: ['track', 'limit', 'radiusMm'],
        rows: [
          ['main', '', ''],
          ['siding', '', '600'],
        ],
      },
      {
        name: 'tracks points',
        heads: ['tracks', 'xMm', 'frame.yMm'],
        rows: [
          ['main', '1', '2'],
          ['siding', '3', ''],
          ['siding', '4', ''],
        ],
      },
    ])
    expect(answerTableRows(tables.slice(1, 2))).toEqual([['track', 'limit', 'radiusMm'], ...(tables[1]?.rows ?? [])])
    expect(
      answerTableRows(tables.slice(0, 2))
        .slice(0, 8)
        .map(([first]) => first),
    ).toEqual(['values', 'name', 'title', 'size.lengthMm', 'size.isLoop', 'corners', undefined, 'tracks'])
  })
})

describe('--csv', () => {
  it.each([
    ['network', demo],
    ['check', demo],
    ['line', demo, '--track', 'track-1', '--every', '500mm'],
    ['setout', demo, '--track', 'track-1', '--by', 'offset'],
    ['clearance', demo, '--vehicle', 'passenger-85', '--track', 'track-2'],
    ['curve', '--radius', '30in', '--delta', '40deg'],
  ])('writes what %s tells, number for number', async (...typed) => {
    const path = at(`${typed[0] ?? ''}.csv`)
    await waybench(...typed, '--csv', path)
    const { out } = await waybench(...typed, '--json')
    const rows = rowsAt(path)
    // Every number of the answer stands in a cell, and no cell holds one that is not in the answer.
    const told: number[] = []
    JSON.parse(out, (_key, value: unknown) => {
      if (typeof value === 'number') told.push(value)
      return value
    })
    expect(told.length).toBeGreaterThan(5)
    const cells = new Set(rows.flat().flatMap((cell) => [cell, ...cell.split(/[; ]+/)]))
    for (const value of told) expect(cells).toContain(String(value))
    for (const row of rows) expect(row.join('')).not.toContain('object')
  })

  it('has a row for each place on a line', async () => {
    await waybench('line', demo, '--track', 'track-1', '--every', '500mm', '--csv', at('line.csv'))
    const { stations } = await waybenchJson('line', demo, '--track', 'track-1', '--every', '500mm')
    const rows = rowsAt(at('line.csv'))
    const head = rows.findIndex((row) => row[0] === 'stations')
    expect(rows[head + 1]).toEqual(expect.arrayContaining(['stationMm', 'xMm', 'yMm', 'headingRad']))
    expect(rows.slice(head + 2).filter((row) => row.length > 1)).toHaveLength((stations as readonly unknown[]).length)
  })

  it('is never the plan itself nor the answer, and nothing is written where something is wrong', async () => {
    expect((await waybench('network', demo, '--csv', demo)).err).toContain('that is the plan itself')
    expect((await waybench('export', demo, '--to', 'svg', '--out', at('a.svg'), '--csv', at('a.svg'))).err).toContain('give another name')
    expect(existsSync(at('a.svg'))).toBe(false)
    expect((await waybench('network', demo, '--csv', at('no/such/place.csv'))).err).toContain('--csv')
  })
})
