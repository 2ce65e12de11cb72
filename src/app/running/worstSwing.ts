import type { StandingCoupler } from '../../core/vehicles/index.ts'
import type { CarChoice } from './cars.ts'

/** How far a coupler swings, and how far it can. */
export interface CouplerSwung {
  readonly rad: number
  readonly mostRad: number
}

/** The coupler of a train that comes nearest to where it can swing no farther, or is farthest beyond that; each by its own car. null: none is coupled. */
export function worstSwing(couplers: readonly StandingCoupler[], train: readonly Pick<CarChoice, 'swingRad'>[]): CouplerSwung | null {
  const swung = couplers.flatMap(({ car, aheadRad, behindRad }) => [
    { rad: Math.abs(aheadRad), mostRad: train[car]?.swingRad ?? 0 },
    { rad: Math.abs(behindRad), mostRad: train[car + 1]?.swingRad ?? 0 },
  ])
  const leftRad = ({ rad, mostRad }: CouplerSwung): number => mostRad - rad
  return swung.toSorted((a, b) => leftRad(a) - leftRad(b))[0] ?? null
}
