import type { Path, Pose } from '../geom/types.ts'
import type { Facing, Hand, TurnoutBuild } from '../plan/types.ts'
import { turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import type { TurnoutProblem } from '../turnout/types.ts'
import type { NetworkTrack } from './types.ts'

/** A stretch of a straight on which the points of a turnout may lie, and its leg as seen from them. Stations mm. */
export interface TurnoutPlace {
  readonly path: Path
  readonly fromMm: number
  readonly toMm: number
  readonly facing: Facing
  readonly hand: Hand
  readonly frog: number
  readonly leg: Pose
}

export type TurnoutPlaces =
  | { readonly ok: true; readonly places: readonly TurnoutPlace[] }
  | { readonly ok: false; readonly problem: TurnoutProblem }

/** A turnout that is built as standard practice has it. */
export const standardBuild: TurnoutBuild = {
  points: 'straight',
  pointLengthMm: 'standard',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
  toeLengthMm: 'standard',
  heelLengthMm: 'standard',
}

/**
 * Every hand and facing of a turnout on every straight of a track that is long enough for it; none on a track that is not solved.
 *
 * Units:   mm.
 * Outcome: the places, or why no such turnout can be built.
 * Throws:  never.
 */
export function turnoutPlacesOn({ alignment, lineClass, railway }: NetworkTrack, frog: number): TurnoutPlaces {
  if (!alignment.ok) return { ok: true, places: [] }
  const { path } = alignment
  const straights = path.elements.filter(({ k0, k1 }) => k0 === 0 && k1 === 0)
  const places: TurnoutPlace[] = []
  for (const hand of ['left', 'right'] as const) {
    const solved = turnoutSolve(turnoutRequest(railway, lineClass, { hand, frog, build: standardBuild }))
    if (!solved.ok) return { ok: false, problem: solved.problem }
    const { extent, leg } = solved.turnout
    for (const { startStationMm, lengthMm } of straights)
      for (const facing of ['rising', 'falling'] as const) {
        const isRising = facing === 'rising'
        const fromMm = startStationMm + (isRising ? -extent.fromMm : extent.toMm)
        const toMm = startStationMm + lengthMm + (isRising ? -extent.toMm : extent.fromMm)
        if (fromMm <= toMm) places.push({ path, fromMm, toMm, facing, hand, frog, leg })
      }
  }
  return { ok: true, places }
}
