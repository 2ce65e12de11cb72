import type { CurveElement, Path } from '../geom/types.ts'
import type { Span } from './types.ts'

/**
 * A stretch of a line over which what stands on it feels a change of curvature, and so much more on both sides that it stands on one
 * curvature there. Told by lengths and curvatures alone: the same wherever it lies in the plan, so that a band once swept serves
 * for every bend of the kind, and for the next step of a drag.
 */
export interface Zone extends Span {
  /** From where the zone begins to be felt, less overMm, to where it ends, and as much more. */
  readonly elements: readonly CurveElement[]
  /** Where fromMm lies on those elements. */
  readonly overMm: number
}

/**
 * The zones of a line: stations nearer to a change of curvature than a car is long. Between them cars stand on one curvature.
 *
 * Units:   mm. reachMm: how far along a change is felt.
 * Outcome: zones that do not touch, by rising station.
 */
export function lineZones({ elements, lengthMm }: Path, reachMm: number): readonly Zone[] {
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
    if (next !== undefined ? k1 !== next.k0 : k1 !== 0) feel(i, next === undefined ? i : i + 1, at + long, at + long)
  }
  return felt.map(({ fromMm, toMm }) => zoneOf(elements, fromMm, toMm, reachMm))
}

/**
 * The elements of a zone with so much more before and behind as the cars over its ends stand on. An element that only reaches in is cut
 * to a length that does not depend on where it begins.
 */
function zoneOf(elements: Path['elements'], fromMm: number, toMm: number, reachMm: number): Zone {
  const within: CurveElement[] = []
  let overMm = 0
  for (const { startStationMm, lengthMm, k0, k1 } of elements) {
    const endMm = startStationMm + lengthMm
    if (endMm <= fromMm - reachMm || startStationMm >= toMm + reachMm) continue
    // Of an element that goes on beyond the zone only what is felt and as much more; it bends evenly there.
    const leads = startStationMm < fromMm - reachMm
    const trails = endMm > toMm + reachMm
    const isSteady = k0 === k1
    const cutMm = (leads ? fromMm - reachMm - startStationMm : 0) + (trails ? endMm - toMm - reachMm : 0)
    if (startStationMm <= fromMm) overMm = leads ? reachMm : fromMm - startStationMm + sumOf(within)
    within.push({ lengthMm: isSteady ? tidy(lengthMm - cutMm) : lengthMm, k0, k1 })
  }
  return { fromMm, toMm, elements: within, overMm: tidy(overMm) }
}

const sumOf = (elements: readonly CurveElement[]): number => elements.reduce((sum, { lengthMm }) => sum + lengthMm, 0)

/** Lengths that differ by rounding are the same: a millionth of a millimetre moves no band. */
const tidy = (mm: number): number => Math.round(mm * 1e6) / 1e6
