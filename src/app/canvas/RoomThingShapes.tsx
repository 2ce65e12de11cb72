import { memo } from 'react'
import type { ReactNode } from 'react'
import { pointLerp } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { joistRing, openingLeaf, openingRings, portalSides } from '../../tools/index.ts'
import { useDerived, usePlan } from '../context.ts'
import { polylineText } from './svgPath.ts'

/**
 * A door or passage: the wall is gone there; the leaf stands open with the quarter of a circle that it sweeps. A window: the wall is gone
 * above its sill, with the glass in the middle of it.
 */
export const OpeningShape = memo(function OpeningShape({ id }: { readonly id: Id }): ReactNode {
  const opening = usePlan((state) => state.plan.openings[id])
  const wall = usePlan((state) => (opening === undefined ? undefined : state.plan.walls[opening.wall]))
  if (opening === undefined || wall === undefined) return null
  const rings = openingRings(wall, opening)
  const picture = openingLeaf(wall, opening)
  // Jambs: across the wall at both ends of the gap.
  const [first, last] = [rings[0], rings.at(-1)]
  const jambs = [
    [first?.[0], first?.[3]],
    [last?.[1], last?.[2]],
  ].map((jamb) =>
    polylineText(
      jamb.filter((point) => point !== undefined),
      false,
    ),
  )
  return (
    <g className="opening">
      <path className="doorway" d={rings.map((ring) => polylineText(ring, true)).join('')} />
      <path className="jamb" d={jambs.join('')} />
      {opening.sillMm === null ? null : <path className="glass" d={rings.map(glassText).join('')} />}
      {picture === null ? null : (
        <>
          <path className="sweep" d={polylineText(picture.arc, false)} />
          <path className="leaf" d={polylineText(picture.leaf, false)} />
        </>
      )}
    </g>
  )
})

/** Along the middle of the wall's thickness, from jamb to jamb. */
function glassText([a, b, c, d]: readonly Point[]): string {
  if (a === undefined || b === undefined || c === undefined || d === undefined) return ''
  return polylineText([pointLerp(a, d, 0.5), pointLerp(b, c, 0.5)], false)
}

/** A hatch: the deck is not there, or can be lifted out. */
export const HatchShape = memo(function HatchShape({ id }: { readonly id: Id }): ReactNode {
  const hatch = usePlan((state) => state.plan.hatches[id])
  return hatch === undefined ? null : <path className="hatch" d={polylineText(hatch.outline, true)} />
})

/** A joist lies under the deck: what cannot be seen is dashed, as on any drawing. */
export const JoistShape = memo(function JoistShape({ id }: { readonly id: Id }): ReactNode {
  const joist = usePlan((state) => state.plan.joists[id])
  return joist === undefined ? null : <path className="joist" d={polylineText(joistRing(joist), true)} />
})

/** A portal: its two sides, with a return at each face. */
export const PortalShape = memo(function PortalShape({ id }: { readonly id: Id }): ReactNode {
  const portal = usePlan((state) => state.plan.portals[id])
  const alignment = useDerived((state) => (portal === undefined ? undefined : state.derived.network.tracks.get(portal.track)?.alignment))
  if (portal === undefined || alignment?.ok !== true) return null
  const { path, isClosed } = alignment
  const { left, right } = portalSides(path, isClosed, portal)
  const wing = (portal.leftMm + portal.rightMm) / 4
  const outer = portalSides(path, isClosed, { ...portal, leftMm: portal.leftMm + wing, rightMm: portal.rightMm + wing })
  const side = (inner: typeof left, beyond: typeof left): string =>
    polylineText([...beyond.slice(0, 1), ...inner, ...beyond.slice(-1)], false)
  return <path className="portal" d={side(left, outer.left) + side(right, outer.right)} />
})
