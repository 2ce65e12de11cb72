import type { ScreenPoint, View } from './viewport.ts'

/** Words on the plan, before they are drawn: where, and from which side of that they are written. */
export interface PlanLabel {
  readonly words: string
  readonly at: ScreenPoint
  readonly anchor: 'start' | 'middle' | 'end'
  readonly tone: 'ink' | 'soft' | 'hand'
}

/** A part of the screen that something takes, px. */
export interface ScreenBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Width of a letter, on the safe side, and what a line of words takes above its foot and below it, px. */
const letterPx = 5.6
const above = 11
const below = 4

/** The rulers lie along the upper and the left edge, the words of the lower corner along the foot, px. */
const edges = { left: 6, top: 20, right: 6, bottom: 8 } as const

export const wordsPx = (words: string): number => words.length * letterPx

/** What the words of a label take. */
export function labelBox({ words, at, anchor }: Pick<PlanLabel, 'words' | 'at' | 'anchor'>): ScreenBox {
  const width = wordsPx(words)
  const left = at.left - (anchor === 'start' ? 0 : anchor === 'end' ? width : width / 2)
  return { left, top: at.top - above, right: left + width, bottom: at.top + below }
}

export function boxAround({ left, top }: ScreenPoint, px: number): ScreenBox {
  return { left: left - px, top: top - px, right: left + px, bottom: top + px }
}

export const boxesMeet = (a: ScreenBox, b: ScreenBox): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom

/** How much of two boxes is the same, square px. */
export const sharedPx = (a: ScreenBox, b: ScreenBox): number =>
  boxesMeet(a, b) ? (Math.min(a.right, b.right) - Math.max(a.left, b.left)) * (Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top)) : 0

export const isWithin = (box: ScreenBox, { size }: View): boolean =>
  box.left >= edges.left && box.top >= edges.top && box.right <= size.width - edges.right && box.bottom <= size.height - edges.bottom

/** A label whose place is in view is read whole: it is moved off the edge that would cut it. */
export function labelHeld<L extends PlanLabel>(label: L, view: View): L {
  const { size } = view
  const { left, top } = label.at
  if (left < 0 || top < 0 || left > size.width || top > size.height) return label
  const box = labelBox(label)
  const right = push(box.left, box.right, edges.left, size.width - edges.right)
  const down = push(box.top, box.bottom, edges.top, size.height - edges.bottom)
  return right === 0 && down === 0 ? label : { ...label, at: { left: left + right, top: top + down } }
}

/** How much a label is in the way of others that stand already, square px; one that an edge would cut pays `cutOff` more. Lower is better. */
export function labelCost(label: PlanLabel, taken: readonly PlanLabel[], view: View, cutOff: number): number {
  const box = labelBox(label)
  return taken.reduce((sum, other) => sum + sharedPx(box, labelBox(other)), 0) + (labelHeld(label, view) === label ? 0 : cutOff)
}

function push(from: number, to: number, least: number, most: number): number {
  if (from < least) return least - from
  return to > most ? most - to : 0
}
