import { pathPoseAt } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { tieCutBack, tieHold } from './tieCut.ts'
import { tieSeenFrom, tiesNear, tiesOverlap } from './tieOverlap.ts'
import type { Tie } from './types.ts'

/** Ties are slid in steps of this part of their width, as far as half a spacing, and keep so many widths from middle to middle. */
const slideStep = 0.125
const nearestWidths = 1.3

/** The line that ties lie under, and their rails. */
export interface TieLine {
  readonly path: Path
  readonly isClosed: boolean
  readonly railway: NetworkTrack['railway']
  readonly spacingMm: number
}

/**
 * Ties of plain track where ties of others lie already: one nearer than half a spacing to another that holds both its rails is left out; one that lies
 * under another is cut back on that side as far as its rail allows; else slid
 * along to where it lies free or can be cut; else left out, and the tie that is there has to hold the rails.
 *
 * Outcome:  the ties in order, the same list where none had to give way. Never throws.
 * Source:   common practice, none printed.
 */
export function tiesGiveWay(ties: readonly Tie[], others: readonly Tie[], line: TieLine): readonly Tie[] {
  const holdMm = tieHold(line.railway)
  const grid = tiesNear(others)
  let changed = false
  const kept: Tie[] = []
  for (const [i, tie] of ties.entries()) {
    const near = grid(tie)
    if (near.some((other) => isHeldBeside(tie, other, line))) {
      changed = true
      continue
    }
    if (!near.some((other) => tiesOverlap(tie, other))) {
      kept.push(tie)
      continue
    }
    changed = true
    const at = (candidate: Tie): Tie | null => tieCutBack(candidate, grid(candidate), { holdMm, middleMm: 0 })
    const given = at(tie) ?? slid(tie, kept.at(-1), ties[i + 1], line, at)
    if (given !== null) kept.push(given)
  }
  return changed ? kept : ties
}

/** Whether another tie nearer than half a spacing reaches under both rails. */
function isHeldBeside(tie: Tie, other: Tie, { railway, spacingMm }: TieLine): boolean {
  const { along, across, reachAlong } = tieSeenFrom(other, tie)
  const holdMm = tieHold(railway)
  return Math.abs(across) < spacingMm / 2 && along - reachAlong <= -holdMm && along + reachAlong >= holdMm
}

/** The tie slid along its line, as little as does; null where that is nowhere. */
function slid(tie: Tie, before: Tie | undefined, after: Tie | undefined, line: TieLine, at: (tie: Tie) => Tie | null): Tie | null {
  const { path, isClosed, spacingMm } = line
  const stepMm = slideStep * tie.widthMm
  const leastMm = nearestWidths * tie.widthMm
  for (let step = 1; step * stepMm <= spacingMm / 2; step++) {
    for (const way of [1, -1]) {
      const stationMm = tie.stationMm + way * step * stepMm
      if (!isClosed && (stationMm < 0 || stationMm > path.lengthMm)) continue
      const { x, y, headingRad } = pathPoseAt(
        path,
        isClosed ? stationMm - path.lengthMm * Math.floor(stationMm / path.lengthMm) : stationMm,
      )
      const moved = { ...tie, centre: { x, y }, axisRad: headingRad + Math.PI / 2, stationMm }
      const isFree = [before, after].every((next) => next === undefined || Math.hypot(next.centre.x - x, next.centre.y - y) >= leastMm)
      const given = isFree ? at(moved) : null
      if (given !== null) return given
    }
  }
  return null
}
