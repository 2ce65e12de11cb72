import { pathMove } from '../../core/geom/index.ts'
import type { Path } from '../../core/geom/types.ts'
import { hostOfElements } from '../../core/turnout/index.ts'
import type { HostLine } from '../../core/turnout/index.ts'
import type { Args } from '../args.ts'
import { lengthOption, wordOption } from '../values.ts'

/** Which way the host bends: to the side of the diverging route (its inside), or away from it. Null: it is straight. */
function hostCurvature(args: Args, toward: 'left' | 'right'): number | null {
  const radiusMm = lengthOption(args, 'host-radius')
  if (radiusMm === null) return null
  const isInside = (wordOption(args, 'host-side', ['inside', 'outside']) ?? 'inside') === 'inside'
  return (isInside === (toward === 'left') ? 1 : -1) / radiusMm
}

/** The host that the options tell of, `reachMm` long both ways; null: straight. `toward`: the side to which the other route leaves. */
export function hostAsked(args: Args, toward: 'left' | 'right', reachMm: number): HostLine | null {
  const k = hostCurvature(args, toward)
  if (k === null) return null
  const easementMm = lengthOption(args, 'host-easement', { least: 'zero or more' }) ?? 0
  if (easementMm === 0) return hostOfElements([{ lengthMm: 2 * reachMm, k0: k, k1: k }], reachMm)
  const stationMm = lengthOption(args, 'host-station', { least: 'zero or more' }) ?? 0
  return hostOfElements(
    [
      { lengthMm: reachMm, k0: 0, k1: 0 },
      { lengthMm: easementMm, k0: 0, k1: k },
      { lengthMm: reachMm + stationMm, k0: k, k1: k },
    ],
    reachMm + stationMm,
  )
}

/** The second track of a crossing, through the origin at `headingRad`. */
export function secondAsked(args: Args, headingRad: number, reachMm: number): Path {
  const radiusMm = lengthOption(args, 'second-radius')
  const bends = wordOption(args, 'second-bends', ['left', 'right']) ?? 'left'
  const k = radiusMm === null ? 0 : (bends === 'left' ? 1 : -1) / radiusMm
  const { path } = hostOfElements([{ lengthMm: 2 * reachMm, k0: k, k1: k }], reachMm)
  return pathMove(path, { x: 0, y: 0, headingRad })
}
