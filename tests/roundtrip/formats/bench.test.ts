import { beforeAll, describe, expect, it } from 'vitest'
import type { BenchSheetName } from '../../../src/core/deliver/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import type { LayingLists } from '../../../src/core/shopping/index.ts'
import { sheetFontsRead } from '../../../src/engine/fonts.node.ts'
import { pdfFromSheets, type SheetFonts } from '../../../src/formats/pdf.ts'
import { benchSet, derivedOf, listsOf, metricA4, type Stroke } from '../../support/benchSheets.ts'
import { pdfRead, type PdfPath } from '../../support/pdfPages.ts'
import { aBend, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { aDoor, aPost, aRoom, aShelf, box } from '../../support/rooms.ts'

// What a sheet promises: a line within 0.02 mm, a tenth of the thinnest scribed line.
const PROMISE_MM = 0.02

const derived = derivedOf(
  planWith({
    tracks: [aTrack({ end: { kind: 'free', x: 2000, y: 0 } }), aBend({ id: 'track-2', name: 'Bend' })],
    turnouts: [aTurnout({ stationMm: 300 })],
    walls: [aRoom()],
    openings: [aDoor()],
    obstacles: [aPost(box(3800, 200, 3900, 300))],
    benchworks: [aShelf(box(0, 2400, 4000, 3000))],
  }),
)

/** The ends of a path's segments, from its start on. */
const ends = ({ start, segments }: Pick<Stroke, 'start' | 'segments'> | PdfPath): readonly Point[] => [
  start,
  ...segments.map(({ to }) => to),
]

const isNear = (a: Point | undefined, b: Point | undefined): boolean =>
  a !== undefined && b !== undefined && Math.hypot(a.x - b.x, a.y - b.y) < PROMISE_MM

describe('PDF of bench sheets', () => {
  let fonts: SheetFonts
  let lists: LayingLists
  beforeAll(async () => {
    fonts = await sheetFontsRead()
    lists = await listsOf(derived)
  })

  it.each(['room', 'filing', 'gauge-sticks', 'inspection', 'rail-cuts', 'roadbed-cuts'] as const satisfies readonly BenchSheetName[])(
    'of %s has every line of every page in its place, and every word',
    async (kind) => {
      const set = benchSet(derived, kind, { ...metricA4, calibrationX: 0.995 }, lists)
      const { pages } = await pdfRead(await pdfFromSheets(set, fonts))
      expect(pages).toHaveLength(set.sheets.length)
      for (const [i, sheet] of set.sheets.entries()) {
        const page = pages[i]
        if (!page) throw new Error('no page')
        const strokes = sheet.items.flatMap((item) => (item.kind === 'stroke' ? [item] : []))
        const read = page.paths.map(ends)
        const missing = strokes.filter((stroke) => {
          const wanted = ends(stroke)
          return !read.some((found) => wanted.every((p, k) => isNear(p, found[k])))
        })
        expect(missing).toEqual([])
        const said = page.texts.join(' ')
        for (const item of sheet.items) if (item.kind === 'text') expect(said).toContain(item.text)
      }
    },
  )
})
