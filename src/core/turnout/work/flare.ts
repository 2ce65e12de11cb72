import { pathFromElements } from '../../geom/index.ts'
import type { CurveElement, Path, Pose } from '../../geom/types.ts'
import { bend, chainStart, straight } from '../bend.ts'

/** Angle at which guard and wing rails open at their ends [NEM-124 p. 2, guide value]. */
export const flareAngleRad = (5 * Math.PI) / 180
/** A flare opens the flangeway by this part of itself. Common practice, no source. */
const flareOpensFlangeways = 0.5

/** Length of the straight of a flare. */
export function flareLength(flangewayMm: number): number {
  return (flareOpensFlangeways * flangewayMm) / Math.sin(flareAngleRad)
}

/** The open end of a wing rail: bends to a side and runs on. */
export function flareOut(turn: 1 | -1, flangewayMm: number, railHeadMm: number): readonly CurveElement[] {
  return [bend(turn * flareAngleRad, railHeadMm), straight(flareLength(flangewayMm))]
}

/** A guarding part with a flare at each end, both opening to `side`. `start` is where the guarding part begins. */
export function flaredBoth(start: Pose, guarding: readonly CurveElement[], side: 1 | -1, flangewayMm: number, railHeadMm: number): Path {
  const turn = bend(side * flareAngleRad, railHeadMm)
  const flare = straight(flareLength(flangewayMm))
  return pathFromElements(chainStart([flare, turn], start), [flare, turn, ...guarding, turn, flare])
}
