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
