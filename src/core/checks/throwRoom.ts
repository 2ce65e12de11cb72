import type { Point } from '../geom/types.ts'
import { joistsInRoom, stationOffJoists } from '../network/index.ts'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, Joist, Table } from '../plan/types.ts'
import { crossingThrowZones, throwZonesOf } from '../turnout/index.ts'
import { moveCure } from './turnoutFaults.ts'
import type { Cure, Finding } from './types.ts'
import { crossingWork, turnoutWork, workFinding } from './workFinding.ts'
import type { FoundWork } from './workFinding.ts'

/** Cures are given to a tenth of a millimetre. */
const onStep = (stationMm: number): number => Number(stationMm.toFixed(1))

/**
 * Joists and risers that cross the room which a switch machine of the usual size needs below a turnout's throw bars. The cure moves the
 * turnout along its track to the nearest place where it hangs clear of all of them.
 */
export function throwRoomOfTurnout(placed: NetworkTurnout, host: NetworkTrack | null, joists: Table<Joist>): readonly Finding[] {
  const { turnout, result } = placed
  const all = Object.values(joists)
  if (!result.ok || all.length === 0) return []
  const { pose, geometry } = result
  const crossed = joistsInRoom(throwZonesOf(geometry), pose, all)
  if (crossed.length === 0) return []
  const free =
    host?.alignment.ok === true ? onStep(stationOffJoists(placed, host.alignment.path, turnout.stationMm, all)) : turnout.stationMm
  const cure = host === null || Math.abs(free - turnout.stationMm) < 0.05 ? null : moveCure(turnout, host, free)
  return crossed.map((joist) => joistFinding(turnoutWork(turnout), pose, joist.id, cure))
}

/** The same of the throw bars of a crossing's slips; a crossing cannot be moved alone. */
export function throwRoomOfCrossing(crossing: NetworkCrossing, joists: Table<Joist>): readonly Finding[] {
  const { pose, result } = crossing
  const all = Object.values(joists)
  if (!result.ok || all.length === 0 || result.crossing.slips.length === 0) return []
  return joistsInRoom(crossingThrowZones(result.crossing), pose, all).map((joist) =>
    joistFinding(crossingWork(crossing), pose, joist.id, null),
  )
}

function joistFinding(work: FoundWork, at: Point, joist: Id, cure: Cure | null): Finding {
  return workFinding(work, at, {
    id: `throw-room:${work.record}:${joist}`,
    rule: 'throw-room',
    severity: 'warning',
    source: 'railway',
    problem: { kind: 'joistUnderThrow', joist },
    cure,
  })
}
