import type { Point } from '../geom/types.ts'
import { tieCorners } from './rail.ts'
import type { Tie } from './types.ts'

/** Ties that share no more than this are side by side: rounding and what a saw leaves, mm. */
const slackMm = 0.02

/** A function that gives those of some ties that may reach another. */
export function tiesNear<T extends Tie>(others: readonly T[]): (tie: Tie) => readonly T[] {
  const longestMm = Math.max(0, ...others.map(({ lengthMm, widthMm }) => lengthMm + widthMm))
  const cellMm = Math.max(1, longestMm)
  const cells = new Map<string, T[]>()
  const cellOf = (mm: number): number => Math.floor(mm / cellMm)
  for (const other of others) {
    const key = `${cellOf(other.centre.x)}:${cellOf(other.centre.y)}`
    const list = cells.get(key)
    if (list) list.push(other)
    else cells.set(key, [other])
  }
  return ({ centre, lengthMm, widthMm }) => {
    const reachMm = (lengthMm + widthMm + longestMm) / 2
    const found: T[] = []
    for (let x = cellOf(centre.x - reachMm); x <= cellOf(centre.x + reachMm); x++)
      for (let y = cellOf(centre.y - reachMm); y <= cellOf(centre.y + reachMm); y++) found.push(...(cells.get(`${x}:${y}`) ?? []))
    return found.filter((other) => Math.hypot(other.centre.x - centre.x, other.centre.y - centre.y) < reachMm)
  }
}

/** Whether two ties are so near that they may meet. */
export function tiesReach(a: Tie, b: Tie): boolean {
  return Math.hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y) < (a.lengthMm + a.widthMm + b.lengthMm + b.widthMm) / 2
}

/** Whether two ties share more than a saw's cut, by the separating axes of both. */
export function tiesOverlap(a: Tie, b: Tie): boolean {
  const [ofA, ofB] = [tieSeenFrom(b, a), tieSeenFrom(a, b)]
  return !isClear(ofA, a) && !isClear(ofB, b)
}

function isClear(corners: readonly Point[], { lengthMm, widthMm }: Tie): boolean {
  const [us, vs] = [corners.map(({ x }) => x), corners.map(({ y }) => y)]
  const [u, v] = [lengthMm / 2 - slackMm, widthMm / 2 - slackMm]
  return Math.min(...us) >= u || Math.max(...us) <= -u || Math.min(...vs) >= v || Math.max(...vs) <= -v
}

/** Corners of a tie as another sees them: along its axis and across. */
export function tieSeenFrom(tie: Tie, { centre, axisRad }: Tie): readonly Point[] {
  const [c, s] = [Math.cos(axisRad), Math.sin(axisRad)]
  return tieCorners(tie).map(({ x, y }) => {
    const [dx, dy] = [x - centre.x, y - centre.y]
    return { x: dx * c + dy * s, y: dy * c - dx * s }
  })
}
