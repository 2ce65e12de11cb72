import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../../src/core/deliver/index.ts'
import { roomTables, wallSides } from '../../../../src/core/deliver/bench/room.ts'
import { benchSet, derivedOf, itemsOf, metricA4, strokesOf, textsOf } from '../../../support/benchSheets.ts'
import { aPaper } from '../../../support/paper.ts'
import { planWith } from '../../../support/plans.ts'
import { aDoor, aPost, aRoom, aShelf, box } from '../../../support/rooms.ts'

const plan = planWith({
  walls: [aRoom()],
  openings: [aDoor({ id: 'opening-1', fromMm: 4500 }), aDoor({ id: 'opening-2', name: 'Window', fromMm: 8000, leaf: null, sillMm: 900 })],
  obstacles: [aPost(box(1500, 1200, 1600, 1300))],
  benchworks: [aShelf(box(0, 2400, 4000, 3000), { heightMm: 1100 })],
})
const derived = derivedOf(plan)

describe('the room sheet', () => {
  const set = benchSet(derived, 'room')
  const [drawing] = set.sheets

  it('is drawn to the largest scale of a rule that fits the paper, and says so', () => {
    // 4200 mm across and 3200 up with walls, the door within: across on A4 with 15 mm round it there are 207 by 129 mm.
    expect(textsOf(set).some((text) => text.startsWith('Scale 1:25'))).toBe(true)
    expect(drawing?.toPage.scaleX).toBeCloseTo(1 / 25, 12)
    expect((drawing?.paper.widthMm ?? 0) > (drawing?.paper.heightMm ?? 0)).toBe(true)
    const large = benchSet(derived, 'room', { ...metricA4, paper: aPaper('a1') })
    expect(textsOf(large).some((text) => text.startsWith('Scale 1:10 '))).toBe(true)
  })

  it('has the faces of the walls in their true places, at the scale', () => {
    const faces = strokesOf(set).filter(({ role, segments, fill }) => role === 'mark' && segments.length === 1 && fill === null)
    const lengths = faces.map(
      ({ start, segments }) => Math.hypot((segments[0]?.to.x ?? 0) - start.x, (segments[0]?.to.y ?? 0) - start.y) * 25,
    )
    // Lower and upper wall whole, the left one whole; the right one parted by its door of 800 mm after 500 mm.
    for (const mm of [4000, 500, 1700])
      expect(
        lengths.some((length) => Math.abs(length - mm) < 1e-6),
        `${mm}`,
      ).toBe(true)
    expect(lengths.filter((length) => Math.abs(length - 4000) < 1e-6)).toHaveLength(2)
  })

  it('tells lengths, angles, doors, windows, posts and benchwork with its height', () => {
    const said = textsOf(set)
    for (const words of [
      'Room 1: 4000 mm',
      'Room 2: 3000 mm',
      '90.0°',
      'Door 800 mm, 500 mm from corner',
      'Post',
      'Shelf, 1100 mm high',
      '600 mm',
    ])
      expect(said, words).toContain(words)
    expect(said).toContain('Window 800 mm, sill 900 mm, 1000 mm from corner')
    // Nothing runs out of the window.
    for (const item of itemsOf(set)) if (item.kind === 'text') expect(Number.isFinite(item.at.x + item.at.y)).toBe(true)
  })

  it('has all of it in tables, openings from the corner of their own length of wall', () => {
    const tables = new Map(roomTables(plan, 'metric').map(({ title, rows }) => [title, rows]))
    expect(tables.get('Doors, passages and windows')).toEqual([
      ['Door', 'Room 2', '500 mm', '800 mm', '–'],
      ['Window', 'Room 3', '1000 mm', '800 mm', '900 mm'],
    ])
    expect(tables.get('Posts and pipes')?.[0]).toEqual(['Post', '100 mm × 100 mm', 'stands on it', 'Room 1: 1200 mm · Room 4: 1500 mm'])
    expect(tables.get('Benchwork')?.[0]?.slice(2, 4)).toEqual(['4000 mm × 600 mm', '2.40 m²'])
  })

  it('angles are those of the side of the room, whichever way the wall was drawn', () => {
    // An L: five corners of 90° and one of 270°, together 4 × 180° as in every hexagon.
    const el = [
      { x: 0, y: 0 },
      { x: 4000, y: 0 },
      { x: 4000, y: 2000 },
      { x: 2000, y: 2000 },
      { x: 2000, y: 3000 },
      { x: 0, y: 3000 },
    ]
    for (const points of [el, el.toReversed()]) {
      const degrees = wallSides(aRoom({ points })).map(({ angleRad }) => Math.round(((angleRad ?? 0) * 180) / Math.PI))
      expect(degrees.toSorted((a, b) => a - b)).toEqual([90, 90, 90, 90, 90, 270])
    }
  })

  it('says why there is none', () => {
    expect(sheetsForSubject(derivedOf(planWith({})), { kind: 'bench', sheet: 'room' }, metricA4)).toMatchObject({
      sheets: [],
      problems: ['Room: the plan has neither walls nor benchwork yet.'],
    })
    const tight = sheetsForSubject(derived, { kind: 'bench', sheet: 'room' }, { ...metricA4, marginMm: 100 })
    expect(tight.sheets).toEqual([])
    expect(tight.problems).toHaveLength(1)
  })
})
