import { pathReverse } from '../../geom/index.ts'
import type { CurveElement, Path } from '../../geom/types.ts'
import type { GaugeLine, Side } from './types.ts'

/** +1 on the left, -1 on the right, as offsets count. */
export function sideSign(side: Side): 1 | -1 {
  return side === 'left' ? 1 : -1
}

export function sideOther(side: Side): Side {
  return side === 'left' ? 'right' : 'left'
}

/** The same line run through from its end: what was on the left is on the right. */
export function lineReverse(line: GaugeLine): GaugeLine {
  return { ...line, side: sideOther(line.side), path: pathReverse(line.path), pointAtStart: line.pointAtEnd, pointAtEnd: line.pointAtStart }
}

/** The bare elements of a path, to be laid anew from another start. */
export function pathElementsOf(path: Path): readonly CurveElement[] {
  return path.elements.map(({ lengthMm, k0, k1 }) => ({ lengthMm, k0, k1 }))
}
