import type { JoinAlternative } from '../alignment/index.ts'
import { pathFromElements } from '../geom/index.ts'
import type { CurveElement, Pose } from '../geom/types.ts'
import type { NetworkTurnout } from '../network/types.ts'
import type { TurnoutLeg } from '../plan/types.ts'

/** The curve behind a leg, as one leaves it: its hand, and the straight that follows it up to the leg. */
interface LegCurve {
  readonly hand: 'left' | 'right'
  readonly straightMm: number
}

/** Null: the turnout has no place, or its route no curve. */
function legCurve({ result }: NetworkTurnout, leg: TurnoutLeg): LegCurve | null {
  if (!result.ok) return null
  const { legs, routes } = result.geometry
  const name = legs.find((one) => one.leg === leg)?.route
  const elements = routes.find((route) => route.name === name)?.centre.elements ?? []
  let straightMm = 0
  for (const { lengthMm, k0, k1 } of elements.toReversed()) {
    if (k0 !== 0 || k1 !== 0) return { hand: k0 + k1 > 0 ? 'left' : 'right', straightMm }
    straightMm += lengthMm
  }
  return null
}

/**
 * How far ahead of a leg a line should begin to curve so that what is asked between curves of opposite hand lies between the turnout's own
 * curve and its first one; 0: all of these lines keep it as they are, mm.
 */
export function joinAhead(turnout: NetworkTurnout, leg: TurnoutLeg, lines: readonly JoinAlternative[], tangentMm: number): number {
  const curve = legCurve(turnout, leg)
  if (curve === null) return 0
  const aheadMm = tangentMm - curve.straightMm
  const isShort = ({ hands, straightsMm }: JoinAlternative): boolean =>
    hands[0] !== undefined && hands[0] !== curve.hand && (straightsMm[0] ?? 0) < aheadMm
  return lines.some(isShort) ? aheadMm : 0
}

/** A line that was worked out from so far ahead, as it is from the start itself. */
export function joinFromStart(line: JoinAlternative, start: Pose, aheadMm: number): JoinAlternative {
  const [first, ...rest] = line.path.elements
  const isStraight = first !== undefined && first.k0 === 0 && first.k1 === 0
  const elements: readonly CurveElement[] = isStraight
    ? [{ lengthMm: aheadMm + first.lengthMm, k0: 0, k1: 0 }, ...rest]
    : [{ lengthMm: aheadMm, k0: 0, k1: 0 }, ...line.path.elements]
  const [tangentMm = 0, ...behindMm] = line.straightsMm
  return {
    ...line,
    straightsMm: [tangentMm + aheadMm, ...behindMm],
    lengthMm: line.lengthMm + aheadMm,
    path: pathFromElements(start, elements),
  }
}
