import fontkit from '@cantoo/fontkit'
import { PDFDocument } from '@cantoo/pdf-lib'
import { expect, it } from 'vitest'
import { sheetFontsRead } from '../../../src/engine/fonts.node.ts'
import { faceWidthMm } from '../../../src/formats/faceWidth.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { workCases, workOptions, workSheets } from '../../support/workSheets.ts'

/** Letters that the PDF joins, as in "fi", are so much narrower together: thousandths of the type size, from the font files. */
const joinedEms = 0.04

// The other side is the PDF library's own setting of the same font files.
it('words of a sheet are as wide in its picture as in its PDF', async () => {
  const fonts = await sheetFontsRead()
  const doc = await PDFDocument.create()
  doc.registerFontkit(fontkit)
  const faces = { regular: await doc.embedFont(fonts.regular), bold: await doc.embedFont(fonts.bold) }
  const [work] = workCases
  if (work === undefined) throw new Error('no work')
  for (const [paper, units] of [
    ['letter', 'imperial'],
    ['a4', 'metric'],
  ] as const) {
    const sheets = workSheets(work, workOptions(paper, units))
    for (const sheet of sheets) {
      const texts = sheet.items.flatMap((item) => (item.kind === 'text' ? [item] : []))
      const off = texts.filter((item) => {
        const joins = item.text.match(/f[fil]/g)?.length ?? 0
        const width = faceWidthMm(item) ?? Number.NaN
        const set = faces[item.weight].widthOfTextAtSize(item.text, item.sizeMm)
        return !(Math.abs(width - set) <= 1e-6 + joins * joinedEms * item.sizeMm)
      })
      expect(off.map(({ text }) => text)).toEqual([])
      // Each word carries its width, so that another face, or rounding of small type, does not run it off the paper.
      expect(svgFromSheet(sheet).match(/ textLength="/g)).toHaveLength(texts.filter(({ text }) => text !== '').length)
    }
  }
})

it('letters that are not of the table are left to the face', () => {
  expect(faceWidthMm({ text: 'Ω', sizeMm: 3, weight: 'regular' })).toBeNull()
})
