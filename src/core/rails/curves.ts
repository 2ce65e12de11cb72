import type { CornerPlace } from '../alignment/types.ts'
import { pathCurvatureAt } from '../geom/index.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { LineClass, WideningStep } from '../plan/types.ts'
import type { CurveRow, ShimLayer, WideningStretch } from './types.ts'

/** Gauge widening and superelevation of every curve of a track that is wider or raised; stations of the track. */
export function curveRows({ track, lineClass, railway, alignment }: NetworkTrack): readonly CurveRow[] {
  if (!alignment.ok) return []
  return alignment.corners.flatMap((corner): CurveRow[] => {
    const { cornerId, solution, tsMm, scMm, csMm, stMm } = corner
    if (stMm <= tsMm) return []
    const widening = wideningOf(alignment.path, corner, lineClass.widening)
    const raised = layersOf(corner, lineClass, railway.laying.shimMm)
    if (widening.length === 0 && raised.length === 0) return []
    const hand = solution.deflectionRad > 0 ? 'left' : 'right'
    const isRaised = raised.length > 0
    return [
      {
        track: track.id,
        corner: cornerId,
        hand,
        radiusMm: solution.radiusMm,
        tsMm,
        scMm,
        csMm,
        stMm,
        widening,
        superelevationMm: lineClass.superelevationMm,
        outer: hand === 'left' ? 'right' : 'left',
        layers: raised,
        roundingMm: Math.abs(lineClass.superelevationMm - (raised.at(-1)?.heightMm ?? 0)),
        isAbruptIn: isRaised && scMm <= tsMm,
        isAbruptOut: isRaised && stMm <= csMm,
      },
    ]
  })
}

/**
 * Layers of shim, the lowest and longest first: as many as come nearest to the height that is wanted. Height runs in evenly over each easement,
 * and each layer ends where half of it is wanted, so that the stack is nowhere off by more than half a layer.
 */
function layersOf({ tsMm, scMm, csMm, stMm }: CornerPlace, { superelevationMm }: LineClass, shimMm: number): readonly ShimLayer[] {
  if (!(superelevationMm > 0) || !(shimMm > 0)) return []
  return Array.from({ length: Math.round(superelevationMm / shimMm) }, (_, i) => {
    const part = Math.min(1, ((i + 0.5) * shimMm) / superelevationMm)
    return { layer: i + 1, heightMm: (i + 1) * shimMm, fromMm: tsMm + part * (scMm - tsMm), toMm: stMm - part * (stMm - csMm) }
  })
}

const samples = 400
const stationMm = 1e-6

/** Stretches in which one step of the class's widening counts: where the line is sharper than its radius. */
function wideningOf(
  path: Parameters<typeof pathCurvatureAt>[0],
  { tsMm, stMm }: CornerPlace,
  steps: readonly WideningStep[],
): readonly WideningStretch[] {
  const byAt = (at: number): number => {
    const sharpness = Math.abs(pathCurvatureAt(path, round(at, path.lengthMm)))
    return Math.max(0, ...steps.filter(({ belowRadiusMm }) => sharpness * belowRadiusMm > 1).map(({ byMm }) => byMm))
  }
  if (steps.length === 0) return []
  const found: WideningStretch[] = []
  let [fromMm, byMm] = [tsMm, byAt(tsMm)]
  const close = (toMm: number): void => {
    if (byMm > 0 && toMm > fromMm) found.push({ fromMm, toMm, byMm })
  }
  for (let i = 1; i <= samples; i++) {
    const at = tsMm + ((stMm - tsMm) * i) / samples
    const next = byAt(Math.min(at, stMm - stationMm))
    if (next === byMm) continue
    let [low, high] = [tsMm + ((stMm - tsMm) * (i - 1)) / samples, at]
    while (high - low > stationMm) {
      const middle = (low + high) / 2
      if (byAt(middle) === byMm) low = middle
      else high = middle
    }
    close(high)
    ;[fromMm, byMm] = [high, next]
  }
  close(stMm)
  return found
}

const round = (at: number, lengthMm: number): number => (at > lengthMm ? at - lengthMm : Math.max(0, at))
