import type { Id } from '../plan/types.ts'
import { alongChain, chainPlaces } from './chains.ts'
import type { Cut } from './runs.ts'
import type { Span } from './solve.ts'
import type { RailPlace, RailSide } from './types.ts'

/* What two rails of one track have to do with each other: where one is abreast of the other. */

/** A stretch of a run abreast of a track; distances along the run. */
export interface RunAbreast {
  readonly track: Id
  readonly side: RailSide
  readonly lowMm: number
  readonly highMm: number
  readonly alongOf: (stationMm: number) => number
}

/** All stretches of a run that are abreast of a track. */
export function abreastsOf(cut: Cut): readonly RunAbreast[] {
  return cut.chain.links
    .filter((one) => one.toMm > cut.fromMm && one.fromMm < cut.toMm)
    .flatMap((one) =>
      one.link.abreast.map(({ track, side, lowMm, highMm, alongAt }) => ({
        track,
        side,
        lowMm,
        highMm,
        alongOf: (stationMm) => alongChain(one, alongAt(stationMm)) - cut.fromMm,
      })),
    )
}

/** Lengths of closed tracks: their stations go round. */
export type Laps = ReadonlyMap<Id, number>

/** Stretches of a run across the track from a place, within so many millimetres of it. */
export function spansAcross(abreasts: readonly RunAbreast[], place: RailPlace, withinMm: number, laps: Laps): readonly Span[] {
  const spans: Span[] = []
  for (const { track, side, lowMm, highMm, alongOf } of abreasts) {
    if (track !== place.track || side === place.rail) continue
    const lap = laps.get(track)
    for (const shift of lap === undefined ? [0] : [-lap, 0, lap]) {
      const [from, to] = [Math.max(lowMm, place.stationMm + shift - withinMm), Math.min(highMm, place.stationMm + shift + withinMm)]
      if (to <= from) continue
      const [a, b] = [alongOf(from), alongOf(to)]
      spans.push({ fromMm: Math.min(a, b), toMm: Math.max(a, b) })
    }
  }
  return spans
}

/** How far apart two places are along their track; null: not on two rails of one track. */
export function acrossMm(a: RailPlace, b: RailPlace, laps: Laps): number | null {
  if (a.track !== b.track || a.rail === b.rail) return null
  const off = Math.abs(a.stationMm - b.stationMm)
  const lap = laps.get(a.track)
  return lap === undefined ? off : Math.min(off, Math.abs(lap - off))
}

/** Station half way between two places of a track, on a closed one the shorter way round. */
export function betweenMm(a: RailPlace, b: RailPlace, laps: Laps): number {
  const middle = (a.stationMm + b.stationMm) / 2
  const lap = laps.get(a.track)
  return lap !== undefined && Math.abs(a.stationMm - b.stationMm) > lap / 2 ? middle - lap / 2 : middle
}

/** Of each joint the places on tracks that it is abreast of. */
export const placesOf = (cut: Cut, at: readonly number[]): readonly (readonly RailPlace[])[] =>
  at.map((along) => chainPlaces(cut.chain, cut.fromMm + along))
