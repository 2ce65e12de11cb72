import { mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { csvRead } from '../support/csvRead.ts'
import { pdfRead } from '../support/pdfPages.ts'
import { numberOf, waybench, waybenchJson } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-report-'))
const demo = 'public/demo/fennimore.json'

const inch = 25.4

describe('waybench report', () => {
  it('writes a PDF whose pages, read back, hold limits, findings and what every track came to', async () => {
    const out = join(folder, 'report.pdf')
    const answer = await waybenchJson('report', demo, '--out', out, '--paper', 'letter', '--date', '2026-11-26')
    const { pages } = await pdfRead(new Uint8Array(readFileSync(out)))
    expect(pages).toHaveLength(numberOf(answer, 'pages'))
    pages.forEach(({ widthMm, heightMm, texts }, i) => {
      expect([widthMm, heightMm].map(Math.round)).toEqual([216, 279])
      expect(texts).toContain(`Page ${i + 1} of ${pages.length}`)
      expect(texts.filter((text) => /^2026-11-26 · plan [2-9A-Z]{6}$/.test(text))).toHaveLength(1)
    })
    const all = pages.flatMap(({ texts }) => texts)
    for (const title of ['Limits of the railway', 'Limits by class', 'Findings: line', 'What every track came to'])
      expect(all).toContain(title)
    // The main's sharp corner, set at 24 1/2 in, is both a finding and the least radius that the main came to.
    expect(all.join(' ')).toContain('24½ in')
    expect(all.join(' ')).toContain('Curve under class radius')
  })

  it('keeps every text on the page that it is on', async () => {
    const out = join(folder, 'a4.pdf')
    await waybench('report', demo, '--out', out, '--units', 'metric')
    const { pages } = await pdfRead(new Uint8Array(readFileSync(out)))
    expect(pages.every(({ texts }) => texts.length > 3)).toBe(true)
    expect(pages.map(({ heightMm }) => Math.round(heightMm))).toEqual(pages.map(() => 297))
  })

  it('writes a CSV that an RFC 4180 reader takes, with every row as long as its heads', async () => {
    const out = join(folder, 'report.csv')
    const { json } = { json: await waybenchJson('report', demo, '--out', out) }
    const [heads = [], ...rows] = csvRead(readFileSync(out, 'utf8').slice(1))
    expect(rows).toHaveLength(numberOf(json, 'rows'))
    expect(rows.every(({ length }) => length === heads.length)).toBe(true)
    const cell = (row: readonly string[], head: string): string => row[heads.indexOf(head)] ?? ''
    const checked = JSON.parse((await waybench('check', demo, '--json')).out) as {
      readonly findings: readonly { readonly rule: string; readonly measured: number | null }[]
    }
    const told = rows.filter((row) => cell(row, 'section') === 'finding')
    expect(told.map((row) => cell(row, 'item'))).toEqual(checked.findings.map(({ rule }) => rule))
    told.forEach((row, i) => {
      const { measured } = checked.findings[i] ?? { measured: null }
      if (measured !== null) expect(Number(cell(row, 'measured'))).toBeCloseTo(measured, 3)
    })
    const least = rows.find(
      (row) => cell(row, 'section') === 'achieved' && cell(row, 'name') === 'Main' && cell(row, 'item') === 'least radius',
    )
    expect(Number(least === undefined ? Number.NaN : cell(least, 'measured'))).toBeCloseTo(24.5 * inch, 3)
  })

  it('refuses what it cannot write', async () => {
    const refused = async (...typed: readonly string[]): Promise<string> => {
      const { code, err } = await waybench('report', demo, ...typed)
      expect(code).toBe(2)
      return err
    }
    expect(await refused('--out', 'report.txt')).toContain('.pdf or .csv')
    expect(await refused('--out', join(folder, 'x.csv'), '--paper', 'a4')).toContain('no pages')
    expect(await refused('--out', join(folder, 'x.pdf'), '--paper', 'postcard')).toContain('no such paper')
  })
})
