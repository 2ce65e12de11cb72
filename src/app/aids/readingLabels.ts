import type { Measured } from '../../core/readings/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { measuredText } from '../../words/readingText.ts'
import { labelCost } from '../canvas/labels.ts'
import type { PlanLabel } from '../canvas/labels.ts'
import { isShown } from '../canvas/markParts.tsx'
import { screenOfPlan } from '../canvas/viewport.ts'
import type { ScreenPoint, View } from '../canvas/viewport.ts'

type Known = Exclude<Measured, { kind: 'unknown' }>

/** From the line of a measurement to its figure, px: beside it, or a line of words farther out. */
const outPx = [10, 26, 42] as const

/** What a label pays for being cut off by an edge of the plan, as square pixels that it shares with another. */
const cutOff = 400

/**
 * Where the figures of measurements stand: beside their lines, each out of the way of those before it. In the order of the measurements;
 * null for what is not in view.
 */
export function readingLabels(all: readonly Measured[], view: View, prefs: MeasurePrefs): readonly (PlanLabel | null)[] {
  const taken: PlanLabel[] = []
  return all.map((measured) => {
    const choices = measured.kind === 'unknown' ? [] : figurePlaces(measured, view)
    const [first] = choices
    if (measured.kind === 'unknown' || first === undefined || !isShown(first.at, view)) return null
    const words = measuredText(measured, prefs)
    const labels = choices.map((place): PlanLabel => ({ ...place, words, tone: 'hand' }))
    const costs = labels.map((label) => labelCost(label, taken, view, cutOff))
    const best = labels[costs.indexOf(Math.min(...costs))] ?? null
    if (best !== null) taken.push(best)
    return best
  })
}

type Place = Pick<PlanLabel, 'at' | 'anchor'>

/** The first is the one that is taken where nothing is in the way. */
function figurePlaces({ kind, line }: Known, view: View): readonly Place[] {
  const on = line.map((point: Point) => screenOfPlan(view, point))
  if (kind === 'radius' || kind === 'angle') {
    // Of a curve at the place itself, of an angle at its corner: the centre may be far off.
    const at = kind === 'radius' ? on[0] : on[1]
    return at === undefined ? [] : outPx.flatMap((px) => around(at, px))
  }
  const middle = Math.floor((on.length - 1) / 2)
  const [from, to] = [on[middle], on[middle + 1]]
  if (from === undefined) return []
  if (to === undefined) return outPx.flatMap((px) => around(from, px))
  return outPx.flatMap((px) => [0.5, 0.25, 0.75].flatMap((part) => beside(from, to, part, px)))
}

/** On both sides of a place of a line; to the left or above first, where the words of the pointer are not. */
function beside(from: ScreenPoint, to: ScreenPoint, part: number, px: number): readonly Place[] {
  const [along, down] = [to.left - from.left, to.top - from.top]
  const size = Math.hypot(along, down)
  if (size === 0) return around(from, px)
  const at = { left: from.left + along * part, top: from.top + down * part }
  // Square to the line, to the left of the screen; of a level line upwards.
  const turned = { left: -down / size, top: along / size }
  const sign = turned.left > 1e-9 || (Math.abs(turned.left) <= 1e-9 && turned.top > 0) ? -1 : 1
  return [sign, -sign].map((side): Place => {
    const off = { left: turned.left * side, top: turned.top * side }
    const anchor = off.left < -0.4 ? 'end' : off.left > 0.4 ? 'start' : 'middle'
    // The foot of the words is told: below a line they stand so much lower.
    return { at: { left: at.left + off.left * px, top: at.top + off.top * px + (off.top > 0.4 ? 11 : off.top < -0.4 ? 0 : 4) }, anchor }
  })
}

function around({ left, top }: ScreenPoint, px: number): readonly Place[] {
  return [
    { at: { left: left + 10, top: top + 2 - px }, anchor: 'start' },
    { at: { left: left + 10, top: top + 6 + px }, anchor: 'start' },
    { at: { left: left - 10, top: top + 2 - px }, anchor: 'end' },
    { at: { left: left - 10, top: top + 6 + px }, anchor: 'end' },
  ]
}
