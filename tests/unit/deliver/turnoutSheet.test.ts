import { describe, expect, it } from 'vitest'
import { lookUsual, pageToPlan, sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { Sheet, SheetOptions } from '../../../src/core/deliver/index.ts'
import { sheetLabels } from '../../../src/core/deliver/indexLabels.ts'
import { layingOrder, layingWords } from '../../../src/core/deliver/tiling/order.ts'
import { offsetWords } from '../../../src/core/deliver/words.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { tieCorners } from '../../../src/core/track/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { workOptions } from '../../support/workSheets.ts'

const inch = 25.4

/** A left No. 6 in HO with a lead on its leg that bends to the right, away from the points or drawn towards them. */
function sheetsOf(units: SheetOptions['units'], isDrawnTowards = false) {
  const leg = { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' } as const
  const far = { kind: 'free', x: 2000, y: 102 } as const
  const plan = planWith({
    tracks: [
      aTrack({ name: 'Main', start: { kind: 'free', x: 0, y: 0 }, end: { kind: 'free', x: 2400, y: 0 } }),
      aTrack({
        id: 'track-2',
        name: 'Quay lead',
        start: isDrawnTowards ? far : leg,
        corners: [aCorner({ x: 1311, y: 100, radius: 30 * inch, easementIn: 0, easementOut: 0 })],
        end: isDrawnTowards ? leg : far,
      }),
    ],
    turnouts: [aTurnout({ stationMm: 600, frog: 6, hand: 'left' })],
  })
  const derived = pipelineCreate().derive(plan)
  expect(derived.network.tracks.get('track-2')?.alignment.ok).toBe(true)
  const options = { ...workOptions('letter', units), look: lookUsual }
  const { sheets, problems } = sheetsForSubject(derived, { kind: 'turnout', id: 'turnout-1' }, options)
  expect(problems).toEqual([])
  return { derived, sheets }
}

const wordsOf = (sheets: readonly Sheet[]): readonly string[] =>
  sheets.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))

describe('ties on a sheet', () => {
  const { derived, sheets } = sheetsOf('imperial')
  const strokes = sheets.flatMap((sheet) => sheet.items.flatMap((item) => (item.kind === 'stroke' ? [{ sheet, item }] : [])))

  it('are closed and lightly filled, lighter than rails by far', () => {
    const ties = strokes.filter(({ item }) => item.role === 'tie').map(({ item }) => item)
    expect(ties.length).toBeGreaterThan(40)
    for (const tie of ties) {
      expect(tie.isClosed).toBe(true)
      expect(tie.segments).toHaveLength(4)
      expect(tie.fill).toBeGreaterThan(0.8)
      expect(tie.fill).toBeLessThan(0.95)
    }
  })

  it('leave the gaps between them open: no line of the roadbed or along their ends runs there', () => {
    const ties = derived.trackwork.turnouts.get('turnout-1')?.ties ?? []
    const rows = ties.slice(1).map((tie, i) => [...tieCorners(tie), ...tieCorners(ties[i] ?? tie)])
    // Between neighbours: within the box of both, along the shorter of the two.
    const inGap = (p: Point): boolean =>
      rows.some((corners, i) => {
        const [a, b] = [ties[i], ties[i + 1]]
        if (!a || !b) return false
        const xs = corners.map(({ x }) => x)
        const shorter = a.lengthMm < b.lengthMm ? a : b
        const ys = tieCorners(shorter).map(({ y }) => y)
        return p.x > Math.min(...xs) && p.x < Math.max(...xs) && p.y > Math.min(...ys) && p.y < Math.max(...ys)
      })
    const lines = strokes.filter(({ item }) => item.role === 'roadbed' || item.role === 'tie-end')
    expect(lines.length).toBeGreaterThan(2)
    const inside = lines.filter(({ sheet, item }) =>
      [item.start, ...item.segments.map(({ to }) => to)]
        .flatMap((p, i, all) => {
          const q = all[i + 1] ?? p
          return Array.from({ length: 200 }, (_, k) => ({ x: p.x + ((q.x - p.x) * k) / 200, y: p.y + ((q.y - p.y) * k) / 200 }))
        })
        .some((p) => inGap(pageToPlan(sheet.toPage, p))),
    )
    expect(inside).toEqual([])
  })
})

describe('the foot of a turnout sheet', () => {
  it('counts the ties, with their width, and tells offsets as a rule reads them', () => {
    const { derived, sheets } = sheetsOf('imperial')
    const foot = wordsOf(sheets).join(' ')
    const placed = derived.network.turnouts.get('turnout-1')
    if (placed?.result.ok !== true) throw new Error('the turnout is set')
    const { ties, request } = placed.result.geometry
    expect(foot).toContain(`${ties.length} ties, ${(request.tieWidthMm / inch).toFixed(3)} in (${request.tieWidthMm.toFixed(2)} mm) wide`)
    expect(foot).toMatch(/0″: ³⁄₃₂″ \(0\.088\)/)
  })

  it('an offset is the nearest 64th; thousandths where that is off by more than two of them', () => {
    expect(offsetWords((5 / 32) * inch, 'imperial')).toBe('⁵⁄₃₂″')
    expect(offsetWords(0.155 * inch, 'imperial')).toBe('⁵⁄₃₂″')
    expect(offsetWords(0.152 * inch, 'imperial')).toBe('⁵⁄₃₂″ (0.152)')
    expect(offsetWords(4.567, 'metric')).toBe('4.57')
  })

  it('says where the leg goes on, whichever way that track was drawn', () => {
    for (const isDrawnTowards of [false, true]) {
      const { sheets } = sheetsOf('imperial', isDrawnTowards)
      const said = wordsOf(sheets)
      expect(said.join(' ')).toMatch(/Leg goes on as Quay lead: straight for .*, then R 2′ 6″ right/)
      expect(said).toContain('to Quay lead, R 2′ 6″')
    }
  })

  it('whole millimetres have no decimals', () => {
    const said = wordsOf(sheetsOf('metric').sheets)
    expect(said).toContain('to Quay lead, R 762 mm')
    expect(said.filter((text) => /\d\.0 mm/.test(text))).toEqual([])
  })
})

describe('the index', () => {
  it('says which sheet is laid to which, and at which crosses', () => {
    const joins = [
      { a: '1', b: '2' },
      { a: '2', b: '3' },
      { a: '3', b: '1' },
    ]
    expect(layingOrder(['1', '2', '3'], joins).map(layingWords)).toEqual([
      'Sheet 1, to begin with',
      'Sheet 2 joins sheet 1 at a, b',
      'Sheet 3 joins sheet 2 at c, d and sheet 1 at e, f',
    ])
  })

  it('names stand off the lines, within their sheets', () => {
    const sheet = (name: string, x: number) => ({
      name,
      corners: [
        { x, y: 0 },
        { x: x + 20, y: 0 },
        { x: x + 20, y: 30 },
        { x, y: 30 },
      ],
    })
    const line = {
      kind: 'stroke',
      layer: 'centreline',
      role: 'mark',
      start: { x: 0, y: 15 },
      segments: [{ kind: 'line', to: { x: 40, y: 15 } }],
      isClosed: false,
      fill: null,
    } as const
    const labels = sheetLabels([sheet('1', 0), sheet('2', 18)], [line], 4)
    expect(labels.map(({ text }) => text)).toEqual(['1', '2'])
    for (const [i, { at, sizeMm }] of labels.entries()) {
      expect(at.x).toBeGreaterThan(18 * i)
      expect(at.x).toBeLessThan(18 * i + 20)
      const [low, high] = [at.y, at.y + 0.7 * sizeMm]
      expect(low > 15 || high < 15).toBe(true)
    }
  })
})
