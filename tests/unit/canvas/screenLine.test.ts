import fc from 'fast-check'
import { expect, test } from 'vitest'
import { screenLineText } from '../../../src/app/canvas/svgPath.ts'
import { planOfScreen } from '../../../src/app/canvas/viewport.ts'
import type { ScreenPoint, View } from '../../../src/app/canvas/viewport.ts'

const view: View = { size: { width: 800, height: 520 }, centre: { x: 100, y: -40 }, pxPerMm: 2 }
/** The view and so much of it on every side, px. */
const frame = { left: -360, right: 1160, top: -234, bottom: 754 }
const place: fc.Arbitrary<ScreenPoint> = fc.record({
  left: fc.integer({ min: -3000, max: 3800 }),
  top: fc.integer({ min: -3000, max: 3500 }),
})
const textOf = (places: readonly ScreenPoint[]): string =>
  screenLineText(
    places.map((one) => planOfScreen(view, one)),
    view,
  )
const drawn = (text: string): readonly number[] => text.split(/[ML ]/).filter(Boolean).map(Number)
const isIn = ({ left, top }: ScreenPoint, slack = 0): boolean =>
  left >= frame.left - slack && left <= frame.right + slack && top >= frame.top - slack && top <= frame.bottom + slack
const reachOf = ({ left, top }: ScreenPoint, a: ScreenPoint, b: ScreenPoint): number => {
  const [right, down] = [b.left - a.left, b.top - a.top]
  return ((left - a.left) * right + (top - a.top) * down) / (right * right + down * down)
}

test('a side is drawn where it lies in the view and about it, and nowhere else', () => {
  fc.assert(
    fc.property(place, place, (from, to) => {
      fc.pre(from.left !== to.left || from.top !== to.top)
      const [x1, y1, x2, y2] = drawn(textOf([from, to]))
      const shares = Array.from({ length: 101 }, (_, i) => i / 100)
      const inside = shares.filter((share) =>
        isIn({ left: from.left + share * (to.left - from.left), top: from.top + share * (to.top - from.top) }, -1e-6),
      )
      if (x1 === undefined || y1 === undefined || x2 === undefined || y2 === undefined) {
        expect(inside).toEqual([])
        return
      }
      const ends = [
        { left: x1, top: y1 },
        { left: x2, top: y2 },
      ] as const
      for (const end of ends) expect(isIn(end, 1e-6)).toBe(true)
      const [first, last] = ends.map((end) => reachOf(end, from, to))
      expect(first).toBeGreaterThan(-1e-9)
      expect(last).toBeLessThan(1 + 1e-9)
      for (const share of inside) {
        expect(share).toBeGreaterThanOrEqual((first ?? 0) - 1e-9)
        expect(share).toBeLessThanOrEqual((last ?? 1) + 1e-9)
      }
    }),
  )
})

test('a line in view is drawn whole, side by side', () => {
  const numbers = drawn(
    textOf([
      { left: 10, top: 20 },
      { left: 300, top: 40 },
      { left: 310, top: 400 },
    ]),
  ).map((one) => Math.round(one * 1e6) / 1e6)
  expect(numbers).toEqual([10, 20, 300, 40, 300, 40, 310, 400])
})
