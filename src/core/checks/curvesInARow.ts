import type { CornerPlace } from '../alignment/types.ts'
import { pathPoseAt } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { bendGaps } from './bends.ts'
import type { BendGap } from './bends.ts'
import { cureCorner, cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import type { Run, RunTurnout } from './run.ts'
import { vehicleCarShape } from '../vehicles/index.ts'
import type { Finding } from './types.ts'

/** A straight this much shorter than the car still keeps the limit: rounding, a thousandth of a micrometre. */
const LENGTH_ROUNDING_MM = 1e-6

/** Where a gap is found: between which corners of the track, or beside which turnout's diverging route. */
interface GapPlace {
  readonly gap: BendGap
  readonly before: string | null
  readonly after: string | null
  readonly turnout: RunTurnout | null
}

/**
 * Curves of opposite hand with less straight between them than the longest car of the class is long: its couplers stand to
 * opposite sides of the track at the same time. An error; a warning where curvature passes through zero gradually, and where one of the
 * curves is a turnout's diverging route, which nobody can ease. Silent of a straight between two turnouts, a crossover: what lies between its two
 * turnouts follows from frogs, which have a rule of their own, and centres; what cars make of it is measured by the swing of their couplers. So
 * it is with the return curve of a siding: the straight through the frog is its tangent, and centres and frog leave no longer one.
 *
 * Units:      mm. Measured is the straight with half of the easements beside it (BendGap.countedMm), limit the car's body.
 * Exactness:  that of the path. A class without a car has no limit.
 * Cure:       the larger radius of one of the two corners that leaves the car its straight, not under the minimum of the class.
 * Source:     common practice, no source.
 */
export function reverseCurves(
  run: Run,
  networkTrack: NetworkTrack,
  startLeg: Pose | null,
  endLeg: Pose | null,
  start: NetworkTurnout | null,
  end: NetworkTurnout | null,
): readonly Finding[] {
  const { car, startTurnout, endTurnout } = run
  const isCrossover = startTurnout !== null && endTurnout !== null && isStraight(networkTrack)
  if (car === null || isCrossover) return []
  return gapPlaces(run, networkTrack)
    .filter(({ gap }) => gap.before.hand !== gap.after.hand && isShort(gap, vehicleCarShape(car).bodyLengthMm))
    .filter((place) => !isReturn(run, place, start, end))
    .map((place): Finding => {
      const isMild = place.gap.isGradual || place.turnout !== null
      const cure = isMild ? null : radiusCure(place, networkTrack, vehicleCarShape(car).bodyLengthMm, startLeg, endLeg)
      return {
        ...gapFinding(run, place, vehicleCarShape(car).bodyLengthMm),
        rule: 'reverse-curve',
        severity: isMild ? 'warning' : 'error',
        cure,
      }
    })
}

/**
 * Two curves of one hand with a straight between them that is shorter than the longest car of the class: a kink to the eye, and
 * one curve of several radii would do. A warning. At a turnout, whose frog is straight, nobody can help it.
 *
 * Units:      mm, counted as for reverseCurves.
 * Source:     common practice, no source.
 */
export function brokenBacks(run: Run, networkTrack: NetworkTrack): readonly Finding[] {
  const { car } = run
  if (car === null) return []
  return gapPlaces(run, networkTrack)
    .filter(({ gap, turnout }) => turnout === null && gap.before.hand === gap.after.hand && isShort(gap, vehicleCarShape(car).bodyLengthMm))
    .map(
      (place): Finding => ({
        ...gapFinding(run, place, vehicleCarShape(car).bodyLengthMm),
        rule: 'broken-back',
        severity: 'warning',
        cure: null,
      }),
    )
}

const isStraight = ({ alignment }: NetworkTrack): boolean =>
  alignment.ok && alignment.path.elements.every(({ k0, k1 }) => k0 === 0 && k1 === 0)

/** Headings this much alike are parallel, rad. */
const parallelRad = 1e-4

/** Whether the curve behind a turnout turns its leg back in line with the track it left. */
function isReturn(
  { path, startTurnout }: Run,
  { gap, turnout }: GapPlace,
  start: NetworkTurnout | null,
  end: NetworkTurnout | null,
): boolean {
  const isStart = turnout === startTurnout
  const result = (isStart ? start : end)?.result
  if (turnout === null || result?.ok !== true) return false
  const behindRad = pathPoseAt(path, isStart ? gap.after.toMm : gap.before.fromMm).headingRad
  const turnRad = behindRad - result.pose.headingRad
  return Math.abs(Math.sin(turnRad)) < parallelRad && Math.cos(turnRad) > 0 === isStart
}

const isShort = (gap: BendGap, carMm: number): boolean => gap.countedMm < carMm - LENGTH_ROUNDING_MM

const shortReverses = (line: Pick<Run, 'path' | 'isClosed'>, carMm: number): number =>
  bendGaps(line).filter((gap) => gap.before.hand !== gap.after.hand && isShort(gap, carMm)).length

function gapPlaces(run: Run, { alignment }: NetworkTrack): readonly GapPlace[] {
  if (!alignment.ok) return []
  const leadMm = run.startTurnout?.routeMm ?? 0
  const tailMm = run.path.lengthMm - (run.endTurnout?.routeMm ?? 0)
  /** The corner whose curve holds a station of the run. */
  const cornerAt = (runMm: number): string | null => {
    const stationMm = runMm - leadMm
    const holds = ({ tsMm, stMm }: CornerPlace): boolean => tsMm <= stationMm && stationMm <= stMm && tsMm < stMm
    return alignment.corners.find(holds)?.cornerId ?? null
  }
  return bendGaps(run).map((gap): GapPlace => {
    const { before, after } = gap
    const isAtStart = before.fromMm < leadMm - LENGTH_ROUNDING_MM
    const isAtEnd = after.toMm > tailMm + LENGTH_ROUNDING_MM
    const turnout = isAtStart ? run.startTurnout : isAtEnd && !run.isClosed ? run.endTurnout : null
    // A little way into each curve, so that its own corner is meant and not one that it touches.
    const inside = (fromMm: number, toMm: number): number => fromMm + (toMm - fromMm) * 1e-3
    return { gap, before: cornerAt(inside(before.toMm, before.fromMm)), after: cornerAt(inside(after.fromMm, after.toMm)), turnout }
  })
}

function gapFinding(run: Run, { gap, before, after, turnout }: GapPlace, limitMm: number): Omit<Finding, 'rule' | 'severity' | 'cure'> {
  const { path } = run
  const middleMm = (gap.fromMm + gap.toMm) / 2
  const { x, y } = pathPoseAt(path, middleMm > path.lengthMm ? middleMm - path.lengthMm : middleMm)
  // Over station zero of a loop the longer side stands for the whole.
  const isRound = gap.toMm > path.lengthMm
  const isBehind = isRound && gap.toMm - path.lengthMm > path.lengthMm - gap.fromMm
  const [fromMm, toMm] = !isRound ? [gap.fromMm, gap.toMm] : isBehind ? [0, gap.toMm - path.lengthMm] : [gap.fromMm, path.lengthMm]
  return {
    id: `${gap.before.hand === gap.after.hand ? 'broken-back' : 'reverse-curve'}:${run.key}:${before ?? 'turnout'}:${after ?? 'turnout'}`,
    stage: 'line',
    table: 'tracks',
    record: run.record,
    otherRecord: turnout?.turnout ?? null,
    corner: after ?? before,
    stationFromMm: run.stationAt(fromMm),
    stationToMm: run.stationAt(toMm),
    x,
    y,
    measured: gap.countedMm,
    limit: limitMm,
    unit: 'mm',
    source: `car:${run.car?.id ?? ''}`,
    problem: {
      kind: 'curvesInARow',
      hands: [gap.before.hand, gap.after.hand],
      straightMm: gap.toMm - gap.fromMm,
      easementsMm: [gap.before.easesOutMm, gap.after.easesInMm],
      turnout: turnout?.turnout ?? null,
    },
  }
}

/** Cures are rounded down to this, so that a typed value shows all its digits. */
const CURE_STEP_MM = 0.1

/** A radius changed by less is not worth a further trial. */
const HALVINGS = 24

/** Of the two corners the one that has to give up the smaller part of its radius. */
function radiusCure(
  { before, after }: GapPlace,
  networkTrack: NetworkTrack,
  limitMm: number,
  startLeg: Pose | null,
  endLeg: Pose | null,
): CornerCure | null {
  const { track, lineClass, alignment } = networkTrack
  if (!alignment.ok) return null
  const legPoseOf = legPosesOf(track, startLeg, endLeg)
  const shortNow = shortReverses(alignment, limitMm)
  const cures = [before, after].flatMap((corner): { readonly cure: CornerCure; readonly part: number }[] => {
    const wasMm = alignment.corners.find(({ cornerId }) => cornerId === corner)?.solution.radiusMm
    const cureOf = (radiusMm: number): CornerCure => ({ kind: 'setRadius', track: track.id, corner: corner ?? '', radiusMm })
    const radius = cureCorner(track, cureOf(0))?.radius
    if (wasMm === undefined || radius === undefined || radius === 'easement-only' || typeof radius === 'object') return []
    const isCured = (radiusMm: number): boolean => {
      const tried = cureTried(networkTrack, cureOf(radiusMm), legPoseOf)
      return tried.ok && shortReverses(tried, limitMm) < shortNow
    }
    let good = lineClass.minRadiusMm
    let bad = wasMm
    if (!(good < bad) || !isCured(good)) return []
    for (let i = 0; i < HALVINGS && bad - good > CURE_STEP_MM / 8; i++) {
      const middle = (good + bad) / 2
      if (isCured(middle)) good = middle
      else bad = middle
    }
    const radiusMm = Math.max(lineClass.minRadiusMm, Number((Math.floor(good / CURE_STEP_MM) * CURE_STEP_MM).toFixed(1)))
    return isCured(radiusMm) ? [{ cure: cureOf(radiusMm), part: radiusMm / wasMm }] : []
  })
  return cures.toSorted((a, b) => b.part - a.part)[0]?.cure ?? null
}
