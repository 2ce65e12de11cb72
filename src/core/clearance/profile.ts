import { pathJumpBefore } from '../geom/index.ts'
import type { PathJump } from '../geom/index.ts'
import type { CurveElement, Path } from '../geom/types.ts'
import type { Span } from './types.ts'

/** jump: by how much it starts off from where the one before it ends, as straight points do; null at nearly all joints. */
export interface ZoneElement extends CurveElement {
  readonly jump: PathJump | null
}

/**
 * A stretch of a line over which what stands on it feels a change of curvature or of heading, and so much more on both sides that it stands on one
 * curvature there. Told by lengths, curvatures and jumps alone: the same wherever it lies in the plan, so that a band once swept serves
 * for every bend of the kind, and for the next step of a drag.
 */
export interface Zone extends Span {
  /** From where the zone begins to be felt, less overMm, to where it ends, and as much more. */
  readonly elements: readonly ZoneElement[]
  /** Where fromMm lies on those elements. */
  readonly overMm: number
}

/**
 * The zones of a line: stations nearer to a change of curvature, or to a kink, than a car is long. Between them cars stand on one curvature.
 *
 * Units:   mm. reachMm: how far along a change is felt.
 * Outcome: zones that do not touch, by rising station.
 */
export function lineZones(path: Path, reachMm: number): readonly Zone[] {
  const { elements, lengthMm } = path
  const felt: { fromMm: number; toMm: number; first: number; last: number }[] = []
  const feel = (first: number, last: number, fromMm: number, toMm: number): void => {
    const before = felt.at(-1)
    const zone = { fromMm: Math.max(0, fromMm - reachMm), toMm: Math.min(lengthMm, toMm + reachMm), first, last }
    if (before === undefined || before.toMm < zone.fromMm) felt.push(zone)
    else {
      before.toMm = Math.max(before.toMm, zone.toMm)
      before.last = Math.max(before.last, last)
    }
  }
  for (const [i, element] of elements.entries()) {
    const { startStationMm: at, lengthMm: long, k0, k1 } = element
    const next = elements[i + 1]
    if (i === 0 && k0 !== 0) feel(0, 0, 0, 0)
    if (k0 !== k1) feel(i, i, at, at + long)
    const isSmooth = next !== undefined ? k1 === next.k0 && pathJumpBefore(path, i + 1) === null : k1 === 0
    if (!isSmooth) feel(i, next === undefined ? i : i + 1, at + long, at + long)
  }
  return felt.map(({ fromMm, toMm }) => zoneOf(path, fromMm, toMm, reachMm))
}

/**
 * The elements of a zone with so much more before and behind as the cars over its ends stand on. An element that only reaches in is cut
 * to a length that does not depend on where it begins.
 */
function zoneOf(path: Path, fromMm: number, toMm: number, reachMm: number): Zone {
  const within: ZoneElement[] = []
  let overMm = 0
  for (const [i, { startStationMm, lengthMm, k0, k1 }] of path.elements.entries()) {
    const endMm = startStationMm + lengthMm
    if (endMm <= fromMm - reachMm || startStationMm >= toMm + reachMm) continue
    // Of an element that goes on beyond the zone only what is felt and as much more; it bends evenly there.
    const leads = startStationMm < fromMm - reachMm
    const trails = endMm > toMm + reachMm
    const isSteady = k0 === k1
    const cutMm = (leads ? fromMm - reachMm - startStationMm : 0) + (trails ? endMm - toMm - reachMm : 0)
    if (startStationMm <= fromMm) overMm = leads ? reachMm : fromMm - startStationMm + sumOf(within)
    const jump = within.length === 0 ? null : jumpTidy(pathJumpBefore(path, i))
    within.push({ lengthMm: isSteady ? tidy(lengthMm - cutMm) : lengthMm, k0, k1, jump })
  }
  return { fromMm, toMm, elements: within, overMm: tidy(overMm) }
}

const sumOf = (elements: readonly CurveElement[]): number => elements.reduce((sum, { lengthMm }) => sum + lengthMm, 0)

/** Lengths that differ by rounding are the same: a millionth of a millimetre moves no band. */
const tidy = (mm: number): number => Math.round(mm * 1e6) / 1e6

function jumpTidy(jump: PathJump | null): PathJump | null {
  return jump && { turnRad: Math.round(jump.turnRad * 1e9) / 1e9, aheadMm: tidy(jump.aheadMm), leftMm: tidy(jump.leftMm) }
}
