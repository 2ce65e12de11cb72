import type { PlanCommand } from '../../edit/types.ts'
import type { Crossing, Facing, Id, Plan, Portal, RailJoint, ReadingOf, SlipChoice, Turnout } from '../../plan/types.ts'

/** A place along a track. */
export interface CountedPlace {
  readonly track: Id
  readonly stationMm: number
}

/** How the stations of a track are counted anew, so that what is counted along it stays where it lies. */
export interface Recount {
  /** Where a station lies afterwards; null: it is counted as before. */
  to(stationMm: number): CountedPlace | null
  /** Stations run the other way afterwards: what faced rising ones faces falling ones, left is right. */
  readonly isTurned?: boolean
}

/** What faced rising stations faces falling ones. */
const facingReversed = (facing: Facing): Facing => (facing === 'rising' ? 'falling' : 'rising')

/** Everything that is counted along a track goes with its stations: turnouts, crossings, portals, rail joints, readings, findings let be. */
export function stationsRecounted(plan: Plan, track: Id, { to, isTurned = false }: Recount): readonly PlanCommand[] {
  const own = <R extends CountedPlace>(records: { readonly [id: Id]: R }): readonly R[] =>
    Object.values(records).filter((record) => record.track === track)
  const each = <R extends CountedPlace>(records: { readonly [id: Id]: R }, command: (record: R, place: CountedPlace) => PlanCommand) =>
    own(records).flatMap((record): readonly PlanCommand[] => {
      const place = to(record.stationMm)
      return place === null ? [] : [command(record, place)]
    })
  return [
    ...each<Turnout>(plan.turnouts, ({ id, facing }, place) => ({
      kind: 'turnout.set',
      id,
      change: { ...place, ...(isTurned ? { facing: facingReversed(facing) } : {}) },
    })),
    ...each<RailJoint>(plan.railJoints, ({ id, rail }, place) => ({
      kind: 'railJoint.set',
      id,
      change: { ...place, ...(isTurned ? { rail: rail === 'left' ? 'right' : 'left' } : {}) },
    })),
    ...own<Portal>(plan.portals).flatMap(({ id, stationMm, lengthMm, leftMm, rightMm }): readonly PlanCommand[] => {
      // It begins where it ended.
      const place = to(isTurned ? stationMm + lengthMm : stationMm)
      if (place === null) return []
      return [{ kind: 'portal.set', id, change: { ...place, ...(isTurned ? { leftMm: rightMm, rightMm: leftMm } : {}) } }]
    }),
    ...Object.values(plan.crossings).flatMap((crossing) => crossingRecounted(crossing, track, { to, isTurned })),
    ...Object.values(plan.readings).flatMap(({ id, of }): readonly PlanCommand[] => {
      const moved = readingRecounted(of, track, to)
      return moved === null ? [] : [{ kind: 'reading.set', id, change: { of: moved } }]
    }),
    ...Object.values(plan.silences).flatMap(({ id, table, record, stationMm }): readonly PlanCommand[] => {
      const place = table === 'tracks' && record === track && stationMm !== null ? to(stationMm) : null
      return place === null ? [] : [{ kind: 'silence.set', id, change: { record: place.track, stationMm: place.stationMm } }]
    }),
  ]
}

/** The same when the track gets so much more in front of its station zero. */
export function stationsShifted(plan: Plan, track: Id, byMm: number): readonly PlanCommand[] {
  return stationsRecounted(plan, track, { to: (stationMm) => ({ track, stationMm: stationMm + byMm }) })
}

/** What was chosen where a track crosses others. */
function crossingRecounted(crossing: Crossing, track: Id, { to, isTurned }: Recount): readonly PlanCommand[] {
  const first = crossing.track === track ? to(crossing.stationMm) : null
  const second = crossing.other === track ? to(crossing.otherStationMm) : null
  if (first === null && second === null) return []
  const change = {
    ...(first === null ? {} : { ...first, ...(isTurned === true ? { slip: slipReversed(crossing.slip) } : {}) }),
    ...(second === null ? {} : { other: second.track, otherStationMm: second.stationMm }),
  }
  return [{ kind: 'crossing.set', id: crossing.id, change }]
}

function slipReversed(slip: SlipChoice): SlipChoice {
  if (slip === 'single-left') return 'single-right'
  return slip === 'single-right' ? 'single-left' : slip
}

/** Null: it is not taken on this track, or where nothing changes. A length along it that would run over to another track stays as it is. */
function readingRecounted(of: ReadingOf, track: Id, to: Recount['to']): ReadingOf | null {
  if (!('track' in of) || of.track !== track) return null
  if (of.kind !== 'along') {
    const place = to(of.stationMm)
    return place === null ? null : { ...of, ...place }
  }
  const from = to(of.fromMm)
  const until = to(of.toMm)
  if (from === null || until === null || from.track !== until.track) return null
  return { ...of, track: from.track, fromMm: from.stationMm, toMm: until.stationMm }
}
