import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { DrawItem, Sheet, SheetOptions, SheetSubject } from '../../../src/core/deliver/index.ts'
import { textItemCorners } from '../../../src/core/deliver/text.ts'
import { boxOfPoints, boxesOverlap, type Box } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aPaper } from '../../support/paper.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const usual: SheetOptions = {
  paper: aPaper('a4'),
  marginMm: 8,
  overlapMm: 10,
  calibrationX: 1,
  calibrationY: 1,
  units: 'imperial',
  date: '2026-11-25',
}
const turnout: SheetSubject = { kind: 'turnout', id: 'turnout-1' }
const curve: SheetSubject = { kind: 'curve', track: 'track-1', corner: 'pi-1' }

/** Names of a turnout, a track and the railway, at most 200 letters as the plan allows. */
interface Names {
  readonly record: string
  readonly railway: string
}

function planNamed({ record, railway }: Names): Plan {
  return planWith({
    railway: { title: railway },
    tracks: [
      aTrack({
        name: record,
        corners: [aCorner({ x: 2000, y: 0, radius: 711.2, easementIn: 403, easementOut: 380 })],
        end: { kind: 'free', x: 2000, y: 2000 },
      }),
    ],
    turnouts: [aTurnout({ name: record, frog: 9, stationMm: 200 })],
  })
}

/** Texts that stand outside of the window, with the space that they take; and the bars, each as a box. */
function footOf(sheet: Sheet): readonly { readonly what: string; readonly box: Box }[] {
  const boxed = (item: DrawItem): readonly { readonly what: string; readonly box: Box }[] => {
    if (item.layer !== 'sheet') return []
    if (item.kind === 'text') {
      const box = boxOfPoints(textItemCorners(item, 0))
      return box ? [{ what: item.text, box }] : []
    }
    const box = item.role === 'scale-bar' ? boxOfPoints([item.start, ...item.segments.map(({ to }) => to)]) : null
    return box ? [{ what: 'bar', box }] : []
  }
  const isInWindow = ({ box }: { readonly box: Box }): boolean => box.minX >= sheet.window.minX && box.minY >= sheet.window.minY
  return sheet.items.flatMap(boxed).filter((item) => !isInWindow(item))
}

const long = 'Fennimore Quay Tramway and Dock Company, Ice House Branch, third track from the water '
const cases: readonly (readonly [string, Names])[] = [
  ['short names', { record: 'East', railway: 'F. Q. T.' }],
  ['usual names', { record: 'Siding south of the fish quay', railway: 'Fennimore Quay Tramway & Dock Co.' }],
  ['the longest names', { record: long.repeat(3).slice(0, 200), railway: long.repeat(3).slice(0, 200) }],
  ['one word without an end', { record: 'W'.repeat(200), railway: 'M'.repeat(200) }],
]
const papers: readonly (readonly [string, Partial<SheetOptions>])[] = [
  ['A4', {}],
  ['Letter, margin 10 mm', { paper: aPaper('letter'), marginMm: 10 }],
  ['A5', { paper: aPaper('a5'), marginMm: 0 }],
  ['the smallest that holds a turnout’s words', { paper: { name: 'Small', widthMm: 146, heightMm: 191 } }],
  ['A3, a printer that is not true', { paper: aPaper('a3'), calibrationX: 0.991, calibrationY: 1.012 }],
]

describe.each(papers)('the foot of a sheet on %s', (_paper, change) => {
  it.each(cases)('lays no text over another one nor over a bar, nor past the paper: %s', (_names, names) => {
    for (const subject of [turnout, curve]) {
      const set = sheetsForSubject(pipelineCreate().derive(planNamed(names)), subject, { ...usual, ...change })
      expect(set.problems).toEqual([])
      // The index says more than the others: its scale, and that it is not for measuring.
      expect(set.sheets[0]?.kind).toBe(set.sheets.length > 1 ? 'index' : 'full-size')
      for (const sheet of set.sheets.slice(0, 2)) {
        const foot = footOf(sheet)
        const clashes = foot.flatMap((a, i) =>
          foot.slice(i + 1).flatMap((b) => (boxesOverlap(a.box, b.box) ? [`${sheet.name}: ${a.what} / ${b.what}`] : [])),
        )
        expect(clashes).toEqual([])
        const off = foot.filter(({ box }) => box.minX < -1e-6 || box.minY < -1e-6 || box.maxX > sheet.paper.widthMm + 1e-6)
        expect(off).toEqual([])
      }
    }
  })

  it('always says how to print, what to beware of, the sheet and the railway', () => {
    for (const [, names] of cases) {
      const { sheets } = sheetsForSubject(pipelineCreate().derive(planNamed(names)), turnout, { ...usual, ...change })
      const said = sheets.at(-1)?.items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])) ?? []
      const all = said.join(' ')
      expect(all).toContain('Print at 100 %')
      expect(all).toContain('Keep from children')
      expect(all).toContain('2026-11-25')
      expect(said.some((text) => names.railway.startsWith(text.replace(/…$/, '')) && text.length > 5)).toBe(true)
      expect(said.filter((text) => /^·|·$/.test(text))).toEqual([])
    }
  })
})
