import { rootBrent } from '../../geom/index.ts'
import { STRAIGHT_RAD } from '../corner.ts'
import { boundedLine, curvesRemembered } from './bounded.ts'
import type { JoinTask } from './bounded.ts'
import { lineLay } from './lay.ts'
import { loopLine } from './loop.ts'
import { targetPlaceAt, targetPlaces } from './place.ts'
import type { TargetPlace } from './place.ts'
import { joinRequestProblem } from './problem.ts'
import { radiiTried } from './search.ts'
import { shapeReach, shapes } from './shape.ts'
import { joinStops } from './stopped.ts'
import type { JoinAlternative, JoinAnswer, JoinProblem, JoinRequest, JoinStop } from './types.ts'

/**
 * The lines that join a pose with a leg (or with any place along a path), each of the largest minimum radius that its family allows,
 * with easements by rule.
 *
 * Families: straight; one curve; two the same way or a reverse with a tangent between of at least what is asked; a reverse with
 * easements back to back. Either hand first. A line's headings stay within half a turn; where it has to turn back by a third of a
 * turn or more, it may swing to two thirds of a turn, and then stands at the minimum radius.
 *
 * Units:      mm, rad.
 * Domain:     finite numbers; minimum radius > 0, other limits >= 0; stations on the path.
 * Exactness:  a radius is the largest of its family within 1e-9 of itself where the place is given; along a path the place
 *             is the best of 33 even ones, refined. Both poses are met within 1e-6 mm and 1e-9 rad.
 * Outcome:    those that work and are not beaten in both radius and length, the largest minimum radius first, also those
 *             under the limits and by how much; what stops the join when none keeps them. Work is bounded: no request takes more than some hundred thousand evaluations.
 * Throws:     never.
 * Source:     derived in margin.ts; cornerSolve and traverseSolve for the line itself.
 */
export function joinSolve(request: JoinRequest): JoinAnswer {
  const found = joinFound(request)
  return found.ok ? { ok: true, alternatives: found.alternatives, stopped: found.stops() } : found
}

/** Lines found, with what stops the join to be worked out only where it is told: of many places of a track mostly nowhere. */
export type JoinFound =
  | { readonly ok: true; readonly alternatives: readonly JoinAlternative[]; stops(): readonly JoinStop[] }
  | { readonly ok: false; readonly problem: JoinProblem }

/** joinSolve with its second half left for later. */
export function joinFound(request: JoinRequest): JoinFound {
  const problem = joinRequestProblem(request)
  if (problem !== null) return { ok: false, problem }
  const straight = joinStraight(request)
  if (straight !== null) return { ok: true, alternatives: [straight], stops: () => [] }

  const task = joinTask(request)
  const isEased = (task.curveOf(request.limits.minRadiusMm)?.easementMm ?? 0) > 0
  const sought = shapes.filter(({ family }) => isEased || family !== 'reverseBackToBack')
  const lines = sought.flatMap((shape) => [boundedLine(task, shape), loopLine(task, shape)]).filter((line) => line !== null)
  const alternatives = lines.filter((line) => !isBeaten(line, lines)).sort(byWorth)
  const isGood = alternatives.some(({ meetsLimits }) => meetsLimits)
  return { ok: true, alternatives, stops: () => (isGood ? [] : joinStops(task, alternatives)) }
}

function joinTask(request: JoinRequest): JoinTask {
  const { start, target, limits } = request
  const places = targetPlaces(target)
  const farthestMm = places.reduce((most, { end }) => Math.max(most, Math.hypot(end.x - start.x, end.y - start.y)), 0)
  const sizeMm = farthestMm + limits.minRadiusMm
  const curveOf = curvesRemembered({ easement: limits.easement, shortestCurveMm: limits.shortestCurveMm })
  return { request, places, radii: radiiTried(sizeMm), sizeMm, curveOf }
}

/** Alternatives count as equal when they differ by less than this part. */
const ALIKE = 1e-9

/**
 * Whether another line is at least as wide and as short, and better in one of them. A reverse whose easements meet does not stand against
 * lines that keep the tangent; where it has room for the whole tangent, it is the plain reverse once more.
 */
function isBeaten(line: JoinAlternative, lines: readonly JoinAlternative[]): boolean {
  const isBackToBack = line.family === 'reverseBackToBack'
  return lines.some((other) => {
    if (other === line || (other.family === 'reverseBackToBack' && !isBackToBack)) return false
    const wider = (other.minRadiusMm ?? Infinity) / (line.minRadiusMm ?? Infinity)
    const longer = other.lengthMm / line.lengthMm
    if (wider < 1 - ALIKE || longer > 1 + ALIKE) return false
    const isSame = isBackToBack && other.family === 'reverse' && other.hands[0] === line.hands[0]
    return wider > 1 + ALIKE || longer < 1 - ALIKE || isSame
  })
}

function byWorth(a: JoinAlternative, b: JoinAlternative): number {
  return (b.minRadiusMm ?? Infinity) - (a.minRadiusMm ?? Infinity) || a.lengthMm - b.lengthMm
}

/** An end this near to the start's line lies on it, as for the legs of any track. */
const IN_LINE_MM = 1e-6

/** The straight line, where the end lies ahead in line. Then nothing else is worth a look. */
function joinStraight(request: JoinRequest): JoinAlternative | null {
  const { start, target } = request
  const reachAt = (place: TargetPlace): { readonly x: number; readonly y: number; readonly turnRad: number } =>
    shapeReach({ family: 'oneCurve', first: 'left' }, start, place.end)
  const places = targetPlaces(target)
  const candidates = [...places]
  for (const [i, place] of places.entries()) {
    const next = places[i + 1]
    if (next === undefined || reachAt(place).y > 0 === reachAt(next).y > 0) continue
    const root = rootBrent((mm) => reachAt(targetPlaceAt(target, mm)).y, place.alongMm, next.alongMm, 0)
    if (root.ok) candidates.push(targetPlaceAt(target, root.x))
  }
  for (const place of candidates) {
    const { x, y, turnRad } = reachAt(place)
    if (!(Math.abs(turnRad) <= STRAIGHT_RAD && Math.abs(y) <= IN_LINE_MM && x > IN_LINE_MM)) continue
    const laid = lineLay({ start, end: place.end, curves: [], firstMm: x, lastMm: 0 })
    if (laid === null) continue
    return {
      family: 'straight',
      hands: [],
      turnsRad: [],
      corners: [],
      end: place.end,
      stationMm: target.kind === 'along' ? place.alongMm : null,
      minRadiusMm: null,
      lengthMm: laid.path.lengthMm,
      straightsMm: [x],
      isRadiusFree: false,
      breaches: [],
      meetsLimits: true,
      path: laid.path,
    }
  }
  return null
}
