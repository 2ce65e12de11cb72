import type { ScreenPoint, ScreenSize } from './viewport.ts'

/** Something a card would rather not lie over: places on the screen, and how much each of them counts. */
export interface Crowd {
  readonly places: readonly ScreenPoint[]
  readonly weight: number
}

interface Card {
  /** What the card is about, and the top of the mark that stands over it. */
  readonly at: ScreenPoint
  readonly markTop: number
  readonly width: number
  readonly height: number
}

/** From the place to the card, px: the nearest that is free. */
const gaps = [16, 32, 56, 88, 128] as const
/** Air about a card within which nothing should lie, px. */
const airPx = 5
/** So much of a crowd outweighs a pixel of nearness. */
const perPx = 0.04
/** Kept free along the edges: rulers, and the words of the lower corner. */
const edges = { left: 24, top: 22, right: 8, bottom: 44 } as const

/** Where a card lies beside what it is about: near it, within the canvas, over as little else as can be. */
export function cardPlace({ at, markTop, width, height }: Card, size: ScreenSize, crowds: readonly Crowd[]): ScreenPoint {
  const [right, bottom] = [size.width - edges.right - width, size.height - edges.bottom - height]
  let best: { readonly place: ScreenPoint; readonly cost: number } | null = null
  for (const gap of gaps) {
    const columns = [at.left + gap, at.left - gap - width, at.left - width / 2]
    const lines = [at.top - height / 2, at.top + gap, markTop - gap - height]
    for (const left of columns)
      for (const top of lines) {
        const place = { left: held(left, edges.left, right), top: held(top, edges.top, bottom) }
        const cost =
          gap * perPx +
          crowds.reduce((sum, crowd) => sum + crowd.weight * crowd.places.filter((one) => isUnder(one, place, width, height)).length, 0) +
          // Never over the place itself or its mark.
          (isUnder(at, place, width, height) || isUnder({ left: at.left, top: markTop + airPx }, place, width, height) ? 1000 : 0)
        if (best === null || cost < best.cost) best = { place, cost }
      }
  }
  return best?.place ?? { left: edges.left, top: edges.top }
}

/** On a canvas too small for it a card begins at its upper left corner. */
const held = (value: number, least: number, most: number): number => Math.max(least, Math.min(value, most))

function isUnder(one: ScreenPoint, { left, top }: ScreenPoint, width: number, height: number): boolean {
  return one.left > left - airPx && one.left < left + width + airPx && one.top > top - airPx && one.top < top + height + airPx
}
