import { joinFound } from '../alignment/index.ts'
import type { JoinLimits } from '../alignment/index.ts'
import type { Pose } from '../geom/types.ts'
import type { Turnout } from '../plan/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import { turnoutSet } from './turnoutSet.ts'
import type { NetworkTrack, NetworkTurnout } from './types.ts'

/** A frog number at a place: the turnout there, or why there is none. */
export interface FrogThere {
  readonly frog: number
  readonly result: NetworkTurnout['result']
  /** To a parallel track, or why it is not told; null: none was asked for, or the turnout has no place. */
  readonly parallel: ParallelFromLeg | NoParallel | null
  /** To the end that is to be reached; null: none was asked for, none can be led there, or the turnout has no place. */
  readonly reached: ReachedFromLeg | null
}

/** The line of largest least radius from the leg to an end: that radius (null: it is straight), the length of both turnout and line. */
export interface ReachedFromLeg {
  readonly radiusMm: number | null
  readonly lengthMm: number
  /** Whether it keeps what the class asks. */
  readonly meetsLimits: boolean
}

/** An end to be reached: its pose, looking away from what it belongs to, and what the class of the line asks. */
export interface FitTarget {
  readonly pose: Pose
  readonly limits: JoinLimits
}

/** host-bends: beside a curve or easement one easement more would have to be chosen; too-near: the leg stands farther off already. */
export interface NoParallel {
  readonly why: 'host-bends' | 'too-near'
}

/** From the points to where a parallel track runs beside the host, and the radius of the curve that leads into it. */
export interface ParallelFromLeg {
  readonly radiusMm: number
  readonly lengthMm: number
}

/** Numbers that hand-layers build, coarse to fine. Common practice, no source. */
const usualFrogs: readonly number[] = [4, 5, 6, 7, 8, 9, 10, 12]

/**
 * What fits where a turnout stands: every usual frog number with the turnout that it gives there, and with what a parallel track at
 * given centres, or a line to an end, would take from it.
 *
 * Units:   mm. A parallel begins with the radius asked, or with the largest that there is room for.
 * Outcome: a row for each number, those that do not fit with their problem. Never throws.
 */
export function frogsThere(
  turnout: Turnout,
  host: NetworkTrack,
  parallel: { readonly centresMm: number; readonly radiusMm: number } | null,
  target: FitTarget | null = null,
): readonly FrogThere[] {
  const frogs = usualFrogs.includes(turnout.frog) ? usualFrogs : [...usualFrogs, turnout.frog].toSorted((a, b) => a - b)
  return frogs.map((frog) => {
    const result = turnoutSet({ ...turnout, frog }, host)
    return {
      frog,
      result,
      parallel: result.ok && parallel !== null ? parallelFrom(result.geometry, parallel.centresMm, parallel.radiusMm) : null,
      reached: result.ok && target !== null ? reachedFrom(result.leg, result.geometry, target) : null,
    }
  })
}

function reachedFrom(leg: Pose, { overallMm }: TurnoutGeometry, { pose, limits }: FitTarget): ReachedFromLeg | null {
  const found = joinFound({ start: leg, target: { kind: 'pose', pose }, limits })
  const [best] = found.ok ? found.alternatives : []
  if (!best) return null
  const { minRadiusMm, lengthMm, meetsLimits } = best
  return { radiusMm: minRadiusMm, lengthMm: overallMm + lengthMm, meetsLimits }
}

/**
 * The way from a leg into a track parallel to a straight host: straight on at the frog angle, then one curve.
 *   y + s sin F + R (1 - cos F) = centres, length x + s cos F + R sin F.
 */
function parallelFrom({ request, leg }: TurnoutGeometry, centresMm: number, wishMm: number): ParallelFromLeg | NoParallel {
  const angleRad = Math.abs(leg.headingRad)
  const leftMm = centresMm - Math.abs(leg.y)
  if (request.host !== null) return { why: 'host-bends' }
  if (leftMm <= 0 || angleRad === 0) return { why: 'too-near' }
  const radiusMm = Math.min(wishMm, leftMm / (1 - Math.cos(angleRad)))
  const straightMm = (leftMm - radiusMm * (1 - Math.cos(angleRad))) / Math.sin(angleRad)
  return { radiusMm, lengthMm: leg.x + straightMm * Math.cos(angleRad) + radiusMm * Math.sin(angleRad) }
}
