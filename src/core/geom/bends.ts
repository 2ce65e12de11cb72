import { elementCurvatureAt } from './element.ts'
import type { Path, PathElement } from './types.ts'

/** A straight or a curve of one hand, its easements counted in. radiusMm: the tightest; null: straight. */
export interface Bend {
  readonly fromMm: number
  readonly toMm: number
  readonly radiusMm: number | null
  /** 1: to the left; 0: straight. */
  readonly hand: 1 | -1 | 0
}

/** Curvatures below this are none: a radius of a thousand kilometres. */
const noCurvature = 1e-9

/** Straights and curves of a path in order. */
export function pathBends(path: Path): readonly Bend[] {
  const bends: Bend[] = []
  for (const element of path.elements) {
    const hand = handOf(element)
    const tightest = Math.max(Math.abs(element.k0), Math.abs(element.k1))
    const toMm = element.startStationMm + element.lengthMm
    const radiusMm = hand === 0 ? null : 1 / tightest
    const last = bends.at(-1)
    if (last?.hand === hand) {
      bends[bends.length - 1] = { ...last, toMm, radiusMm: radiusTighter(last.radiusMm, radiusMm) }
    } else bends.push({ fromMm: element.startStationMm, toMm, radiusMm, hand })
  }
  return bends
}

function handOf(element: PathElement): Bend['hand'] {
  const middle = elementCurvatureAt(element, element.lengthMm / 2)
  return Math.abs(middle) < noCurvature ? 0 : middle > 0 ? 1 : -1
}

/** The tighter of two radii; null: straight. */
export function radiusTighter(a: number | null, b: number | null): number | null {
  return a === null ? b : b === null ? a : Math.min(a, b)
}
