import type { Sample } from './measure.ts'

/** Two places of the line that lie side by side: the sample and the one across. */
export interface SelfPair {
  readonly here: number
  readonly there: number
  /** Distance square to the line at `there`, mm. */
  readonly distanceMm: number
  /** Unit vector from there to here. */
  readonly awayX: number
  readonly awayY: number
}

/** Along itself a line is always near; farther along than this many distances it must have turned back. */
const WINDOW_KEEPS = 1.6

/** More cells than any room has from side to side. */
const CELLS_ACROSS = 2 ** 20

/** A line that turns less than this, rad, in all, cannot come back beside itself. */
const TURN_BACK_RAD = 2.5

/**
 * Pairs of places in which a line runs beside itself, nearer than a reach: for each sample the nearest one that is not merely
 * farther along. Distances are those to the tangent there, so they err by the square of the samples' step over eight radii.
 *
 * Domain:     samples in the order of the line, their stations along it; lengthMm: of a closed line, else Infinity.
 */
export function selfPairs(
  samples: readonly Sample[],
  keepMm: number,
  reachMm: number,
  stepMm: number,
  lengthMm: number,
): readonly SelfPair[] {
  if (keepMm <= 0 || turnOf(samples) < TURN_BACK_RAD) return []
  const cellMm = keepMm + reachMm + stepMm
  const cells = new Map<number, number[]>()
  const keyOf = (column: number, row: number): number => column * CELLS_ACROSS + row
  for (const [i, { x, y }] of samples.entries()) {
    const key = keyOf(Math.floor(x / cellMm), Math.floor(y / cellMm))
    const cell = cells.get(key)
    if (cell === undefined) cells.set(key, [i])
    else cell.push(i)
  }
  const windowMm = WINDOW_KEEPS * keepMm + reachMm
  return samples.flatMap((sample, here): SelfPair[] => {
    let best: SelfPair | null = null
    let bestSquare = cellMm * cellMm
    const column = Math.floor(sample.x / cellMm)
    const row = Math.floor(sample.y / cellMm)
    for (let c = column - 1; c <= column + 1; c++) {
      for (let r = row - 1; r <= row + 1; r++) {
        for (const there of cells.get(keyOf(c, r)) ?? []) {
          const other = samples[there]
          if (other === undefined) continue
          const alongMm = Math.abs(other.stationMm - sample.stationMm)
          if (Math.min(alongMm, lengthMm - alongMm) < windowMm) continue
          const dx = sample.x - other.x
          const dy = sample.y - other.y
          const square = dx * dx + dy * dy
          if (square >= bestSquare) continue
          const across = dy * Math.cos(other.headingRad) - dx * Math.sin(other.headingRad)
          const side = across < 0 ? -1 : 1
          bestSquare = square
          best = {
            here,
            there,
            distanceMm: Math.abs(across),
            awayX: -side * Math.sin(other.headingRad),
            awayY: side * Math.cos(other.headingRad),
          }
        }
      }
    }
    // Seen from an end of the line the nearest sample may lie askew; then it is beside nothing.
    return best !== null && bestSquare - best.distanceMm ** 2 <= stepMm * stepMm ? [best] : []
  })
}

function turnOf(samples: readonly Sample[]): number {
  let turn = 0
  for (const [i, { headingRad }] of samples.entries()) {
    const before = samples[i - 1]
    if (before !== undefined)
      turn += Math.abs(Math.atan2(Math.sin(headingRad - before.headingRad), Math.cos(headingRad - before.headingRad)))
  }
  return turn
}
