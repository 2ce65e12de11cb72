import { describe, expect, it } from 'vitest'
import { readingLabels } from '../../../src/app/aids/readingLabels.ts'
import { boxesMeet, isWithin, labelBox } from '../../../src/app/canvas/labels.ts'
import type { View } from '../../../src/app/canvas/viewport.ts'
import type { Measured } from '../../../src/core/readings/index.ts'

const view: View = { size: { width: 800, height: 520 }, centre: { x: 0, y: 0 }, pxPerMm: 0.2 }
const prefs = { units: 'metric', fraction: 64 } as const

const length = (x: number, y: number, toX: number, toY: number): Measured => ({
  kind: 'length',
  mm: Math.hypot(toX - x, toY - y),
  line: [
    { x, y },
    { x: toX, y: toY },
  ],
})

describe('the figures of measurements', () => {
  it('stand beside their lines: to the left of an upright one, above a level one', () => {
    const [upright, level] = readingLabels([length(0, 0, 0, 500), length(500, -600, 1000, -600)], view, prefs)
    // 0.2 px a mm about the middle of 800 x 520.
    expect(upright).toMatchObject({ words: '500 mm', anchor: 'end', at: { left: 390, top: 260 - 50 + 4 } })
    expect(level).toMatchObject({ anchor: 'middle', at: { left: 550, top: 260 + 120 - 10 } })
  })

  it('are on the same side whichever end was pointed at first', () => {
    const [one, other] = [length(0, 0, 300, 500), length(300, 500, 0, 0)].map((of) => readingLabels([of], view, prefs)[0])
    expect(one).toEqual(other)
  })

  it('keep out of the way of those before, ten through one place and two on one line', () => {
    const through = Array.from({ length: 10 }, (_, i): Measured => {
      const turn = (i * Math.PI) / 10
      const [x, y] = [600 * Math.cos(turn), 600 * Math.sin(turn)]
      return length(-x, -y, x, y)
    })
    const all = [...through, length(-1000, 900, 0, 900), length(-1000, 900, 0, 900)]
    const labels = readingLabels(all, view, prefs).flatMap((label) => label ?? [])
    expect(labels).toHaveLength(12)
    const boxes = labels.map(labelBox)
    const pairs = boxes.flatMap((a, i) => boxes.slice(i + 1).filter((b) => boxesMeet(a, b)))
    expect(pairs).toEqual([])
  })

  it('of a radius and an angle stand at the place, and make way as well', () => {
    const place = { x: 0, y: 0 }
    const radius: Measured = { kind: 'radius', radiusMm: 600, line: [place, { x: 0, y: 600 }] }
    const angle: Measured = { kind: 'angle', rad: 1, line: [{ x: 100, y: 0 }, place, { x: 0, y: 100 }] }
    const [a, b] = readingLabels([radius, angle], view, prefs)
    if (a === undefined || a === null || b === undefined || b === null) throw new Error('Both are in view.')
    expect(boxesMeet(labelBox(a), labelBox(b))).toBe(false)
  })

  it('are not cut off by an edge of the plan where there is another side', () => {
    // 10 px from the left edge: to its left there is no room for words.
    const [label] = readingLabels([length(-1950, -200, -1950, 200)], view, prefs)
    if (label === undefined || label === null) throw new Error('It is in view.')
    expect(isWithin(labelBox(label), view)).toBe(true)
  })

  it('are none for what is not known, or far out of view', () => {
    expect(readingLabels([{ kind: 'unknown' }, length(90_000, 0, 91_000, 0)], view, prefs)).toEqual([null, null])
  })
})
