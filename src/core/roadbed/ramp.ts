import type { TrackHeight } from './heights.ts'
import type { RoadbedRamp, ShimSchedule } from './types.ts'

/** Heights that differ by less are even: a sheet of paper. */
const evenMm = 0.05
/** Thickness is told at least at so many mm along. */
const tellMm = 50
/** More layers nobody lays. */
const mostLayers = 200

/** What a ramp is made from: heights of the turnout less those of the track, and the thickness of the track's own roadbed. */
export interface RampRequest {
  readonly less: TrackHeight
  readonly ownMm: number
  /** Steepest, rise over run. */
  readonly grade: number
  readonly shimMm: number
}

export type RampShape = Pick<RoadbedRamp, 'dropMm' | 'parts' | 'lengthMm' | 'thickness' | 'shims'>

/**
 * The ramp between a turnout's height and a track's own; null: they are even.
 *
 * Railheads meet where it starts, so that its roadbed's top falls by all that the turnout is higher: roadbed, tie and rail. Length = drop / grade:
 * 3/16 in at 1 % takes 18 3/4 in. Without the curves that ease its ends.
 */
export function rampShaped({ less, ownMm, grade, shimMm }: RampRequest): RampShape | null {
  const dropMm = less.roadbedMm + less.tieMm + less.railMm
  if (Math.abs(dropMm) < evenMm) return null
  const lengthMm = Math.abs(dropMm) / grade
  const steps = Math.ceil(lengthMm / tellMm)
  return {
    dropMm,
    parts: less,
    lengthMm,
    thickness: Array.from({ length: steps + 1 }, (_, i) => ({
      alongMm: (lengthMm * i) / steps,
      thicknessMm: ownMm + dropMm * (1 - i / steps),
    })),
    shims: shimSchedule(dropMm, lengthMm, shimMm),
  }
}

/**
 * Layers laid on even roadbed from the start of a falling ramp: as many as are whole in the drop, each ending where the ramp is as high as
 * it and those below it: h(x) = drop (1 - x / L), so that layer k ends at L (1 - k t / drop). null: the ramp rises, or takes more
 * layers than anyone lays.
 */
export function shimSchedule(dropMm: number, lengthMm: number, layerMm: number): ShimSchedule | null {
  if (!(dropMm > 0 && layerMm > 0)) return null
  const layers = Math.floor(dropMm / layerMm + 1e-9)
  if (layers > mostLayers) return null
  const endsMm = Array.from({ length: layers }, (_, i) => Math.max(0, lengthMm * (1 - ((i + 1) * layerMm) / dropMm)))
  return {
    layerMm,
    endsMm,
    remainderMm: Math.max(0, dropMm - layers * layerMm),
    totalMm: endsMm.reduce((sum, end) => sum + end, 0),
  }
}
