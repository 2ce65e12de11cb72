import type { TraceProblem, TraceSolution } from '../core/alignment/index.ts'
import type { CurveElement } from '../core/geom/types.ts'
import { fineGrainMm, fineText, lengthText, turnText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

/** Why no line is found in measured points; points count from one. */
export function traceProblemText(problem: TraceProblem, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'notFinite':
      return `Point ${problem.index + 1} is not a number that can be worked with.`
    case 'toleranceNotPositive':
      return `The tolerance is ${lengthText(problem.toleranceMm, prefs)}; it must be more than nothing.`
    case 'tooFewPoints':
      return `There ${problem.have === 1 ? 'is one point' : `are ${problem.have} different points`}; at least ${problem.need} are needed.`
    case 'tooManyPoints':
      return `There are ${problem.have} points; at most ${problem.most} are taken. Leave out every second one.`
    case 'unordered':
      return `The points do not follow each other along a line: from point ${problem.index + 1} on they turn back. Sort them by station.`
    case 'notClosed':
      return `A closed line needs three corners, and these points show ${problem.corners}. Take it as an open line, or measure more.`
  }
}

/** Points that scatter by more than this part of the tolerance cannot all keep it: of some hundred one lies three standard errors off. */
const SCATTER_SHARE = 1 / 3

/** Why a line does not keep the tolerance, and what would do; null: it keeps it. */
export function traceShortText(
  { isWithin, ended, worstMm, noiseMm }: Pick<TraceSolution, 'isWithin' | 'ended' | 'worstMm' | 'noiseMm'>,
  toleranceMm: number,
  prefs: MeasurePrefs,
): string | null {
  if (isWithin) return null
  const not = `Not all within ${fineText(toleranceMm, prefs)}`
  if (ended === 'stopped') return `${not} yet.`
  const cure = `With ${fineText(worstMm, prefs)} it would be; or leave the worst points out.`
  if (noiseMm > SCATTER_SHARE * toleranceMm)
    return `${not}: the points themselves scatter by ${fineText(noiseMm, prefs)} about any smooth line (standard error), and no line can follow that. ${cure}`
  return `${not}: no line of tangents, arcs and easements found comes nearer. ${cure}`
}

/** A piece of a line in the words of the trade: what it is, and what it is like. */
export function pieceText({ k0, k1, lengthMm }: CurveElement, prefs: MeasurePrefs): { readonly word: string; readonly note: string } {
  if (k0 === 0 && k1 === 0) return { word: 'Tangent', note: '' }
  if (k0 === k1) return { word: `Arc R ${lengthText(1 / Math.abs(k0), prefs)}`, note: turnText(k0 * lengthMm) }
  return { word: 'Easement', note: k0 === 0 || k1 === 0 ? turnText(((k0 + k1) / 2) * lengthMm) : 'between arcs' }
}

/** How far and on which side of a line a point lies, going on along it. */
export function offsetText(offsetMm: number, prefs: MeasurePrefs): string {
  const size = fineText(Math.abs(offsetMm), prefs)
  return Math.abs(offsetMm) < fineGrainMm(prefs) / 2 ? size : `${size} ${offsetMm > 0 ? 'left' : 'right'}`
}
