import { pathFromElements, pathMove, pathPoseAt } from '../../core/geom/index.ts'
import type { CurveElement, Path } from '../../core/geom/types.ts'
import type { HostLine } from '../../core/turnout/types.ts'
import type { Args } from '../args.ts'
import { lengthOption, wordOption } from '../values.ts'

/** Which way the host bends: to the side of the diverging route (its inside), or away from it. */
function hostCurvature(args: Args, toward: 'left' | 'right'): number | null {
  const radiusMm = lengthOption(args, 'host-radius')
  if (radiusMm === null) return null
  const isInside = (wordOption(args, 'host-side', ['inside', 'outside']) ?? 'inside') === 'inside'
  return (isInside === (toward === 'left') ? 1 : -1) / radiusMm
}

/** The host that the options tell of, straight to `reachMm` and beyond: null. `toward`: the side to which the other route leaves. */
export function hostAsked(args: Args, toward: 'left' | 'right', reachMm: number): HostLine | null {
  const k = hostCurvature(args, toward)
  if (k === null) return null
  const easementMm = lengthOption(args, 'host-easement', { least: 'zero or more' }) ?? 0
  const station = lengthOption(args, 'host-station', { least: 'zero or more' }) ?? 0
  if (easementMm === 0) return hostOf([{ lengthMm: 2 * reachMm, k0: k, k1: k }], reachMm)
  return hostOf(
    [
      { lengthMm: reachMm, k0: 0, k1: 0 },
      { lengthMm: easementMm, k0: 0, k1: k },
      { lengthMm: reachMm + station, k0: k, k1: k },
    ],
    reachMm + station,
  )
}

/** A line of these elements with the place at `atMm` in the origin, heading along +x. */
function hostOf(elements: readonly CurveElement[], atMm: number): HostLine {
  return { path: pathThrough(elements, atMm, 0), psMm: atMm }
}

/** A path of these elements that passes the origin at this heading, `atMm` behind its start. */
function pathThrough(elements: readonly CurveElement[], atMm: number, headingRad: number): Path {
  const path = pathFromElements({ x: 0, y: 0, headingRad: 0 }, elements)
  const turned = pathMove(path, { x: 0, y: 0, headingRad: headingRad - pathPoseAt(path, atMm).headingRad })
  const { x, y } = pathPoseAt(turned, atMm)
  return pathMove(turned, { x: -x, y: -y, headingRad: 0 })
}

/** The second track of a crossing, through the origin at `headingRad`. */
export function secondAsked(args: Args, headingRad: number, reachMm: number): Path {
  const radiusMm = lengthOption(args, 'second-radius')
  const bends = wordOption(args, 'second-bends', ['left', 'right']) ?? 'left'
  const k = radiusMm === null ? 0 : (bends === 'left' ? 1 : -1) / radiusMm
  return pathThrough([{ lengthMm: 2 * reachMm, k0: k, k1: k }], reachMm, headingRad)
}
