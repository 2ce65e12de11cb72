import type { PlanCommand } from '../../edit/types.ts'
import { cornerNextId } from '../../plan/index.ts'
import type { CompoundCurve, Corner, FreeEnd, Id, Plan, Track, Turnout } from '../../plan/types.ts'
import type { Point } from '../../geom/types.ts'
import type { TrackOperationProblem, TrackOperationResult } from './types.ts'

/** Stations nearer than this are one. */
export const STATION_ROUNDING_MM = 1e-6

export const refused = (problem: TrackOperationProblem): TrackOperationResult => ({ ok: false, problem })

export const group = (label: string, commands: readonly PlanCommand[]): TrackOperationResult => ({
  ok: true,
  command: { kind: 'group', label, commands },
})

export const freeAt = ({ x, y }: Point): FreeEnd => ({ kind: 'free', x, y })

/** Turnouts that stand on a track, in order of the plan. */
export const turnoutsOn = (plan: Plan, track: Id): readonly Turnout[] =>
  Object.values(plan.turnouts).filter((turnout) => turnout.track === track)

/**
 * What was chosen where a track crosses others goes along with the track's stations: `to` says where a station lies afterwards, and on which
 * track.
 */
export function crossingsMoved(
  plan: Plan,
  track: Id,
  to: (stationMm: number) => { readonly track: Id; readonly stationMm: number },
): readonly PlanCommand[] {
  return Object.values(plan.crossings).flatMap((crossing): PlanCommand[] => {
    const first = crossing.track === track ? to(crossing.stationMm) : null
    const second = crossing.other === track ? to(crossing.otherStationMm) : null
    if (first === null && second === null) return []
    const change = {
      ...(first === null ? {} : { track: first.track, stationMm: first.stationMm }),
      ...(second === null ? {} : { other: second.track, otherStationMm: second.stationMm }),
    }
    return [{ kind: 'crossing.set', id: crossing.id, change }]
  })
}

/** All that is counted along a track stays where it is when the track gets so much more in front of its station zero. */
export function stationsShifted(plan: Plan, track: Id, byMm: number): readonly PlanCommand[] {
  const after = (stationMm: number): { readonly stationMm: number } => ({ stationMm: stationMm + byMm })
  const own = <R extends { readonly track: Id }>(records: { readonly [id: Id]: R }): readonly R[] =>
    Object.values(records).filter((record) => record.track === track)
  return [
    ...turnoutsOn(plan, track).map(({ id, stationMm }): PlanCommand => ({ kind: 'turnout.set', id, change: after(stationMm) })),
    ...own(plan.portals).map(({ id, stationMm }): PlanCommand => ({ kind: 'portal.set', id, change: after(stationMm) })),
    ...own(plan.railJoints).map(({ id, stationMm }): PlanCommand => ({ kind: 'railJoint.set', id, change: after(stationMm) })),
    ...crossingsMoved(plan, track, (stationMm) => ({ track, ...after(stationMm) })),
    ...Object.values(plan.readings).flatMap(({ id, of }): PlanCommand[] => {
      if (!('track' in of) || of.track !== track) return []
      const shifted = of.kind === 'along' ? { ...of, fromMm: of.fromMm + byMm, toMm: of.toMm + byMm } : { ...of, ...after(of.stationMm) }
      return [{ kind: 'reading.set', id, change: { of: shifted } }]
    }),
  ]
}

/** The maker whose numbers are counted along a track. */
export function makerOn(plan: Plan, track: Id): Id | null {
  const found = Object.values(plan.makers).find(
    ({ numbers }) => numbers.track === track || ('otherTrack' in numbers && numbers.otherTrack === track),
  )
  return found?.id ?? null
}

/** A corner as it is passed from the other end. */
export function cornerReversed(corner: Corner): Corner {
  const { radius, easementIn, easementOut } = corner
  const turned = typeof radius === 'object' ? compoundReversed(radius) : radius
  return { ...corner, radius: turned, easementIn: easementOut, easementOut: easementIn }
}

function compoundReversed({ first, next }: CompoundCurve): CompoundCurve {
  const arcs = [first, ...next].toReversed()
  const easements = next.map(({ easement }) => easement).toReversed()
  const [last, ...rest] = arcs.map(({ radius, turn }) => ({ radius, turn }))
  return { first: last ?? first, next: rest.map((arc, i) => ({ ...arc, easement: easements[i] ?? 'class' })) }
}

/** The commands that give a track other corners, all of them. */
export function cornersReplace(track: Track, corners: readonly Corner[]): readonly PlanCommand[] {
  return [
    ...track.corners.map(({ id }): PlanCommand => ({ kind: 'corner.remove', track: track.id, corner: id })),
    ...corners.map((corner, index): PlanCommand => ({ kind: 'corner.insert', track: track.id, index, corner })),
  ]
}

/** Corners whose ids are all their own: of two with one id the later gets the next free one. */
export function cornersRenamed(corners: readonly Corner[]): readonly Corner[] {
  const renamed: Corner[] = []
  for (const corner of corners) {
    const isTaken = renamed.some(({ id }) => id === corner.id)
    renamed.push(isTaken ? { ...corner, id: cornerNextId([...corners, ...renamed]) } : corner)
  }
  return renamed
}
