import { pointDistance } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Crossing, Hand, MakerNumbers, Opening, SlipChoice, Wall } from '../plan/types.ts'

/* What of a record names a side, and is to name the other one in its mirror image. */

export function handOther(hand: Hand): Hand {
  return hand === 'left' ? 'right' : 'left'
}

const slipOther: { readonly [S in SlipChoice]: SlipChoice } = {
  none: 'none',
  'single-left': 'single-right',
  'single-right': 'single-left',
  double: 'double',
}

export function slipMirrored({ slip }: Crossing): SlipChoice {
  return slipOther[slip]
}

export function makerMirrored(numbers: MakerNumbers): MakerNumbers {
  switch (numbers.kind) {
    case 'crossover':
    case 'loop':
    case 'helix':
      return { ...numbers, hand: handOther(numbers.hand) }
    case 'siding':
    case 'spur':
    case 'yard':
    case 'wye':
      return { ...numbers, side: handOther(numbers.side) }
    case 'turnback':
      return numbers
  }
}

/**
 * The points of a mirrored wall in the order that keeps its thickness to the right of its direction: backwards. A closed wall still
 * begins where it did.
 */
export function wallBackwards<T>(points: readonly T[], isClosed: boolean): readonly T[] {
  const backwards = points.toReversed()
  return isClosed ? [...backwards.slice(-1), ...backwards.slice(0, -1)] : backwards
}

/** An opening along a wall that runs backwards. The leaf keeps its side: the mirror turns it over and the direction turns it back. */
export function openingBackwards({ fromMm, widthMm, leaf }: Opening, wall: Wall): Pick<Opening, 'fromMm' | 'leaf'> {
  return {
    fromMm: wallLengthMm(wall) - fromMm - widthMm,
    leaf: leaf === null ? null : { ...leaf, hinge: leaf.hinge === 'from' ? 'to' : 'from' },
  }
}

function wallLengthMm({ points, isClosed }: Wall): number {
  const length = (from: Point | undefined, to: Point): number => (from === undefined ? 0 : pointDistance(from, to))
  return points.reduce((sum, point, i) => sum + length(i > 0 || isClosed ? points.at(i - 1) : undefined, point), 0)
}
