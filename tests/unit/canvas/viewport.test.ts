import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  clearOfEdges,
  farthestPxPerMm,
  nearestPxPerMm,
  planOfScreen,
  planTransform,
  screenOfPlan,
  viewFitting,
  viewPannedBy,
  viewPinched,
  viewZoomedAt,
  wheelWish,
  type View,
} from '../../../src/app/canvas/viewport.ts'

const view: View = { centre: { x: 1000, y: 500 }, pxPerMm: 0.5, size: { width: 800, height: 600 } }
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const anyView = fc.record({
  centre: fc.record({ x: number(-1e4, 1e4), y: number(-1e4, 1e4) }),
  pxPerMm: number(0.01, 20),
  size: fc.constant({ width: 1000, height: 700 }),
})
const anyPlace = fc.record({ left: number(0, 1000), top: number(0, 700) })
const seeded = { seed: 1853, numRuns: 200 }
/** A millionth of a pixel: rounding only. */
const hairPx = 1e-6

describe('plan and screen', () => {
  it('puts the centre in the middle and turns y over', () => {
    expect(screenOfPlan(view, { x: 1000, y: 500 })).toEqual({ left: 400, top: 300 })
    expect(screenOfPlan(view, { x: 1100, y: 600 })).toEqual({ left: 450, top: 250 })
  })

  it('there and back is the same place', () => {
    fc.assert(
      fc.property(anyView, anyPlace, (any, place) => {
        const back = screenOfPlan(any, planOfScreen(any, place))
        expect(Math.hypot(back.left - place.left, back.top - place.top)).toBeLessThan(hairPx)
      }),
      seeded,
    )
  })

  it('draws by the same matrix', () => {
    const [a, , , d, e, f] = (/\((.*)\)/.exec(planTransform(view, 0.01))?.[1] ?? '').split(' ').map(Number)
    const at = screenOfPlan(view, { x: 123, y: 456 })
    expect(at.left).toBeCloseTo((a ?? NaN) * 12300 + (e ?? NaN), 9)
    expect(at.top).toBeCloseTo((d ?? NaN) * 45600 + (f ?? NaN), 9)
  })
})

describe('looking nearer', () => {
  it('keeps the point under the pointer', () => {
    fc.assert(
      fc.property(anyView, anyPlace, number(0.2, 5), (any, place, factor) => {
        const kept = planOfScreen(any, place)
        const zoomed = viewZoomedAt(any, place, factor)
        const after = screenOfPlan(zoomed, kept)
        expect(Math.hypot(after.left - place.left, after.top - place.top)).toBeLessThan(hairPx)
      }),
      seeded,
    )
  })

  it('ends at the nearest and the farthest, and does nothing on nonsense', () => {
    const place = { left: 10, top: 10 }
    expect(viewZoomedAt(view, place, 1e9).pxPerMm).toBe(nearestPxPerMm)
    expect(viewZoomedAt(view, place, 1e-9).pxPerMm).toBe(farthestPxPerMm)
    for (const factor of [0, -1, NaN, Infinity]) expect(viewZoomedAt(view, place, factor)).toBe(view)
  })

  it('two fingers carry the points beneath them', () => {
    const from = [
      { left: 300, top: 300 },
      { left: 500, top: 300 },
    ] as const
    const to = [
      { left: 250, top: 350 },
      { left: 650, top: 350 },
    ] as const
    const points = from.map((place) => planOfScreen(view, place))
    const after = viewPinched(view, from, to)
    points.forEach((point, i) => {
      const at = screenOfPlan(after, point)
      expect(at.left).toBeCloseTo(to[i]?.left ?? NaN, 6)
      expect(at.top).toBeCloseTo(to[i]?.top ?? NaN, 6)
    })
  })
})

describe('the whole', () => {
  const boxes = fc.record({ x: number(-5000, 5000), y: number(-5000, 5000), wide: number(1, 15_000), high: number(1, 15_000) })
  const sizes = fc.record({ width: number(200, 2000), height: number(150, 1200) })

  it('lies clear of what stands along the edges, and fills that one way', () => {
    fc.assert(
      fc.property(boxes, sizes, ({ x, y, wide, high }, size) => {
        const fitted = viewFitting({ ...view, size }, { minX: x, minY: y, maxX: x + wide, maxY: y + high })
        const a = screenOfPlan(fitted, { x, y: y + high })
        const b = screenOfPlan(fitted, { x: x + wide, y })
        const clear = clearOfEdges(size)
        expect(a.left).toBeGreaterThan(clear.left - hairPx)
        expect(a.top).toBeGreaterThan(clear.top - hairPx)
        expect(b.left).toBeLessThan(clear.left + clear.width + hairPx)
        expect(b.top).toBeLessThan(clear.top + clear.height + hairPx)
        const isFull = b.left - a.left > clear.width - hairPx || b.top - a.top > clear.height - hairPx
        expect(isFull || fitted.pxPerMm === nearestPxPerMm || fitted.pxPerMm === farthestPxPerMm).toBe(true)
        expect(clear.width).toBeGreaterThan(size.width * 0.6)
        expect(clear.height).toBeGreaterThan(size.height * 0.6)
      }),
      seeded,
    )
  })

  it('leaves the choices of a tool above it, and the scale below', () => {
    const fitted = viewFitting(view, { minX: 0, minY: 0, maxX: 1000, maxY: 4000 })
    // The strip ends 62 px from the top, the scale bar begins 36 px from the bottom.
    expect(screenOfPlan(fitted, { x: 0, y: 4000 }).top).toBeGreaterThan(62)
    expect(screenOfPlan(fitted, { x: 0, y: 0 }).top).toBeLessThan(600 - 36)
  })

  it('of one point is looked at from where one is', () => {
    expect(viewFitting(view, { minX: 5, minY: 6, maxX: 5, maxY: 6 })).toMatchObject({ centre: { x: 5, y: 6 }, pxPerMm: 0.5 })
  })

  it('of nothing changes nothing', () => {
    expect(viewFitting(view, { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity })).toBe(view)
  })
})

describe('pushing', () => {
  it('moves the drawing with the hand', () => {
    const kept = planOfScreen(view, { left: 100, top: 100 })
    expect(screenOfPlan(viewPannedBy(view, 30, -20), kept)).toEqual({ left: 130, top: 80 })
  })
})

describe('the wheel', () => {
  const still = { deltaX: 0, deltaY: 0, deltaMode: 0, ctrlKey: false, metaKey: false, shiftKey: false }
  it('zooms by notches and pinches, pans by the fine steps of a trackpad', () => {
    expect(wheelWish({ ...still, deltaY: -100 })).toMatchObject({ kind: 'zoom' })
    expect(wheelWish({ ...still, deltaY: 3, deltaMode: 1 })).toMatchObject({ kind: 'zoom' })
    expect(wheelWish({ ...still, deltaY: -4.5, ctrlKey: true })).toMatchObject({ kind: 'zoom' })
    expect(wheelWish({ ...still, deltaX: 7, deltaY: 12 })).toEqual({ kind: 'pan', right: -7, down: -12 })
    expect(wheelWish({ ...still, deltaY: 100, shiftKey: true })).toEqual({ kind: 'pan', right: -100, down: 0 })
  })

  it('comes nearer when rolled away, never by a throw', () => {
    const near = wheelWish({ ...still, deltaY: -100 })
    const thrown = wheelWish({ ...still, deltaY: -100_000 })
    expect(near.kind === 'zoom' && near.factor).toBeGreaterThan(1.1)
    expect(thrown.kind === 'zoom' && thrown.factor).toBeLessThan(2)
  })
})
