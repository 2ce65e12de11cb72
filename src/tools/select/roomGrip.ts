import { pathNearest, pathPoseAt } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Hatch, Joist, Opening, Portal, Wall } from '../../core/plan/types.ts'
import { openingHeld, wallNearest, wallPoseAt } from '../shared/roomThings.ts'
import { wholeOf } from '../shared/snap.ts'
import type { Pick, ToolContext } from '../types.ts'

/** What a drag holds of the things of the room. `heldMm`: where along the wall or track the hand took hold. */
export type RoomGrip =
  | { readonly kind: 'joistEnd'; readonly record: Joist; readonly end: 'from' | 'to'; readonly at: Point; readonly other: Point }
  | {
      readonly kind: 'hatchPoint'
      readonly record: Hatch
      readonly index: number
      readonly at: Point
      readonly before: Point
      readonly after: Point
    }
  | { readonly kind: 'opening'; readonly record: Opening; readonly wall: Wall; readonly heldMm: number }
  | { readonly kind: 'portal'; readonly record: Portal; readonly heldMm: number }

export type RoomPick = Extract<Pick, { kind: RoomGrip['kind'] }>

/** The grip of a thing of the room that was picked; null when it is no longer there or its wall or track cannot be found. */
export function roomGrip(pick: RoomPick, at: Point, { plan, derived }: ToolContext): RoomGrip | null {
  switch (pick.kind) {
    case 'joistEnd': {
      const record = recordFind(plan, 'joists', pick.joist)
      if (record === null) return null
      return { kind: 'joistEnd', record, end: pick.end, at: record[pick.end], other: record[pick.end === 'from' ? 'to' : 'from'] }
    }
    case 'hatchPoint': {
      const record = recordFind(plan, 'hatches', pick.hatch)
      const here = record?.outline[pick.index]
      if (record === null || here === undefined) return null
      const { outline } = record
      const [before, after] = [outline.at(pick.index - 1) ?? here, outline[(pick.index + 1) % outline.length] ?? here]
      return { kind: 'hatchPoint', record, index: pick.index, at: here, before, after }
    }
    case 'opening': {
      const record = recordFind(plan, 'openings', pick.opening)
      const wall = record === null ? null : recordFind(plan, 'walls', record.wall)
      const near = wall === null ? null : wallNearest(wall, at)
      return record === null || wall === null || near === null ? null : { kind: 'opening', record, wall, heldMm: near.alongMm }
    }
    case 'portal': {
      const record = recordFind(plan, 'portals', pick.portal)
      const alignment = record === null ? undefined : derived.network.tracks.get(record.track)?.alignment
      if (record === null || alignment?.ok !== true) return null
      return { kind: 'portal', record, heldMm: pathNearest(alignment.path, at).stationMm }
    }
  }
}

/** What slides along a wall or a track, to where the pointer is; in whole steps. Null: its track is not solved. */
export function roomSlide(
  grip: Extract<RoomGrip, { kind: 'opening' | 'portal' }>,
  to: Point,
  wholeMm: number | null,
  { derived }: ToolContext,
): PlanCommand | null {
  const whole = (mm: number): number => (wholeMm === null ? mm : wholeOf(mm, wholeMm))
  if (grip.kind === 'opening') {
    const near = wallNearest(grip.wall, to)
    return near === null ? null : openingTo(grip, whole(grip.record.fromMm + near.alongMm - grip.heldMm))
  }
  const alignment = derived.network.tracks.get(grip.record.track)?.alignment
  if (alignment?.ok !== true) return null
  const stationMm = whole(grip.record.stationMm + pathNearest(alignment.path, to).stationMm - grip.heldMm)
  return portalTo(grip.record, stationMm, alignment.path.lengthMm)
}

/** One step of an arrow key, as far as it goes along the wall or the track. */
export function roomNudge(
  grip: Extract<RoomGrip, { kind: 'opening' | 'portal' }>,
  step: Point,
  { derived }: ToolContext,
): PlanCommand | null {
  const along = (headingRad: number): number => step.x * Math.cos(headingRad) + step.y * Math.sin(headingRad)
  if (grip.kind === 'opening') {
    const pose = wallPoseAt(grip.wall, grip.record.fromMm + grip.record.widthMm / 2)
    return pose === null ? null : openingTo(grip, grip.record.fromMm + along(pose.headingRad))
  }
  const alignment = derived.network.tracks.get(grip.record.track)?.alignment
  if (alignment?.ok !== true) return null
  const { path } = alignment
  const stationMm = Math.min(Math.max(grip.record.stationMm, 0), path.lengthMm)
  return portalTo(grip.record, stationMm + along(pathPoseAt(path, stationMm).headingRad), path.lengthMm)
}

function openingTo({ record, wall }: Extract<RoomGrip, { kind: 'opening' }>, fromMm: number): PlanCommand {
  return { kind: 'opening.set', id: record.id, change: { fromMm: openingHeld(wall, fromMm, record.widthMm) } }
}

function portalTo({ id }: Portal, stationMm: number, lengthMm: number): PlanCommand {
  return { kind: 'portal.set', id, change: { stationMm: Math.min(Math.max(stationMm, 0), lengthMm) } }
}
