import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { boxesMeet, isWithin, labelBox, labelHeld, sharedPx } from '../../../src/app/canvas/labels.ts'
import type { PlanLabel } from '../../../src/app/canvas/labels.ts'
import { trackLabels } from '../../../src/app/canvas/trackLabels.ts'
import { viewFitting } from '../../../src/app/canvas/viewport.ts'
import type { View } from '../../../src/app/canvas/viewport.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'

const view: View = { size: { width: 800, height: 520 }, centre: { x: 0, y: 0 }, pxPerMm: 0.2 }
const label: fc.Arbitrary<PlanLabel> = fc.record({
  words: fc.string({ minLength: 1, maxLength: 30 }),
  at: fc.record({ left: fc.integer({ min: 0, max: 800 }), top: fc.integer({ min: 0, max: 520 }) }),
  anchor: fc.constantFrom('start', 'middle', 'end'),
  tone: fc.constant('ink'),
})

test('a label whose place is in view is read whole, and one that is read whole stays', () => {
  fc.assert(
    fc.property(label, (one) => {
      const held = labelHeld(one, view)
      expect(isWithin(labelBox(held), view)).toBe(true)
      if (isWithin(labelBox(one), view)) expect(held).toBe(one)
      expect(labelHeld(held, view)).toEqual(held)
    }),
  )
})

test('boxes share a part of the screen just when they meet', () => {
  fc.assert(
    fc.property(label, label, (one, other) => {
      const [a, b] = [labelBox(one), labelBox(other)]
      expect(sharedPx(a, b) > 0).toBe(boxesMeet(a, b))
      expect(sharedPx(a, b)).toBe(sharedPx(b, a))
      expect(sharedPx(a, a)).toBeCloseTo((a.right - a.left) * (a.bottom - a.top), 9)
    }),
  )
})

test.each([
  { width: 810, units: 'imperial' },
  { width: 810, units: 'metric' },
  { width: 532, units: 'imperial' },
  { width: 532, units: 'metric' },
] as const)('what is written on a selected line of the demo can all be read, on a canvas $width px wide, $units', ({ width, units }) => {
  const read = planRead(readFileSync('public/demo/fennimore.json', 'utf8'))
  if (!read.ok) throw new Error('the demo does not read')
  const network = networkCreateDeriver()(read.plan)
  const room = { minX: 0, minY: 0, maxX: 138 * 25.4, maxY: 108 * 25.4 }
  const whole = viewFitting({ ...view, size: { width, height: 531 } }, room)
  for (const track of network.tracks.values()) {
    const labels = trackLabels(track, null, whole, { units, fraction: 64 })
    const boxes = labels.map(labelBox)
    for (const [i, box] of boxes.entries())
      for (const other of boxes.slice(i + 1)) expect([track.track.name, boxesMeet(box, other)]).toEqual([track.track.name, false])
  }
  // Every curve of the main is long enough for its places, its radius and its easements.
  const main = [...network.tracks.values()].find(({ track }) => track.name === 'Main')
  if (main === undefined) throw new Error('the demo has a main')
  const words = trackLabels(main, null, whole, { units, fraction: 64 }).map((one) => one.words)
  const counted = (begin: string): number => words.filter((one) => one.startsWith(begin)).length
  expect(['PI', 'TS', 'SC', 'CS', 'ST', 'R ', 'easements'].map(counted)).toEqual(Array.from({ length: 7 }, () => 4))
})
