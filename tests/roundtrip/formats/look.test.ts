import { describe, expect, it } from 'vitest'
import { isPlanText, layerChoices, lookUsual, sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { DrawItem, Sheet, SheetLook, SheetOptions, SheetSet } from '../../../src/core/deliver/types.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { sheetFontsRead } from '../../../src/engine/fonts.node.ts'
import { pdfFromSheets } from '../../../src/formats/pdf.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { pdfRead } from '../../support/pdfPages.ts'
import type { PdfPage, PdfPath } from '../../support/pdfPages.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const derived = pipelineCreate().derive(planWith({ tracks: [aTrack()], turnouts: [aTurnout()] }))
const options: SheetOptions = {
  paper: { name: 'A4', widthMm: 210, heightMm: 297 },
  marginMm: 8,
  overlapMm: 10,
  calibrationX: 1,
  calibrationY: 1,
  units: 'metric',
  date: '2026-11-26',
}
const usual = lookUsual
const setOf = (look?: SheetLook): SheetSet =>
  sheetsForSubject(derived, { kind: 'turnout', id: 'turnout-1' }, look === undefined ? options : { ...options, look })
const printed = async (set: SheetSet): Promise<readonly PdfPage[]> =>
  (await pdfRead(await pdfFromSheets(set, await sheetFontsRead()))).pages
const of = (page: PdfPage | undefined, role: string): readonly PdfPath[] => page?.paths.filter((path) => path.role === role) ?? []

describe('how sheets look', async () => {
  const [plain = undefined] = await printed({ ...setOf(), sheets: setOf().sheets.slice(-1) })

  it('is the same when nothing is asked and when the usual is', () => {
    expect(setOf(usual).sheets.map(({ items }) => items)).toEqual(setOf().sheets.map(({ items }) => items))
  })

  it('leaves out the layers that are not wanted, and no other', async () => {
    const [page] = await printed({
      ...setOf(),
      sheets: setOf({ ...usual, without: [...usual.without, 'ties', 'stations'] }).sheets.slice(-1),
    })
    expect(of(plain, 'tie').length).toBeGreaterThan(5)
    expect(of(page, 'tie')).toEqual([])
    for (const role of ['rail-gauge', 'centreline', 'match', 'scale-bar']) expect(of(page, role).length, role).toBe(of(plain, role).length)
  })

  const all: SheetLook = { ...usual, without: [] }
  const everything = setOf(all)

  it.each(layerChoices.map(({ name }) => name))('without %s: nothing of it, and all else as it was', (layer) => {
    const kept = (item: DrawItem): boolean => (layer === 'text' ? !isPlanText(item) : item.layer !== layer)
    const sheets = setOf({ ...all, without: [layer] }).sheets
    expect(sheets.map(({ items }) => items)).toEqual(everything.sheets.map(({ items }) => items.filter(kept)))
  })

  it('draws by itself all but the layers that would crowd a sheet', () => {
    expect(usual.without).toEqual(layerChoices.filter(({ isUsual }) => !isUsual).map(({ name }) => name))
    for (const { items } of setOf().sheets) for (const { layer } of items) expect(usual.without).not.toContain(layer)
  })

  it('turns a page over as a whole for tape: every rail lies as far from the other edge of the paper', async () => {
    const sheets = setOf({ ...usual, isMirrored: true }).sheets.slice(-1)
    const [page] = await printed({ ...setOf(), sheets })
    const rails = of(plain, 'rail-gauge')
    const width = page?.widthMm ?? Number.NaN
    expect(rails.length).toBeGreaterThan(3)
    of(page, 'rail-gauge').forEach((path, i) => {
      expect(path.start.x).toBeCloseTo(width - (rails[i]?.start.x ?? Number.NaN), 3)
      expect(path.start.y).toBeCloseTo(rails[i]?.start.y ?? Number.NaN, 3)
    })
    expect(page?.texts.join(' ')).toContain('Mirror image, to be taken off on tape.')
    const [sheet] = sheets
    if (sheet === undefined) throw new Error('no sheet')
    expect(svgFromSheet(sheet)).toContain(`transform="matrix(-1 0 0 1 ${sheet.paper.widthMm} 0)"`)
  })

  it('leaves an index the right way round, to be read', () => {
    const set = sheetsForSubject(derived, { kind: 'all' }, { ...options, look: { ...usual, isMirrored: true } })
    const [index, first] = set.sheets
    expect([index?.kind, index?.look?.isMirrored, first?.look?.isMirrored]).toEqual(['index', false, true])
    const said = (sheet: Sheet | undefined): string =>
      sheet?.items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])).join(' ') ?? ''
    expect(said(index)).not.toContain('Mirror image')
    expect(said(first)).toContain('Mirror image')
  })

  it('draws hairlines of a tenth of a millimetre, bold lines thicker, and grey instead of black', () => {
    const drawn = (look: SheetLook): string => {
      const sheet = setOf(look).sheets.at(-1)
      if (sheet === undefined) throw new Error('no sheet')
      return svgFromSheet(sheet)
    }
    const width = (svg: string, role: string): number =>
      Number(new RegExp(`data-role="${role}"[^>]*stroke-width="([\\d.]+)"`).exec(svg)?.[1])
    const [hair, plainly, bold] = (['hairline', 'usual', 'bold'] as const).map((lines) => drawn({ ...usual, lines }))
    expect([width(hair ?? '', 'centreline'), width(hair ?? '', 'mark')]).toEqual([0.1, 0.1])
    expect(width(bold ?? '', 'centreline')).toBeGreaterThan(1.5 * width(plainly ?? '', 'centreline'))
    // What is measured and laid on each other keeps its lines.
    for (const svg of [hair, bold]) expect(width(svg ?? '', 'match')).toBe(width(plainly ?? '', 'match'))
    expect(drawn({ ...usual, ink: 'grey' })).not.toContain('#000000')
  })
})
