import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { describe, expect, it } from 'vitest'
import { planWrite } from '../../src/formats/planjson.ts'
import { aBend, aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { numberOf, waybench, waybenchJson, waybenchSpawn } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-'))
const file = (name: string): string => join(folder, name)

/** A main that turns 60 degrees with easements of 150 mm and radius 1000 mm, and a straight with a turnout. */
const plan = planWith({
  tracks: [
    aBend(),
    aTrack({ id: 'straight', name: 'Quay', start: { kind: 'free', x: 0, y: -500 }, end: { kind: 'free', x: 2000, y: -500 } }),
  ],
  turnouts: [aTurnout({ id: 't1', name: 'Icehouse', track: 'straight', stationMm: 600 })],
})
const planPath = file('plan.json')
writeFileSync(planPath, planWrite(plan))

const answer = await waybenchJson('line', planPath, '--track', 'bend', '--every', '250mm')

describe('waybench line', () => {
  const stations = answer['stations'] as readonly Readonly<Record<string, number>>[]
  const elements = answer['elements'] as readonly Readonly<Record<string, unknown>>[]

  it('gives line, easement, arc, easement, line, end to end', async () => {
    expect(elements.map(({ kind }) => kind)).toEqual(['line', 'easement', 'arc', 'easement', 'line'])
    let station = 0
    for (const [i] of elements.entries()) {
      // 1e-9 mm: sums of lengths of a metre.
      expect(numberOf(elements, i, 'startStationMm')).toBeCloseTo(station, 9)
      station += numberOf(elements, i, 'lengthMm')
    }
    expect(numberOf(answer, 'lengthMm')).toBeCloseTo(station, 9)
    // The curve turns 60 degrees: arc + easements/2 = R x pi/3.
    expect(numberOf(elements, 2, 'lengthMm')).toBeCloseTo((1000 * Math.PI) / 3 - 150, 6)
    expect(numberOf(elements, 2, 'curvatureStartPerMm')).toBeCloseTo(1 / 1000, 12)
  })

  it('gives even stations and the end, each with its pose, level', async () => {
    expect(stations.map(({ stationMm }) => stationMm).slice(0, 3)).toEqual([0, 250, 500])
    const last = stations.at(-1)
    expect(last?.['stationMm']).toBeCloseTo(numberOf(answer, 'lengthMm'), 9)
    expect(last?.['xMm']).toBeCloseTo(3000, 6)
    expect(last?.['yMm']).toBeCloseTo(2000 * Math.sin(Math.PI / 3), 6)
    expect(last?.['headingRad']).toBeCloseTo(Math.PI / 3, 9)
    for (const row of stations) expect([row['elevationMm'], row['grade']]).toEqual([0, 0])
  })

  it('finds a track by name or id and says which there are', async () => {
    expect(numberOf(await waybenchJson('line', planPath, '--track', 'QUAY'), 'lengthMm')).toBe(2000)
    const missing = await waybench('line', planPath, '--track', 'Bens')
    expect(missing).toMatchObject({ code: 2, out: '' })
    expect(missing.err).toContain('Did you mean Bend?')
    expect((await waybench('line', planPath, '--track', 'bend', '--every', '0.0001mm')).err).toContain('--every')
  })

  it('says what is wrong with a line that cannot be solved', async () => {
    const broken = planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ x: 1000, y: 0, radius: 2000, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 1000, y: 1000 },
        }),
      ],
    })
    writeFileSync(file('broken.json'), planWrite(broken))
    const run = await waybench('line', file('broken.json'), '--track', 'main')
    expect(run.code).toBe(2)
    expect(run.err).toContain('The side from the start to PI 1 measures 1000.00 mm (39 3/8 in); what curves there wants 2000.00 mm')
  })
})

describe('waybench check', () => {
  it('ends with 0 and no findings on a plan that keeps its limits', async () => {
    const { code, out } = await waybench('check', planPath, '--json')
    expect(JSON.parse(out)).toMatchObject({ findings: [], counts: { total: 0, error: 0, warning: 0 } })
    expect(code).toBe(0)
  })

  it('ends with 1 and names rule, place, measure and limit of a curve that is too sharp', async () => {
    const sharp = planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ id: 'c1', x: 1000, y: 0, radius: 300, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 1000, y: 1000 },
        }),
      ],
    })
    writeFileSync(file('sharp.json'), planWrite(sharp))
    const { code, out } = await waybench('check', file('sharp.json'), '--json')
    expect(code).toBe(1)
    const answer: unknown = JSON.parse(out)
    // The couplers of 85 ft cars cannot follow it either.
    expect(answer).toMatchObject({ counts: { error: 2 } })
    const findings = (answer as { readonly findings: readonly Readonly<Record<string, unknown>>[] }).findings
    const finding = findings.find(({ rule }) => rule === 'minimum-radius')
    expect(finding).toMatchObject({ severity: 'error', track: 'track-1', measured: 300, unit: 'mm' })
    // HO main: 32 in by the module recommendation. The arc begins 300 mm ahead of the corner and is 300 x pi/2 long.
    expect(finding?.['limit']).toBeCloseTo(812.8, 6)
    expect(finding?.['stationFromMm']).toBeCloseTo(700, 6)
    expect(finding?.['stationToMm']).toBeCloseTo(700 + 150 * Math.PI, 6)
    expect(waybenchSpawn('check', file('sharp.json')).code).toBe(1)
    const said = await waybench('check', file('sharp.json'))
    expect(said.out).toMatch(/minimum-radius.*300\.00 mm.*812\.80 mm/)
  })
})

describe('waybench sheets', () => {
  it('writes a PDF of a turnout and tells what each sheet covers', async () => {
    const out = file('t1.pdf')
    const answer = await waybenchJson('sheets', planPath, '--turnout', 'icehouse', '--paper', 'letter', '--out', out)
    expect(readFileSync(out).subarray(0, 5).toString()).toBe('%PDF-')
    const sheets = answer['sheets'] as readonly unknown[]
    // One sheet with the paper across, two with the paper upright.
    expect(sheets).toHaveLength(1)
    expect(answer['sheets']).toMatchObject([{ name: 'A1', paper: { widthMm: 279.4, heightMm: 215.9 } }])
    // PS lies at (600, -500); some sheet covers it, and some covers the frog a lead further on.
    const covers = (x: number, y: number): boolean =>
      sheets.some(
        (_, i) =>
          numberOf(sheets, i, 'planRectangle', 'minXMm') <= x &&
          x <= numberOf(sheets, i, 'planRectangle', 'maxXMm') &&
          numberOf(sheets, i, 'planRectangle', 'minYMm') <= y &&
          y <= numberOf(sheets, i, 'planRectangle', 'maxYMm'),
      )
    expect(covers(600, -500)).toBe(true)
    expect(covers(750, -500)).toBe(true)
  })

  it('prints the same bytes twice when the date is given', async () => {
    const typed = ['sheets', planPath, '--track', 'bend', '--corner', '1', '--paper', 'a4', '--date', '2026-11-25']
    for (const name of ['a.pdf', 'b.pdf']) expect(await waybench(...typed, '--out', file(name))).toMatchObject({ code: 0, err: '' })
    expect(readFileSync(file('a.pdf')).equals(readFileSync(file('b.pdf')))).toBe(true)
  })

  it('writes the same from the built command, which finds its fonts', async () => {
    const typed = ['sheets', planPath, '--turnout', 't1', '--paper', 'a4', '--date', '2026-11-25']
    expect(await waybench(...typed, '--out', file('here.pdf'))).toMatchObject({ code: 0 })
    expect(waybenchSpawn(...typed, '--out', file('built.pdf'))).toMatchObject({ code: 0, err: '' })
    expect(readFileSync(file('built.pdf')).equals(readFileSync(file('here.pdf')))).toBe(true)
  })

  it('writes bench sheets of the whole plan, the cuts with the lists that they need', async () => {
    for (const kind of ['inspection', 'rail-cuts']) {
      const answer = await waybenchJson('sheets', planPath, '--sheet', kind, '--paper', 'a4', '--out', file(`${kind}.pdf`))
      expect(answer['problems']).toEqual([])
      expect((answer['sheets'] as readonly unknown[]).length).toBeGreaterThan(0)
      expect(
        readFileSync(file(`${kind}.pdf`))
          .subarray(0, 5)
          .toString(),
      ).toBe('%PDF-')
    }
  })

  it('takes a roll', async () => {
    const answer = await waybenchJson('sheets', planPath, '--track', 'bend', '--paper', 'roll:24in:60in', '--out', file('roll.pdf'))
    expect(answer['paper']).toMatchObject({ widthMm: 609.6, heightMm: 1524 })
  })

  const wrong: readonly (readonly [typed: readonly string[], says: string])[] = [
    [['--turnout', 't1', '--paper', 'a44', '--out', 'x.pdf'], 'Did you mean a4?'],
    [['--turnout', 't9', '--paper', 'a4', '--out', 'x.pdf'], 'no such turnout'],
    [['--sheet', 'filig', '--paper', 'a4', '--out', 'x.pdf'], 'Did you mean filing?'],
    [['--sheet', 'filing', '--turnout', 't1', '--paper', 'a4', '--out', 'x.pdf'], 'exclude each other'],
    [['--turnout', 't1', '--track', 'bend', '--paper', 'a4', '--out', 'x.pdf'], 'exclude each other'],
    [['--corner', '1', '--paper', 'a4', '--out', 'x.pdf'], 'needs the --track'],
    [['--track', 'bend', '--corner', '7', '--paper', 'a4', '--out', 'x.pdf'], 'has 1 corner'],
    [['--turnout', 't1', '--paper', 'roll:24', '--out', 'x.pdf'], 'no unit'],
    [['--turnout', 't1', '--paper', 'roll:600in', '--out', 'x.pdf'], 'longer than'],
    [['--turnout', 't1', '--paper', 'a4', '--calibrate', '99.6mm', '--out', 'x.pdf'], 'two measures'],
    [['--turnout', 't1', '--paper', 'a4', '--calibrate', '2,1', '--out', 'x.pdf'], '95 and 105 mm'],
    [['--turnout', 't1', '--paper', 'a4', '--overlap', '0mm', '--out', 'x.pdf'], 'above zero'],
    [['--turnout', 't1', '--paper', 'a4'], 'needs --out'],
  ]
  for (const [typed, says] of wrong) {
    it(`${typed.join(' ')} is refused and nothing is written`, async () => {
      const at = typed.map((word) => (word === 'x.pdf' ? file('x.pdf') : word))
      const { code, out, err } = await waybench('sheets', planPath, ...at)
      expect(code).toBe(2)
      expect(out).toBe('')
      expect(err).toContain(says)
      expect(existsSync(file('x.pdf'))).toBe(false)
    })
  }

  it('never writes over the plan that it prints, however it is called', async () => {
    const before = readFileSync(planPath)
    for (const out of [planPath, join(folder, '.', 'plan.json'), relative('.', planPath)]) {
      const run = await waybench('sheets', planPath, '--turnout', 't1', '--paper', 'a4', '--out', out)
      expect(run).toMatchObject({ code: 2, out: '' })
      expect(run.err).toContain('the plan itself')
    }
    expect(readFileSync(planPath).equals(before)).toBe(true)
  })

  it('says so when the file cannot be written', async () => {
    const run = await waybench('sheets', planPath, '--turnout', 't1', '--paper', 'a4', '--out', file('no/such/folder/x.pdf'))
    expect(run).toMatchObject({ code: 2, out: '' })
    expect(run.err).toContain('cannot be written')
  })
})
