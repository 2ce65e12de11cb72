import { pointDistance } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { headingProfile, profileStretches } from './heading.ts'
import type { Measured, TraceOptions } from './types.ts'

/** Distances along the chords from the first point to each. */
export function chordStations(points: readonly Point[]): readonly number[] {
  let alongMm = 0
  return points.map((point, i) => {
    alongMm += pointDistance(point, points[i - 1] ?? point)
    return alongMm
  })
}

/** Points of a closed line, begun anew in the middle of its longest straight and ended there too. */
export function measuredFromStraight({ points, indices, held, noiseMm }: Measured, { toleranceMm }: TraceOptions): Measured {
  const round = {
    points: [...points, ...points, ...points.slice(0, 1)],
    indices: [...indices, ...indices, ...indices.slice(0, 1)],
    held: [...held, ...held, ...held.slice(0, 1)],
    noiseMm,
  }
  const stretches = profileStretches(headingProfile(round), toleranceMm, 1).filter(({ hand }) => hand === 0)
  const longest = stretches.toSorted((a, b) => b.toMm - b.fromMm - (a.toMm - a.fromMm))[0]
  const chords = chordStations(round.points)
  const middleMm = longest === undefined ? 0 : (longest.fromMm + longest.toMm) / 2
  const at =
    Math.max(
      0,
      chords.findIndex((chord) => chord >= middleMm),
    ) % points.length
  const order = [...points.keys()].map((i) => (i + at) % points.length)
  const turn = <T>(list: readonly T[]): T[] => [...order, order[0] ?? 0].flatMap((i) => list.slice(i, i + 1))
  return { points: turn(points), indices: turn(indices), held: turn(held), noiseMm }
}
