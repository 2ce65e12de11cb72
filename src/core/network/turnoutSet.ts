import type { CurveElement } from '../geom/types.ts'
import type { Turnout } from '../plan/types.ts'
import { turnoutRequest, turnoutSolve, turnoutSolveKept } from '../turnout/index.ts'
import type { TurnoutResult } from '../turnout/types.ts'
import { hostLine, localLine, localLineEquals, localLineIsStraight } from './localLine.ts'
import type { LocalLine, Reach, SolvedAlignment } from './localLine.ts'
import { turnoutPlace, wyeEndProblem } from './placement.ts'
import type { NetworkTrack, NetworkTurnout } from './types.ts'

/** A turnout that ends this much outside a straight still lies on it: rounding of stations, far below what can be laid. */
const slackMm = 1e-6

/** On a bent host frog and last long tie lie farther on than on a straight one: looked at is as much more, and gauges beyond. */
const bentReach = 1.6
const spareGauges = 8

/** A turnout solved for its host. */
export interface SolvedTurnout {
  /** As on a straight: what it is on one, and how much of the host must be looked at. */
  readonly straight: TurnoutResult
  /** The host's line where it bends under the turnout; null: straight as far as the turnout reaches. */
  readonly line: LocalLine | null
  readonly result: TurnoutResult
}

/**
 * A turnout solved for the host as it bends at its place. `before`: the same turnout as it was solved last, its host then maybe
 * another: what is still right of it is taken over.
 */
export function turnoutSolveOn(turnout: Turnout, host: NetworkTrack, before: SolvedTurnout | null): SolvedTurnout {
  const request = turnoutRequest(host.railway, host.lineClass, turnout)
  const straight = before ? before.straight : turnoutSolveKept(request)
  const line = host.alignment.ok ? bentLine(turnout, host.alignment, straight, request.gaugeMm) : null
  if (line === null) return { straight, line, result: straight }
  if (before && localLineEquals(before.line, line)) return { straight, line: before.line, result: before.result }
  return { straight, line, result: turnoutSolve({ ...request, host: hostLine(line) }) }
}

/** The host about the points if it bends within what the turnout takes; null: it does not, or the turnout cannot be built at all. */
function bentLine(turnout: Turnout, alignment: SolvedAlignment, straight: TurnoutResult, gaugeMm: number): LocalLine | null {
  const { stationMm, facing } = turnout
  const isOnTrack = stationMm >= 0 && stationMm <= alignment.path.lengthMm
  if (!straight.ok || !isOnTrack) return null
  const { extent } = straight.turnout
  const isWye = turnout.kind.kind === 'wye'
  const taken: Reach = {
    aheadMm: Math.max(0, -extent.fromMm - slackMm),
    // A wye takes nothing of its track behind its points.
    behindMm: isWye ? 0 : Math.max(0, extent.toMm - slackMm),
  }
  if (localLineIsStraight(localLine(alignment, stationMm, facing, taken))) return null
  const spareMm = spareGauges * gaugeMm
  const reach: Reach = { aheadMm: taken.aheadMm * bentReach + spareMm, behindMm: taken.behindMm * bentReach + spareMm }
  return lineRunOn(localLine(alignment, stationMm, facing, reach), reach)
}

/** The line made as long as looked at: where its track ends it runs straight on, so that it can be told by how much the turnout runs off. */
function lineRunOn({ elements, atMm }: LocalLine, { aheadMm, behindMm }: Reach): LocalLine {
  const lengthMm = elements.reduce((sum, element) => sum + element.lengthMm, 0)
  const straight = (missingMm: number): readonly CurveElement[] => (missingMm > slackMm ? [{ lengthMm: missingMm, k0: 0, k1: 0 }] : [])
  const before = straight(aheadMm - atMm)
  return {
    elements: [...before, ...elements, ...straight(behindMm - (lengthMm - atMm))],
    atMm: before.length > 0 ? aheadMm : atMm,
  }
}

/** A turnout set on a host, from scratch: what the network would hold of it. */
export function turnoutSet(turnout: Turnout, host: NetworkTrack): NetworkTurnout['result'] {
  return turnoutResult(turnout, turnoutSolveOn(turnout, host, null), host)
}

export function turnoutResult(turnout: Turnout, solved: SolvedTurnout | null, host: NetworkTrack | null): NetworkTurnout['result'] {
  if (host === null || solved === null) return { ok: false, problem: { kind: 'hostMissing' }, geometry: null, pose: null }
  const { result } = solved
  // A wye away from its track's end is told so, before what the track does under it there.
  const problem = wyeEndProblem(turnout, host)
  if (!result.ok) return { ok: false, problem: problem ?? { kind: 'geometry', problem: result.problem }, geometry: null, pose: null }
  if (!host.alignment.ok) return { ok: false, problem: { kind: 'hostUnsolved' }, geometry: result.turnout, pose: null }
  return turnoutPlace(turnout, result.turnout, host)
}
