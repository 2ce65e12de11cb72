import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { Sheet, SheetOptions, SheetSubject } from '../../../src/core/deliver/index.ts'
import { planMark } from '../../../src/core/deliver/planMark.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aPaper } from '../../support/paper.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const options: SheetOptions = {
  paper: aPaper('letter'),
  marginMm: 10,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'imperial',
  date: '2026-11-26',
}
const track = aTrack({ end: { kind: 'free', x: 900 * Math.cos(0.6), y: 900 * Math.sin(0.6) } })
const plan = (northRad: number | null): Plan =>
  planWith({ railway: { northRad }, tracks: [track], turnouts: [aTurnout({ stationMm: 300, frog: 8 })] })
const full = (of: Plan, subject: SheetSubject, change: Partial<SheetOptions> = {}): readonly Sheet[] =>
  sheetsForSubject(pipelineCreate().derive(of), subject, { ...options, ...change }).sheets.filter(({ kind }) => kind === 'full-size')
const main: SheetSubject = { kind: 'track', id: 'track-1' }

/** Directions of the arrows in the strip at the left, from the far side of each head to its tip. */
function arrows({ items, window }: Sheet): readonly number[] {
  return items.flatMap((item) => {
    if (item.kind !== 'stroke' || item.fill === null || item.layer !== 'sheet' || item.start.x > window.minX) return []
    const [a, b] = item.segments.map(({ to }) => to)
    return a && b ? [Math.atan2(item.start.y - (a.y + b.y) / 2, item.start.x - (a.x + b.x) / 2)] : []
  })
}
const letters = ({ items, window }: Sheet): readonly string[] =>
  items.flatMap((item) => (item.kind === 'text' && item.at.x < window.minX && ['N', 'x', 'y'].includes(item.text) ? [item.text] : []))
const turned = (a: number, b: number): number => Math.abs(Math.atan2(Math.sin(a - b), Math.cos(a - b)))

describe('how a sheet lies in the room', () => {
  it.each(['grid', 'line'] as const)('where north is known, an arrow points to it on every sheet (%s)', (tiling) => {
    const sheets = full(plan(1.1), main, { tiling })
    expect(sheets.length).toBeGreaterThan(2)
    for (const sheet of sheets) {
      expect(letters(sheet)).toEqual(['N'])
      const [north, ...more] = arrows(sheet)
      expect(more).toEqual([])
      expect(turned((north ?? Number.NaN) + sheet.toPage.angleRad, 1.1)).toBeLessThan(1e-9)
    }
  })

  it('where it is not, two arrows lie along the axes of the room', () => {
    for (const sheet of full(plan(null), main)) {
      expect(letters(sheet)).toEqual(['x', 'y'])
      const [x, y] = arrows(sheet)
      expect(turned((x ?? Number.NaN) + sheet.toPage.angleRad, 0)).toBeLessThan(1e-9)
      expect(turned((y ?? Number.NaN) + sheet.toPage.angleRad, Math.PI / 2)).toBeLessThan(1e-9)
    }
  })

  it('a jig lies nowhere, and has neither', () => {
    for (const sheet of full(plan(1.1), { kind: 'tieJig', lineClass: 'main' })) expect([arrows(sheet), letters(sheet)]).toEqual([[], []])
  })
})

describe('what tells sheets apart', () => {
  it('each says of which state of the plan it is', () => {
    const sheets = full(plan(null), main)
    for (const { items } of sheets) {
      expect(items.some((item) => item.kind === 'text' && item.text.includes(`2026-11-26 · plan ${planMark(plan(null))}`))).toBe(true)
    }
  })

  it.each(['grid', 'line'] as const)('each cross has a letter of its own, the same on both sheets that show it (%s)', (tiling) => {
    const sheets = full(plan(null), main, { tiling })
    const named = sheets.map(({ items }) =>
      items.flatMap((item) => (item.kind === 'text' && item.layer === 'match' && /^[a-z]+$/.test(item.text) ? [item.text] : [])),
    )
    const all = named.flat()
    // Two crosses to a join, each on two sheets; of a chain of sheets one join fewer than sheets.
    expect(all.length).toBeGreaterThanOrEqual(4 * (sheets.length - 1))
    for (const letter of new Set(all))
      expect(
        all.filter((one) => one === letter),
        letter,
      ).toHaveLength(2)
    for (const own of named) expect(new Set(own).size).toBe(own.length)
  })

  it.each([
    [1, 1],
    [0.99, 1.012],
  ])('a square of 100 mm is ticked at the corner of the frame, as large as the printer needs (%f, %f)', (calibrationX, calibrationY) => {
    const [sheet] = full(plan(null), main, { calibrationX, calibrationY })
    if (!sheet) throw new Error('no sheet')
    const isTurned = sheet.paper.widthMm > sheet.paper.heightMm
    const [x, y] = [100 / (isTurned ? calibrationY : calibrationX), 100 / (isTurned ? calibrationX : calibrationY)]
    const { minX, minY } = sheet.window
    const ends = sheet.items.flatMap((item) =>
      item.kind === 'stroke' && item.role === 'tick' && item.layer === 'sheet' ? [item.start, item.segments[0]?.to ?? item.start] : [],
    )
    for (const corner of [
      { x: minX + x, y: minY },
      { x: minX, y: minY + y },
      { x: minX + x, y: minY + y },
    ]) {
      expect(Math.min(...ends.map((p) => Math.hypot(p.x - corner.x, p.y - corner.y)))).toBeLessThan(1e-9)
    }
  })
})
