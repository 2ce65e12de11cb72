import type { JoinCurve } from './curve.ts'
import { bisectPart } from './search.ts'
import { REVERSE_SWING_RAD } from './margin.ts'
import { lineAlternative, lineStraights, lineTurns } from './line.ts'
import type { LineChoice } from './line.ts'
import { peakGolden } from './golden.ts'
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

/** A loop longer than this many distances and minimum radii leaves every room: twice to and fro, and two full turns and a half. */
const LONGEST_DISTANCES = 2
const LONGEST_RADII = 16

/** First turns that are tried first. */
const TURNS = 48

/** Radii above the least that are tried: each a tenth more than the one before, up to ten times. */
const LARGER = Array.from({ length: 25 }, (_, i) => 1.1 ** (i + 1))

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
 * The shortest line of a shape that swings beyond half a turn, at the minimum radius; where that does not close, at the nearest
 * radius that does, larger before smaller.
 *
 * Exactness:  the first turn of two curves within 5e-9; the radius, where it is not the minimum, within 1e-9 of itself.
 * Outcome:    null when there is none, or it would be longer than any room.
 */
export function loopLine(task: JoinTask, shape: Shape): JoinAlternative | null {
  const { start, target, limits } = task.request
  const longestMm = LONGEST_DISTANCES * task.sizeMm + LONGEST_RADII * limits.minRadiusMm
  const lengthOf = (curve: JoinCurve, place: TargetPlace): number => loopShortest(task, shape, curve, place)?.lengthMm ?? Infinity
  const loopAt = (radiusMm: number): Loop | null => {
    const curve = task.curveOf(radiusMm)
    if (curve === null) return null
    const place = targetPlaceBest(target, task.places, (candidate) => -lengthOf(curve, candidate))
    const loop = loopShortest(task, shape, curve, place)
    return loop !== null && loop.lengthMm <= longestMm ? loop : null
  }
  const loop = loopNearest(loopAt, limits.minRadiusMm)
  if (loop === null) return null
  return lineAlternative(loop.choice, { start, place: loop.place, isAlong: target.kind === 'along', limits, isRadiusFree: true })
}

function loopNearest(loopAt: (radiusMm: number) => Loop | null, leastMm: number): Loop | null {
  const atLeast = loopAt(leastMm)
  if (atLeast !== null) return atLeast
  let before = 1
  for (const factor of LARGER) {
    if (loopAt(leastMm * factor) !== null) return loopAt(leastMm * bisectPart((part) => loopAt(leastMm * part) !== null, factor, before))
    before = factor
  }
  before = 1
  for (const factor of LARGER) {
    if (loopAt(leastMm / factor) !== null)
      return loopAt(leastMm * bisectPart((part) => loopAt(leastMm * part) !== null, 1 / factor, 1 / before))
    before = factor
  }
  return null
}
