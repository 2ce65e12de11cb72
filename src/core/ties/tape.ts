import { pathBends } from '../geom/index.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Tie } from '../track/types.ts'
import type { TapeBatch, TieJig } from './types.ts'

/** Strain to which low-tack tape is pulled round a curve without lifting. Common practice, no source. */
const tapeStrain = 0.02

/**
 * What a strip of ties of one step takes on a curve. Ties square to the line turn from one to the next by step / R, the turn of the line between
 * them; their ends outside and inside of the curve, half a tie off the line, are step (1 + L / 2R) and step (1 - L / 2R) apart. Tape of a width w
 * along the middle of the ties is strained by w / 2R at its edges. Derived. mm; radius null: straight.
 */
export function tapeFan(
  stepMm: number,
  tieLengthMm: number,
  radiusMm: number | null,
): Pick<TapeBatch, 'fanRad' | 'outerStepMm' | 'innerStepMm' | 'tapeWidthMm'> {
  if (radiusMm === null) return { fanRad: 0, outerStepMm: stepMm, innerStepMm: stepMm, tapeWidthMm: null }
  const half = tieLengthMm / (2 * radiusMm)
  return {
    fanRad: stepMm / radiusMm,
    outerStepMm: stepMm * (1 + half),
    innerStepMm: stepMm * (1 - half),
    tapeWidthMm: 2 * radiusMm * tapeStrain,
  }
}

/** Strips of a track's plain ties, by straights and curves: a tie at a border belongs to what begins there. */
export function tapeBatches(
  { track, lineClass, alignment }: NetworkTrack,
  stretches: readonly (readonly Tie[])[],
  jig: TieJig,
): readonly TapeBatch[] {
  if (!alignment.ok) return []
  const bends = pathBends(alignment.path)
  return stretches.flatMap((ties) =>
    bends.flatMap((bend, i): readonly TapeBatch[] => {
      const isLast = i === bends.length - 1
      const mine = ties.filter(({ stationMm }) => stationMm >= bend.fromMm && (isLast || stationMm < bend.toMm))
      const [first, last] = [mine[0], mine.at(-1)]
      if (!first || !last) return []
      const stepMm = mine.length > 1 ? (last.stationMm - first.stationMm) / (mine.length - 1) : lineClass.tieSpacingMm
      return [
        {
          track: track.id,
          lineClass: lineClass.id,
          fromMm: first.stationMm,
          toMm: last.stationMm,
          radiusMm: bend.radiusMm,
          hand: bend.hand === 0 ? null : bend.hand === 1 ? 'left' : 'right',
          ties: mine.length,
          fullStrips: Math.floor(mine.length / jig.ties),
          lastTies: mine.length % jig.ties,
          stepMm,
          ...tapeFan(stepMm, jig.tie.lengthMm, bend.radiusMm),
        },
      ]
    }),
  )
}
