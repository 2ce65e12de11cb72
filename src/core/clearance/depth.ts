import { pointDistance, pointLerp, ringContains, ringNearest } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { signedDistance } from './fixed.ts'
import type { Clearances } from './found.ts'
import type { HurdleName } from './hurdles.ts'
import { bandPlace } from './swept.ts'

/** Places along an outline lie so far apart, mm: on the sharpest curves the edge of a band bends by a hundredth between them. */
const lookMm = 4

/** How deep an outline reaches into a hurdle, and where. */
export interface HurdleDepth {
  readonly depthMm: number
  readonly at: Point
}

/**
 * How deep an outline that stands in a hurdle reaches into it: from its deepest place to the hurdle's nearer edge.
 *
 * Exactness: of its straight sides at steps of 4 mm; bands as chords of their step.
 * Outcome:   null where it does not stand in this hurdle.
 */
export function hurdleDepth(
  { swept, hurdles }: Pick<Clearances, 'swept' | 'hurdles'>,
  outline: readonly Point[],
  { kind, record }: HurdleName,
): HurdleDepth | null {
  const band = kind === 'tracks' && record !== null ? swept.get(record) : undefined
  const shapes = hurdles.shapes.filter((shape) => shape.kind === kind && shape.record === record)
  const places = placesAlong(outline).flatMap((at): HurdleDepth[] => [
    ...(band === undefined ? [] : [{ at, depthMm: -bandPlace(band, at).gapMm }]),
    ...shapes.map(({ rings, isRoom }) => ({ at, depthMm: -signedDistance(rings, isRoom, at) })),
  ])
  // What stands wholly under the body reaches into it by its own corners.
  const corners = shapes.flatMap(({ rings }) => rings.flat().filter((corner) => ringContains(outline, corner)))
  const all = [...places, ...corners.map((at) => ({ at, depthMm: ringNearest(outline, at)?.distanceMm ?? 0 }))]
  const deepest = all.reduce<HurdleDepth | null>((most, one) => (most === null || one.depthMm > most.depthMm ? one : most), null)
  return deepest !== null && deepest.depthMm > 0 ? deepest : null
}

function placesAlong(outline: readonly Point[]): readonly Point[] {
  return outline.flatMap((a, i) => {
    const b = outline[(i + 1) % outline.length] ?? a
    const steps = Math.max(1, Math.ceil(pointDistance(a, b) / lookMm))
    return Array.from({ length: steps }, (_, k) => pointLerp(a, b, k / steps))
  })
}
