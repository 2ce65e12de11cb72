import type { Path } from '../geom/types.ts'
import type { TurnoutRequest, TurnoutTie } from './types.ts'

const mmPerInch = 25.4
/** Turnout ties come in steps of 6 in full size. Common practice, no source. */
const stepInches = 6
/** The two ties that carry the throw reach this much farther than a standard tie: 15 ft beside 8 ft 6 in. [AREA-TURNOUTS] */
const headBlockExtraInches = 78
const headBlocks = 2
/** A length this part of a step over a step counts as that step: rounding, not wood. */
const stepSlack = 1e-9

/**
 * Separation of the two centrelines, mm: y of the diverging one at x from PS, square to the host. Behind the frog's heel
 * the diverging route counts as straight on.
 *
 * Domain:     x from the start of the route on; lines and arcs that turn less than a right angle.
 * Exactness:  up to rounding.
 */
export function routeSeparation(diverging: Path, x: number): number {
  const last = diverging.elements[diverging.elements.length - 1]
  for (const element of diverging.elements) {
    const { start, k0: k, lengthMm } = element
    const sine = Math.sin(start.headingRad) + (x - start.x) * k
    const end = start.headingRad + k * lengthMm
    if (k !== 0 && element !== last && sine <= Math.sin(end)) {
      const heading = Math.asin(sine)
      return start.y + (2 * Math.sin((heading + start.headingRad) / 2) * Math.sin((heading - start.headingRad) / 2)) / k
    }
    if (k === 0 && (element === last || x <= start.x + lengthMm * Math.cos(start.headingRad))) {
      return start.y + (x - start.x) * Math.tan(start.headingRad)
    }
  }
  return diverging.end.y
}

/** x from PS at which the centrelines have come apart by `separationMm`, where the diverging route is straight at angle F. */
export function separationX(diverging: Path, separationMm: number): number {
  const { end } = diverging
  return end.x + (separationMm - end.y) / Math.tan(end.headingRad)
}

/**
 * The long ties of a left-hand turnout, square to the host.
 *
 * The first is centred on PS; with the next it carries the throw (head blocks). Length: a standard tie and the separation
 * of the centrelines at that place, taken up to the next 6 in full size. The right ends lie in line with those of plain
 * track, the rest reaches to the diverging side. The last is the last where the separation does not exceed a standard tie:
 * behind it each track has ties of its own.
 */
export function turnoutTies(request: TurnoutRequest, diverging: Path): TurnoutTie[] {
  const { tieLengthMm, tieSpacingMm, tieWidthMm, ratio } = request
  const step = (stepInches * mmPerInch) / ratio
  const lastX = separationX(diverging, tieLengthMm)
  const count = Math.max(headBlocks, Math.floor(lastX / tieSpacingMm + stepSlack) + 1)
  return Array.from({ length: count }, (_, index) => {
    const stationMm = index * tieSpacingMm
    const isHeadBlock = index < headBlocks
    const wanted = tieLengthMm + (isHeadBlock ? (headBlockExtraInches * mmPerInch) / ratio : routeSeparation(diverging, stationMm))
    const lengthMm = Math.ceil(wanted / step - stepSlack) * step
    const rightEnd = -tieLengthMm / 2
    return {
      stationMm,
      from: { x: stationMm, y: rightEnd },
      to: { x: stationMm, y: rightEnd + lengthMm },
      lengthMm,
      widthMm: tieWidthMm,
      isHeadBlock,
    }
  })
}
