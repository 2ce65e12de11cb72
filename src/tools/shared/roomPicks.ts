import { pointDistance, polylineNearest, ringContains } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Pick, ToolContext } from '../types.ts'
import { pickTolerancePx } from '../types.ts'
import { joistRing, portalSides, wallNearest } from './roomThings.ts'

/** Ends of the selected joist and corners of the selected hatch, the nearest first. */
export function roomHandlePicks({ plan, selection, pxPerMm }: ToolContext, at: Point): readonly Pick[] {
  if (selection.kind !== 'record') return []
  const joist = selection.table === 'joists' ? plan.joists[selection.id] : undefined
  const hatch = selection.table === 'hatches' ? plan.hatches[selection.id] : undefined
  const handles: readonly Pick[] = [
    ...(joist === undefined
      ? []
      : (['from', 'to'] as const).map((end) => ({ kind: 'joistEnd', joist: joist.id, end, at: joist[end] }) as const)),
    ...(hatch?.outline.map((point, index) => ({ kind: 'hatchPoint', hatch: hatch.id, index, at: point }) as const) ?? []),
  ]
  return handles
    .filter((pick) => pointDistance(pick.at, at) <= pickTolerancePx / pxPerMm)
    .toSorted((a, b) => pointDistance(a.at, at) - pointDistance(b.at, at))
}

/** Portals by their sides, joists and hatches by their bodies, openings by their gap in the wall. */
export function roomThingPicks({ plan, derived, pxPerMm }: ToolContext, at: Point): readonly Pick[] {
  const toleranceMm = pickTolerancePx / pxPerMm
  const picks: Pick[] = []
  for (const portal of Object.values(plan.portals)) {
    const alignment = derived.network.tracks.get(portal.track)?.alignment
    if (alignment?.ok !== true) continue
    const { left, right } = portalSides(alignment.path, alignment.isClosed, portal)
    const distances = [left, right].map((side) => polylineNearest(side, at)?.distanceMm ?? Infinity)
    if (Math.min(...distances) <= toleranceMm) picks.push({ kind: 'portal', portal: portal.id, at })
  }
  for (const joist of Object.values(plan.joists)) {
    const isNear = (polylineNearest([joist.from, joist.to], at)?.distanceMm ?? Infinity) <= Math.max(toleranceMm / 2, joist.widthMm / 2)
    if (isNear || ringContains(joistRing(joist), at)) picks.push({ kind: 'joist', joist: joist.id, at })
  }
  for (const hatch of Object.values(plan.hatches)) {
    if (ringContains(hatch.outline, at)) picks.push({ kind: 'hatch', hatch: hatch.id, at })
  }
  for (const opening of Object.values(plan.openings)) {
    const wall = plan.walls[opening.wall]
    const near = wall === undefined ? null : wallNearest(wall, at)
    if (wall === undefined || near === null || near.distanceMm > Math.max(toleranceMm, wall.thicknessMm)) continue
    if (near.alongMm >= opening.fromMm && near.alongMm <= opening.fromMm + opening.widthMm)
      picks.push({ kind: 'opening', opening: opening.id, at })
  }
  return picks
}
