import type { Path, Point } from '../geom/types.ts'
import type { PlainTrack, Tie, WorkTrack } from '../track/types.ts'
import { chainOfPoints } from './chain.ts'
import { edgeAlong } from './edge.ts'
import type { PlanStroke } from './planItem.ts'

const sides = [-1, 1] as const

/** Ties farther apart than so many spacings are two stretches. */
const BREAK_SPACINGS = 2.5

/**
 * Lines along the ends of the ties of plain track, from the first tie of a stretch to the last: ties are laid to them when
 * the centreline is hidden below.
 */
export function tieEndLines({ ties }: Pick<PlainTrack, 'ties'>, path: Path): readonly PlanStroke[] {
  return stretchesOf(ties).flatMap(([first, last]) =>
    sides.flatMap((side): readonly PlanStroke[] => {
      const chain = edgeAlong(path, first.stationMm, last.stationMm, (side * first.lengthMm) / 2)
      return chain ? [{ kind: 'stroke', layer: 'tie-ends', role: 'tie-end', chain }] : []
    }),
  )
}

/** Ends of stretches that are laid with ties of one length without a break. */
function stretchesOf(ties: readonly Tie[]): readonly (readonly [Tie, Tie])[] {
  const sorted = ties.toSorted((a, b) => a.stationMm - b.stationMm)
  const gaps = sorted.flatMap((tie, i) => (i === 0 ? [] : tie.stationMm - (sorted[i - 1]?.stationMm ?? 0))).toSorted((a, b) => a - b)
  const spacing = gaps[Math.floor(gaps.length / 2)] ?? 0
  const stretches: [Tie, Tie][] = []
  for (const tie of sorted) {
    const last = stretches.at(-1)
    const goesOn = last && tie.lengthMm === last[1].lengthMm && tie.stationMm - last[1].stationMm <= BREAK_SPACINGS * spacing
    if (last && goesOn) last[1] = tie
    else stretches.push([tie, tie])
  }
  return stretches.filter(([first, last]) => last.stationMm > first.stationMm)
}

/** The same of a turnout or crossing, where ties grow longer: from end to end of tie after tie, past those that carry the throw. */
export function workTieEndLines({ ties }: Pick<WorkTrack, 'ties'>): readonly PlanStroke[] {
  return sides.flatMap((side): readonly PlanStroke[] => {
    const chain = chainOfPoints(ties.filter(({ isHeadBlock }) => !isHeadBlock).map((tie) => tieEnd(tie, side)))
    return chain && chain.segments.length > 0 ? [{ kind: 'stroke', layer: 'tie-ends', role: 'tie-end', chain }] : []
  })
}

function tieEnd({ centre, axisRad, lengthMm }: Tie, side: 1 | -1): Point {
  const half = (side * lengthMm) / 2
  return { x: centre.x + half * Math.cos(axisRad), y: centre.y + half * Math.sin(axisRad) }
}
