import type { JoinCurve } from './curve.ts'
import { edgeBisect } from './search.ts'
import { REVERSE_SWING_RAD } from './margin.ts'
import { lineAlternative, lineStraights, lineTurns } from './line.ts'
import type { LineChoice } from './line.ts'
import { peakGolden } from '../golden.ts'
import { shapeBetween } from './bounded.ts'
import type { JoinTask } from './bounded.ts'
import { targetPlaceBest } from './place.ts'
import type { TargetPlace } from './place.ts'
import { HALF_TURN_ROUNDING_RAD, leftTurn, shapeIsReverse, shapeReach } from './shape.ts'
import type { Shape } from './shape.ts'
import type { JoinAlternative } from './types.ts'

/*
 * Lines that swing beyond half a turn: the loop between two legs of a wye, the turnback that must first swing out. Their
 * straights can lead anywhere, so no radius is the largest; the line is only longer for it. So the radius is the least that the
 * limits allow, and the line the shortest.
 * They are sought only where the line has to turn back anyway: a turn of 60 degrees is never made as one of 300.
 */

/** The most that the headings of a line may be apart: two thirds of a turn. Then it turns back by a third of a turn or more. */
const MOST_SWING_RAD = (4 / 3) * Math.PI

/** A loop longer than this many distances and minimum radii is no answer: to and fro, and two turns. */
const LONGEST_DISTANCES = 2
const LONGEST_RADII = 12

/** First turns that are tried first. */
const TURNS = 48

/** Other radii than the minimum are tried in steps of a tenth, down to a tenth of it and up to ten times. */
const STEP = 1.1
const STEPS = 25

interface Loop {
  readonly choice: LineChoice
  readonly place: TargetPlace
  readonly lengthMm: number
}

/** The whole turns that a shape can make beyond half a turn, and for each the range of its first curve. */
function loopTurns(shape: Shape, turnRad: number, curve: JoinCurve): readonly { turnRad: number; from: number; to: number }[] {
  const least = curve.leastTurnRad
  if (!shapeIsReverse(shape)) {
    const whole = leftTurn(turnRad)
    if (whole <= Math.PI + HALF_TURN_ROUNDING_RAD || whole > MOST_SWING_RAD) return []
    return shape.family === 'oneCurve' ? [{ turnRad: whole, from: whole, to: whole }] : [{ turnRad: whole, from: least, to: whole - least }]
  }
  return [turnRad, turnRad > 0 ? turnRad - 2 * Math.PI : turnRad + 2 * Math.PI].flatMap((whole) => {
    if (Math.abs(whole) < 2 * Math.PI - MOST_SWING_RAD || Math.abs(whole) > MOST_SWING_RAD) return []
    // The longer of the two curves is the first one when the line turns left on the whole, else the second one.
    const lowest = Math.min(0, whole)
    const from = Math.max(least, whole + least, Math.PI + lowest)
    return [{ turnRad: whole, from, to: Math.min(MOST_SWING_RAD + lowest, Math.max(0, whole) + REVERSE_SWING_RAD) }]
  })
}

/** The shortest loop of a shape to a place, at a radius. */
function loopShortest(task: JoinTask, shape: Shape, curve: JoinCurve, place: TargetPlace): Loop | null {
  const reach = shapeReach(shape, task.request.start, place.end)
  const betweenMm = shapeBetween(shape, task)
  let best: Loop | null = null
  for (const { turnRad, from, to } of loopTurns(shape, reach.turnRad, curve)) {
    if (from > to) continue
    const loopAt = (firstTurnRad: number): Loop | null => {
      const choice: LineChoice = { shape, first: curve, second: curve, firstTurnRad, turnRad, betweenMm, reach }
      const straights = lineStraights(choice)
      if (straights === null) return null
      const turns = lineTurns(choice)
      const curvesMm = turns.reduce((sum, rad) => sum + rad * curve.radiusMm + curve.easementMm, 0)
      return { choice, place, lengthMm: straights[0] + straights[1] + straights[2] + curvesMm }
    }
    const count = from === to ? 1 : TURNS
    const turnAt = (i: number): number => (i >= count - 1 ? to : from + (i * (to - from)) / (count - 1))
    let index = -1
    let least = Infinity
    for (let i = 0; i < count; i++) {
      const lengthMm = loopAt(turnAt(i))?.lengthMm ?? Infinity
      if (lengthMm < least) {
        least = lengthMm
        index = i
      }
    }
    if (index < 0) continue
    const firstTurnRad = peakGolden((rad) => -(loopAt(rad)?.lengthMm ?? Infinity), turnAt(Math.max(0, index - 1)), turnAt(index + 1))
    const loop = loopAt(firstTurnRad) ?? loopAt(turnAt(index))
    if (loop !== null && loop.lengthMm < (best?.lengthMm ?? Infinity)) best = loop
  }
  return best
}

/**
 * The shortest line of a shape that swings beyond half a turn, at the minimum radius. One curve that does not close there, or only far
 * away, has the least radius with which it closes.
 *
 * Exactness:  the first turn of two curves within 5e-9; the radius, where it is not the minimum, up to rounding.
 * Outcome:    null when there is none, or it would be longer than any room.
 */
export function loopLine(task: JoinTask, shape: Shape): JoinAlternative | null {
  const { start, target, limits } = task.request
  const longestMm = LONGEST_DISTANCES * (task.sizeMm - limits.minRadiusMm) + LONGEST_RADII * limits.minRadiusMm
  const lengthOf = (curve: JoinCurve, place: TargetPlace): number => loopShortest(task, shape, curve, place)?.lengthMm ?? Infinity
  const loopAt = (radiusMm: number): Loop | null => {
    const curve = task.curveOf(radiusMm)
    if (curve === null) return null
    return loopShortest(
      task,
      shape,
      curve,
      targetPlaceBest(target, task.places, (place) => -lengthOf(curve, place)),
    )
  }
  const isShort = (loop: Loop | null): loop is Loop => loop !== null && loop.lengthMm <= longestMm
  const atLeast = loopAt(limits.minRadiusMm)
  const loop = isShort(atLeast) || shape.family !== 'oneCurve' ? atLeast : loopAt(radiusLeastClosing(loopAt, limits.minRadiusMm))
  if (!isShort(loop)) return null
  return lineAlternative(loop.choice, { start, place: loop.place, isAlong: target.kind === 'along', limits, isRadiusFree: true })
}

/** The least radius with which one curve closes, sought upwards or downwards from the minimum. It closes with every larger one. */
function radiusLeastClosing(loopAt: (radiusMm: number) => Loop | null, minRadiusMm: number): number {
  const closes = (radiusMm: number): boolean => loopAt(radiusMm) !== null
  const isClosing = closes(minRadiusMm)
  let before = minRadiusMm
  for (let i = 1; i <= STEPS; i++) {
    const radiusMm = minRadiusMm * STEP ** (isClosing ? -i : i)
    if (closes(radiusMm) !== isClosing) return isClosing ? edgeBisect(closes, before, radiusMm) : edgeBisect(closes, radiusMm, before)
    before = radiusMm
  }
  return minRadiusMm
}
