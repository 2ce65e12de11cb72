import type { CurveElement } from '../geom/types.ts'
import type { ArcSolution, CornerSolution, CurveJoin } from './types.ts'

/**
 * The elements of a corner's curve, from TS to ST; what has no length is left out.
 *
 * Units:      mm, 1/mm; curvature positive for a left-hand corner.
 * Exactness:  exact.
 * Throws:     never.
 */
export function cornerElements({ deflectionRad, arcs, easementOutMm }: CornerSolution): readonly CurveElement[] {
  return curveElements(arcs, easementOutMm, deflectionRad < 0 ? -1 : 1)
}

/** Arcs of one hand with the easements before, between and behind them. */
export function curveElements(arcs: readonly ArcSolution[], easementOutMm: number, hand: 1 | -1): readonly CurveElement[] {
  const elements: CurveElement[] = []
  let before = 0
  for (const { easementMm, radiusMm, lengthMm } of arcs) {
    const k = hand / radiusMm
    elements.push({ lengthMm: easementMm, k0: before, k1: k }, { lengthMm, k0: k, k1: k })
    before = k
  }
  elements.push({ lengthMm: easementOutMm, k0: before, k1: 0 })
  return elements.filter((element) => element.lengthMm > 0)
}

/** Where the arcs of a corner join, when its SC lies at a station. */
export function cornerJoins({ arcs }: CornerSolution, scMm: number): readonly CurveJoin[] {
  let startMm = scMm
  return arcs.slice(1).map(({ easementMm }, i): CurveJoin => {
    const fromMm = startMm + (arcs[i]?.lengthMm ?? 0)
    startMm = fromMm + easementMm
    return { fromMm, toMm: startMm }
  })
}
