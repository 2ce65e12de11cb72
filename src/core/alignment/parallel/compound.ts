import { elementEnd, rootBrent } from '../../geom/index.ts'
import { easementLengthForShift } from '../easement.ts'
import type { ArcSolution, CompoundRequest, CornerSolution } from '../types.ts'
import { shiftRounded, SHIFT_ROUNDING_MM } from './curve.ts'
import type { ParallelCurveResult } from './curve.ts'

/** Two circles of one hand with the easement that leads from one into the other. */
interface Link {
  /** Distance of their centres. */
  readonly centresMm: number
  /** What the easement turns before, and behind, the line through both centres. */
  readonly beforeRad: number
  readonly behindRad: number
}

/** Radii that differ by less are one radius: an easement between them is an arc. */
const ONE_RADIUS_MM = 1e-6

/** An easement as long as half a turn about the wider circle is longer than any. */
const LONGEST_TURN_RAD = Math.PI

/** An easement from radius to radius, turning left from the origin, heading 0. */
function linkOf(lengthMm: number, fromMm: number, toMm: number): Link {
  if (lengthMm === 0) return { centresMm: Math.abs(fromMm - toMm), beforeRad: 0, behindRad: 0 }
  const end = elementEnd({ lengthMm, k0: 1 / fromMm, k1: 1 / toMm }, { x: 0, y: 0, headingRad: 0 })
  if (Math.abs(fromMm - toMm) < ONE_RADIUS_MM)
    return { centresMm: Math.abs(fromMm - toMm), beforeRad: end.headingRad / 2, behindRad: end.headingRad / 2 }
  const x = end.x - toMm * Math.sin(end.headingRad)
  const y = end.y + toMm * Math.cos(end.headingRad) - fromMm
  // The smaller circle lies within the wider one, towards where they are nearest; there the curve's normal is the line of centres.
  const outward = fromMm > toMm ? 1 : -1
  const beforeRad = Math.atan2(outward * x, -outward * y)
  return { centresMm: Math.hypot(x, y), beforeRad, behindRad: end.headingRad - beforeRad }
}

/** Length of the easement between two radii whose centres are to be this far apart; null when they cannot be. */
function linkLength(centresMm: number, fromMm: number, toMm: number): number | null {
  const apartMm = Math.abs(fromMm - toMm)
  if (apartMm < ONE_RADIUS_MM || centresMm >= apartMm) return 0
  const missing = (lengthMm: number): number => linkOf(lengthMm, fromMm, toMm).centresMm - centresMm
  const root = rootBrent(missing, 0, LONGEST_TURN_RAD * Math.min(fromMm, toMm), 1e-10)
  return root.ok ? root.x : null
}

/**
 * The curve of several radii that runs beside another about the same centres.
 *
 * Units:      mm; offsets + left.
 * Domain:     a solved corner with more than one arc.
 * Exactness:  easements within 1e-10 mm.
 * Outcome:    as for a plain curve; or the arc of which nothing is left.
 * Source:     derived here. Every arc keeps its centre, so the distance of neighbouring centres stays while both radii
 *             change alike, and the easement between them follows. What an easement turns more or less, its arcs turn less or more.
 */
export function parallelCompound(corner: CornerSolution, offsetMm: number, curveOffsetMm: number): ParallelCurveResult {
  const hand = corner.deflectionRad < 0 ? -1 : 1
  const widerMm = hand * (curveOffsetMm - offsetMm)
  const radii = corner.arcs.map(({ radiusMm }) => radiusMm - hand * curveOffsetMm)
  const leastRadiusMm = Math.min(...radii)
  const collapses = { ok: false, reason: 'radiusCollapses', radiusMm: leastRadiusMm } as const
  if (!(leastRadiusMm > 0)) return collapses
  const leastShiftMm = Math.min(corner.shiftInMm, corner.shiftOutMm)
  if (leastShiftMm + widerMm < -SHIFT_ROUNDING_MM) return { ok: false, reason: 'wideningTooGreat', mostMm: offsetMm - hand * leastShiftMm }
  const firstMm = radii[0] ?? leastRadiusMm
  const lastMm = radii.at(-1) ?? leastRadiusMm
  const into = easementLengthForShift(firstMm, shiftRounded(corner.shiftInMm + widerMm))
  const out = easementLengthForShift(lastMm, shiftRounded(corner.shiftOutMm + widerMm))
  if (!into.ok || !out.ok) return collapses

  const asked: AskedArc[] = []
  // What the easement before an arc turns less than it did.
  let gainedRad = corner.spiralAngleInRad - into.lengthMm / (2 * firstMm)
  for (const [i, arc] of corner.arcs.entries()) {
    const radiusMm = radii[i] ?? leastRadiusMm
    const easementMm = asked.at(-1)?.nextEasementMm ?? into.lengthMm
    const link = linkBeside(arc, radiusMm, corner.arcs[i + 1], radii[i + 1])
    if (link === null) return collapses
    const behindRad = link.isLast ? corner.spiralAngleOutRad - out.lengthMm / (2 * radiusMm) : link.beforeRad
    const turnRad = arc.turnRad + gainedRad + behindRad
    if (!(turnRad > 0)) return { ok: false, reason: 'noArcLeft', arc: i, shortByMm: -turnRad * radiusMm }
    asked.push({ radiusMm, easementMm, turnRad, nextEasementMm: link.easementMm })
    gainedRad = link.behindRad
  }
  return {
    ok: true,
    curve: { radiusMm: compoundOf(asked), easementInMm: into.lengthMm, easementOutMm: out.lengthMm, leastRadiusMm },
  }
}

interface AskedArc {
  readonly radiusMm: number
  readonly easementMm: number
  readonly turnRad: number
  readonly nextEasementMm: number
}

/** The easement beside the one that leads from an arc to the next, and what it turns less than that before and behind the centres. */
function linkBeside(
  arc: ArcSolution,
  radiusMm: number,
  next: ArcSolution | undefined,
  nextRadiusMm: number | undefined,
): { readonly easementMm: number; readonly beforeRad: number; readonly behindRad: number; readonly isLast: boolean } | null {
  if (next === undefined || nextRadiusMm === undefined) return { easementMm: 0, beforeRad: 0, behindRad: 0, isLast: true }
  const own = linkOf(next.easementMm, arc.radiusMm, next.radiusMm)
  const easementMm = linkLength(own.centresMm, radiusMm, nextRadiusMm)
  if (easementMm === null) return null
  const beside = linkOf(easementMm, radiusMm, nextRadiusMm)
  return { easementMm, beforeRad: own.beforeRad - beside.beforeRad, behindRad: own.behindRad - beside.behindRad, isLast: false }
}

/** Arcs by their turns; the last one takes what rounding leaves. */
function compoundOf(asked: readonly AskedArc[]): CompoundRequest {
  const arcs = asked.map(({ radiusMm, easementMm, turnRad }, i) => ({
    radiusMm,
    easementMm,
    turn: i === asked.length - 1 ? ({ kind: 'share', share: 1 } as const) : ({ kind: 'angle', turnRad } as const),
  }))
  const [first, ...next] = arcs
  const { radiusMm, turn } = first ?? { radiusMm: 0, turn: { kind: 'share', share: 1 } as const }
  return { first: { radiusMm, turn }, next }
}
