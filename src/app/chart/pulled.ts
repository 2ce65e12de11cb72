import { cornerSolve } from '../../core/alignment/index.ts'
import type { CornerPlace, CornerRequest, CornerSolution } from '../../core/alignment/types.ts'
import type { ByClass, Corner, LineClass } from '../../core/plan/types.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import type { ChartScale } from './chartScale.ts'

/* What a hand on the curve row asks for: of a height the radius, of a place of a curve's foot the length of its easement. */

/** Within so many px of a radius or a length that the class gives, that one is meant. */
const nearPx = 4

/** Flatter than this no height says what is meant: a px would be metres. 12 m. */
export const flattestMm = 12000

/** What a hand asks for, and what drew it there; or why it asks for nothing that can be had. */
export type Asked =
  | { readonly ok: true; readonly value: ByClass; readonly mm: number; readonly why: 'byClass' | 'classMinimum' | 'noEasement' | null }
  | { readonly ok: false; readonly why: 'otherSide' | 'tooFlat' }

/** Values under the hand land on marks that are easy to say: quarter inches, or 5 mm. */
function rounded(mm: number, { units }: Pick<MeasurePrefs, 'units'>): number {
  const step = units === 'metric' ? 5 : 25.4 / 4
  return Math.max(step, Math.round(mm / step) * step)
}

/** The radius of a plateau pulled to this height; `sign` is the side on which its curve lies. isFree: nothing draws it. */
export function radiusAsked(
  y: number,
  sign: 1 | -1,
  { minRadiusMm, usualRadiusMm }: Pick<LineClass, 'minRadiusMm' | 'usualRadiusMm'>,
  scale: Pick<ChartScale, 'y' | 'curvatureAt'>,
  prefs: Pick<MeasurePrefs, 'units'>,
  isFree: boolean,
): Asked {
  const curvature = scale.curvatureAt(y) * sign
  if (!(curvature > 0)) return { ok: false, why: 'otherSide' }
  const mm = 1 / curvature
  if (mm > flattestMm) return { ok: false, why: 'tooFlat' }
  if (isFree) return { ok: true, value: mm, mm, why: null }
  const awayPx = (radiusMm: number): number => Math.abs(scale.y(sign / radiusMm) - y)
  if (awayPx(usualRadiusMm) <= nearPx) return { ok: true, value: 'class', mm: usualRadiusMm, why: 'byClass' }
  if (awayPx(minRadiusMm) <= nearPx) return { ok: true, value: minRadiusMm, mm: minRadiusMm, why: 'classMinimum' }
  const whole = rounded(mm, prefs)
  return { ok: true, value: whole, mm: whole, why: null }
}

export type EasementSide = 'in' | 'out'

/** A corner as it was asked for when it came out like this. */
export function requestOf(solution: CornerSolution, radius: Corner['radius']): CornerRequest {
  const { deflectionRad, easementInMm, easementOutMm } = solution
  return { deflectionRad, easementInMm, easementOutMm, radiusMm: radiusOf(solution, radius) }
}

function radiusOf({ radiusMm, arcs }: CornerSolution, radius: Corner['radius']): CornerRequest['radiusMm'] {
  if (radius === 'easement-only') return null
  if (typeof radius !== 'object') return radiusMm
  const arc = (index: number): { readonly radiusMm: number; readonly easementMm: number } => arcs[index] ?? { radiusMm, easementMm: 0 }
  return {
    first: { radiusMm: arc(0).radiusMm, turn: radius.first.turn },
    next: radius.next.map(({ turn }, index) => ({
      radiusMm: arc(index + 1).radiusMm,
      easementMm: arc(index + 1).easementMm,
      turn,
    })),
  }
}

/**
 * Length of the easement at one side of a curve whose foot (TS or ST) would stand at a station, all else of the corner as it is.
 *
 * Source:  the foot lies T before the PI (cornerSolve), and T grows with the length: it is halved down to the length that fits.
 * Domain:  below 0 when even no easement reaches so little; more than can be turned when none reaches so far, by twice what is
 *          missing, since T grows by about half the length: the line then says itself that it cannot be laid.
 */
export function easementReaching(place: CornerPlace, radius: Corner['radius'], side: EasementSide, stationMm: number): number {
  const { solution, tsMm, stMm } = place
  const request = requestOf(solution, radius)
  /** How far out the foot stands beyond where it is; null: no such curve. */
  const beyond = (lengthMm: number): number | null => {
    const solved = cornerSolve({ ...request, [side === 'in' ? 'easementInMm' : 'easementOutMm']: lengthMm })
    if (!solved.ok) return null
    const before = solved.corner.tangentInMm - solution.tangentInMm
    return side === 'in' ? before : solved.corner.totalLengthMm - solution.totalLengthMm - before
  }
  const wanted = side === 'in' ? tsMm - stationMm : stationMm - stMm
  const least = beyond(0)
  if (least !== null && wanted <= least) return 2 * (wanted - least)
  let [low, high] = [0, Math.max(side === 'in' ? solution.easementInMm : solution.easementOutMm, 1)]
  for (let there = beyond(high); there !== null && there < wanted && high < 1e6; there = beyond(high)) {
    low = high
    high *= 2
  }
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2
    const there = beyond(middle)
    if (there !== null && there < wanted) low = middle
    else high = middle
  }
  const reached = beyond(low)
  return beyond(high) === null && reached !== null ? high + 2 * (wanted - reached) : high
}

/** The easement of a curve whose foot is pulled to a station. classMm: what its class makes of it; nearMm: that much draws. */
export function easementAsked(
  lengthMm: number,
  classMm: number,
  nearMm: number,
  prefs: Pick<MeasurePrefs, 'units'>,
  isFree: boolean,
): Asked {
  if (lengthMm <= 0) return { ok: true, value: 0, mm: 0, why: 'noEasement' }
  if (isFree) return { ok: true, value: lengthMm, mm: lengthMm, why: null }
  if (Math.abs(lengthMm - classMm) <= nearMm) return { ok: true, value: 'class', mm: classMm, why: 'byClass' }
  const whole = rounded(lengthMm, prefs)
  return { ok: true, value: whole, mm: whole, why: null }
}

/** How far draws, as a length of an easement: its foot goes half as far. */
export function easementNearMm({ pxPerMm }: Pick<ChartScale, 'pxPerMm'>): number {
  return (2 * nearPx) / pxPerMm
}
