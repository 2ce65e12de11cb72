import type { ReactNode } from 'react'
import { carsOnRoom, standingLength } from '../../core/clearance/index.ts'
import type { StandingBound } from '../../core/clearance/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { recordName } from '../../words/names.ts'
import { roomLengthText } from '../../words/runningText.ts'
import { usePlan, usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'

/** Where cars can stand on a track without being in anybody's way, and how many of the worst of its class. */
export function RoomToStand({ id }: { readonly id: Id }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const rooms = useDesk((desk) => desk.standings?.rooms.get(id)) ?? []
  const cars = (plan.lineClasses[plan.tracks[id]?.lineClass ?? '']?.cars ?? []).flatMap((car) => plan.vehicles[car] ?? [])
  if (rooms.length === 0) return null
  const bound = (at: StandingBound): string => {
    if (at.kind === 'end') return at.record === undefined ? 'the end' : `the end of ${recordName(plan, 'tracks', at.record)}`
    return recordName(plan, at.kind === 'track' ? 'tracks' : 'turnouts', at.record)
  }
  return (
    <section className="fields-part" aria-label="Room to stand">
      <h3>Room to stand</h3>
      <ul className="rooms">
        {rooms.map((room) => (
          <li key={room.fromMm}>
            <strong>{roomLengthText(standingLength(room), prefs)}</strong>{' '}
            <span className="soft small">
              {`from ${bound(room.from)} to ${bound(room.to)}${room.onward === undefined ? '' : ', over the join'}`}
              {cars.map(({ id: car, name, overCouplersMm }) => (
                <span key={car}>{` · ${carsOnRoom(standingLength(room), overCouplersMm)} × ${name}`}</span>
              ))}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}
