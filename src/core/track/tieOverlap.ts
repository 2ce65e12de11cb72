import type { Tie } from './types.ts'

/** Ties that share no more than this are side by side: rounding and what a saw leaves, mm. */
const slackMm = 0.02
/** Cells of the grid are counted from so far off that none is negative on any table. */
const cellsAcross = 1 << 16

/** A function that gives those of some ties that may reach another. */
export function tiesNear<T extends Tie>(others: readonly T[]): (tie: Tie) => readonly T[] {
  let longestMm = 0
  for (const { lengthMm, widthMm } of others) longestMm = Math.max(longestMm, lengthMm + widthMm)
  const cellMm = Math.max(1, longestMm)
  const cells = new Map<number, T[]>()
  const cellOf = (mm: number): number => Math.floor(mm / cellMm)
  for (const other of others) {
    const key = cellOf(other.centre.x) * cellsAcross + cellOf(other.centre.y)
    const list = cells.get(key)
    if (list) list.push(other)
    else cells.set(key, [other])
  }
  return (tie) => {
    const { centre, lengthMm, widthMm } = tie
    const reachMm = (lengthMm + widthMm + longestMm) / 2
    const found: T[] = []
    const [fromX, toX] = [cellOf(centre.x - reachMm), cellOf(centre.x + reachMm)]
    const [fromY, toY] = [cellOf(centre.y - reachMm), cellOf(centre.y + reachMm)]
    for (let x = fromX; x <= toX; x++)
      for (let y = fromY; y <= toY; y++)
        for (const other of cells.get(x * cellsAcross + y) ?? []) if (tiesReach(tie, other)) found.push(other)
    return found
  }
}

/** Whether two ties are so near that they may meet. */
export function tiesReach(a: Tie, b: Tie): boolean {
  const [dx, dy] = [a.centre.x - b.centre.x, a.centre.y - b.centre.y]
  const reachMm = (a.lengthMm + a.widthMm + b.lengthMm + b.widthMm) / 2
  return dx * dx + dy * dy < reachMm * reachMm
}

/** Another tie as one sees it: its middle along and across the one's axis, and how far it reaches from there each way. */
export interface SeenTie {
  readonly along: number
  readonly across: number
  readonly reachAlong: number
  readonly reachAcross: number
}

export function tieSeenFrom({ centre, axisRad, lengthMm, widthMm }: Tie, from: Tie): SeenTie {
  const [c, s] = [Math.cos(from.axisRad), Math.sin(from.axisRad)]
  const [dx, dy] = [centre.x - from.centre.x, centre.y - from.centre.y]
  const [tc, ts] = [Math.abs(Math.cos(axisRad - from.axisRad)), Math.abs(Math.sin(axisRad - from.axisRad))]
  return {
    along: dx * c + dy * s,
    across: dy * c - dx * s,
    reachAlong: (lengthMm * tc + widthMm * ts) / 2,
    reachAcross: (lengthMm * ts + widthMm * tc) / 2,
  }
}

/** Whether two ties share more than a saw's cut, by the separating axes of both. */
export function tiesOverlap(a: Tie, b: Tie): boolean {
  return meets(tieSeenFrom(b, a), a) && meets(tieSeenFrom(a, b), b)
}

function meets({ along, across, reachAlong, reachAcross }: SeenTie, { lengthMm, widthMm }: Tie): boolean {
  return Math.abs(along) < lengthMm / 2 + reachAlong - slackMm && Math.abs(across) < widthMm / 2 + reachAcross - slackMm
}
