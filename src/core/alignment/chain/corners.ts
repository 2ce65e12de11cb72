import { angleBetween, elementEnd, pathFromElements, pointDistance, posesMeet } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import type { CompoundArc, CompoundNextArc, Corner } from '../../plan/types.ts'
import type { ChainElement, ChainProblem, ChainResult } from './types.ts'

/** A file's own rounding: elements that miss each other by less are joined. */
const GAP_MM = 0.05
const TURN_RAD = 1e-4

/** Under this curvature an element is straight: a radius of a hundred kilometres. */
const STRAIGHT_CURVATURE = 1e-8
/** Curvatures that differ by less, in proportion, are one: files write radii to a few digits. */
const SAME_CURVATURE = 1e-6

/** A curve that turns more is cut in two in the middle of its longest arc, so that no PI lies out of sight. */
const MOST_TURN_RAD = (5 * Math.PI) / 6

/** A stretch of one hand (+1 left), from zero or a jump of curvature to zero or a jump. Curvatures of its parts without sign. */
interface Curve {
  readonly hand: number
  readonly parts: readonly Part[]
}
interface Part {
  readonly index: number
  readonly lengthMm: number
  readonly a: number
  readonly b: number
  readonly from: Pose
  readonly to: Pose
}

/**
 * The PIs of a chain of lines, arcs and clothoids: the track that has just this line.
 *
 * Units:      mm, rad, 1/mm.
 * Exactness:  up to the chain's own rounding; radii, easements and turns are taken over as they are.
 * Outcome:    the track, closed when the chain ends where and as it started; else the first problem.
 * Throws:     never.
 * Source:     derived here. A stretch of one hand is one corner: its PI lies where the tangents at its ends meet,
 *             from P0 along h0 by t with  t = ((P1 - P0) x u1) / (u0 x u1).  Where the hand changes through zero inside a
 *             clothoid, it is cut there: at L k0 / (k0 - k1). What turns far is cut within an arc, whose halves meet on a tangent
 *             of no length.
 */
export function cornersOfChain(elements: readonly ChainElement[]): ChainResult {
  const [first] = elements
  if (first === undefined) return { ok: false, problem: { kind: 'empty' } }
  const problem = chainProblem(elements)
  if (problem !== null) return { ok: false, problem }
  // Laid end to end from the first start: a file's rounding would leave some curves a hair too little room.
  const { elements: laid, end } = pathFromElements(first.start, elements)
  const corners: Omit<Corner, 'id'>[] = []
  for (const curve of curvesOf(laid).flatMap(halved)) {
    const corner = cornerOf(curve)
    if (typeof corner === 'number') return { ok: false, problem: { kind: 'spiralWithoutArc', element: corner } }
    corners.push(corner)
  }
  const isClosed =
    corners.length > 1 &&
    pointDistance(first.start, end) <= GAP_MM * elements.length &&
    Math.abs(angleBetween(first.start.headingRad, end.headingRad)) <= TURN_RAD
  return {
    ok: true,
    track: {
      start: { kind: 'free', x: first.start.x, y: first.start.y },
      corners: corners.map((corner, i) => ({ id: `pi-${i + 1}`, ...corner })),
      end: isClosed ? { kind: 'closed' } : { kind: 'free', x: end.x, y: end.y },
    },
  }
}

function chainProblem(elements: readonly ChainElement[]): ChainProblem | null {
  let at: Pose | null = null
  for (const [element, one] of elements.entries()) {
    const { start, lengthMm, k0, k1 } = one
    const isFinite = [start.x, start.y, start.headingRad, lengthMm, k0, k1].every((value) => Number.isFinite(value)) && lengthMm > 0
    if (!isFinite) return { kind: 'notFinite', element }
    if (at !== null) {
      const gapMm = pointDistance(at, start)
      const turnRad = angleBetween(at.headingRad, start.headingRad)
      if (gapMm > GAP_MM || Math.abs(turnRad) > TURN_RAD) return { kind: 'broken', element, gapMm, turnRad }
    }
    at = elementEnd(one, start)
  }
  return null
}

const isStraight = (k: number): boolean => Math.abs(k) < STRAIGHT_CURVATURE
const isSame = (a: number, b: number): boolean =>
  Math.abs(a - b) <= SAME_CURVATURE * Math.max(Math.abs(a), Math.abs(b)) + STRAIGHT_CURVATURE

function curvesOf(elements: readonly ChainElement[]): readonly Curve[] {
  const curves: { readonly hand: number; readonly parts: Part[] }[] = []
  let open: { readonly hand: number; readonly parts: Part[] } | null = null
  for (const [index, element] of elements.entries()) {
    for (const { start, lengthMm, k0, k1 } of cutAtZero(element)) {
      const [a, b] = [isStraight(k0) ? 0 : k0, isStraight(k1) ? 0 : k1]
      if (a === 0 && b === 0) {
        open = null
        continue
      }
      const hand = Math.sign(a + b)
      // A curve ends where its curvature has gone to zero, and where the hand changes.
      if (open === null || open.hand !== hand || open.parts.at(-1)?.b === 0) {
        open = { hand, parts: [] }
        curves.push(open)
      }
      const to = elementEnd({ lengthMm, k0, k1 }, start)
      open.parts.push({ index, lengthMm, a: Math.abs(a), b: Math.abs(isSame(a, b) ? a : b), from: start, to })
    }
  }
  return curves
}

function cutAtZero(element: ChainElement): readonly ChainElement[] {
  const { k0, k1, lengthMm, start } = element
  if (isStraight(k0) || isStraight(k1) || k0 * k1 > 0) return [element]
  const toZeroMm = (lengthMm * k0) / (k0 - k1)
  const before = { start, lengthMm: toZeroMm, k0, k1: 0 }
  return [before, { start: elementEnd(before, start), lengthMm: lengthMm - toZeroMm, k0: 0, k1 }]
}

const turnOf = ({ lengthMm, a, b }: Part): number => (lengthMm * (a + b)) / 2
const isArc = ({ a, b }: Part): boolean => a === b

/** A curve, or what it is cut into where it turns too far for one PI. */
function halved({ hand, parts }: Curve): readonly Curve[] {
  const whole = [{ hand, parts }]
  const [widest] = parts.filter(isArc).toSorted((one, other) => turnOf(other) - turnOf(one))
  if (widest === undefined || parts.reduce((sum, part) => sum + turnOf(part), 0) <= MOST_TURN_RAD) return whole
  const lengthMm = widest.lengthMm / 2
  const middle = elementEnd({ lengthMm, k0: hand * widest.a, k1: hand * widest.a }, widest.from)
  const at = parts.indexOf(widest)
  return [
    { hand, parts: [...parts.slice(0, at), { ...widest, lengthMm, to: middle }] },
    { hand, parts: [{ ...widest, lengthMm, from: middle }, ...parts.slice(at + 1)] },
  ].flatMap(halved)
}

/** The corner of one curve; the number of an element that has no place in one. */
function cornerOf({ parts }: Curve): Omit<Corner, 'id'> | number {
  const [first] = parts
  const last = parts.at(-1)
  if (first === undefined || last === undefined) return 0
  const easementIn = first.a === 0 ? first.lengthMm : 0
  const easementOut = last.b === 0 ? last.lengthMm : 0
  const at = posesMeet(first.from, last.to) ?? first.from
  const inner = parts.slice(first.a === 0 ? 1 : 0, last.b === 0 ? -1 : undefined)
  // Up to a curvature and down again at once: no arc is between.
  if (inner.length === 0) {
    const [up, down] = [parts[0], parts[1]]
    if (parts.length !== 2 || up === undefined || down === undefined || !isSame(up.b, down.a)) return first.index
    return { ...at, radius: 'easement-only', easementIn, easementOut }
  }
  const arcs: { readonly easementMm: number; readonly part: Part }[] = []
  let before = first.a === 0 ? first : null
  for (const part of inner) {
    if (isArc(part)) {
      const easementMm = before?.lengthMm ?? 0
      if (before !== null && !isSame(before.b, part.a)) return part.index
      arcs.push({ easementMm, part })
      before = null
      continue
    }
    const arc = arcs.at(-1)
    if (before !== null || arc === undefined || !isSame(arc.part.a, part.a)) return part.index
    before = part
  }
  const end = arcs.at(-1)
  if (end === undefined || before !== null || (last.b === 0 && !isSame(end.part.a, last.a))) return last.index
  const [one, ...others] = arcs.map(({ easementMm, part }, i): CompoundNextArc => {
    const turnRad = turnOf(part)
    // One arc takes what the others leave, so that the sum of turns is the corner's own to the last digit.
    const turn: CompoundArc['turn'] = i === 0 ? { kind: 'share', share: 1 } : { kind: 'angle', turnRad }
    return { radius: 1 / part.a, turn, easement: easementMm }
  })
  if (one === undefined) return first.index
  if (others.length === 0) return { ...at, radius: one.radius, easementIn, easementOut }
  return { ...at, radius: { first: { radius: one.radius, turn: one.turn }, next: others }, easementIn, easementOut }
}
