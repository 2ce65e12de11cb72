import { pathPoseAt } from '../../core/geom/index.ts'
import type { Path } from '../../core/geom/types.ts'
import { stationOffJoists, turnoutRoom } from '../../core/network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../../core/network/types.ts'
import type { Turnout } from '../../core/plan/types.ts'
import { pickToleranceMm } from '../shared/pick.ts'
import { wholeOf, wholeStepMm } from '../shared/snap.ts'
import type { Modifiers, Snap, SnapKind, ToolContext } from '../types.ts'

/** Where a turnout comes to lie on its host, and what drew it there. */
export interface Slide {
  readonly stationMm: number
  readonly snap: Snap | null
}

/**
 * A turnout slid along its host to a station: drawn to where it just touches a neighbour, to where a curve of the host begins or ends, to
 * where plain ties come out at their even spacing; else to whole steps. Where its machine would hang under a joist and a place beside it is
 * near, it goes there.
 *
 * With Alt it lies where the hand is. Stations beyond the track are held to its ends.
 */
export function turnoutSlide(id: string, host: NetworkTrack, toMm: number, modifiers: Modifiers, context: ToolContext): Slide {
  const { alignment } = host
  if (!alignment.ok) return { stationMm: toMm, snap: null }
  const { path } = alignment
  const held = Math.min(Math.max(toMm, 0), path.lengthMm)
  const placed = context.derived.network.turnouts.get(id)
  if (modifiers.alt || placed === undefined) return { stationMm: held, snap: null }
  const toleranceMm = pickToleranceMm(context)
  const drawn = stopsOf(placed, host, held, toleranceMm, context)
    .filter(({ stationMm, withinMm }) => stationMm >= 0 && stationMm <= path.lengthMm && Math.abs(stationMm - held) <= withinMm)
    .toSorted((a, b) => order[a.kind] - order[b.kind] || Math.abs(a.stationMm - held) - Math.abs(b.stationMm - held))[0]
  const step = wholeStepMm(context.pxPerMm, context.units)
  const whole = step === null ? held : Math.min(Math.max(wholeOf(held, step), 0), path.lengthMm)
  const at = drawn ?? { kind: 'whole', stationMm: whole }
  const free = stationOffJoists(placed, path, at.stationMm, Object.values(context.plan.joists))
  return free === at.stationMm
    ? { stationMm: at.stationMm, snap: drawn ? snapAt(path, drawn.kind, drawn.stationMm, held) : null }
    : { stationMm: free, snap: snapAt(path, 'offJoist', free, held) }
}

interface Stop {
  readonly kind: Extract<SnapKind, 'touches' | 'curveEnd' | 'evenTies'>
  readonly stationMm: number
  /** From how far it draws. */
  readonly withinMm: number
}

/** Ties lie so close that they would draw everywhere: they do from so much of their spacing, and whole steps have the rest. */
const tiePullShare = 0.25

const order = { touches: 0, curveEnd: 1, evenTies: 2 } as const

function stopsOf(
  placed: NetworkTurnout,
  host: NetworkTrack,
  nearMm: number,
  toleranceMm: number,
  { derived }: ToolContext,
): readonly Stop[] {
  const { alignment, lineClass } = host
  if (!alignment.ok) return []
  const room = turnoutRoom(derived.network, placed)
  const touches = room === null ? [] : [room.fromMm, room.toMm]
  const curveEnds = alignment.corners.flatMap(({ tsMm, scMm, csMm, stMm }) => [tsMm, scMm, csMm, stMm])
  const spacing = lineClass.tieSpacingMm
  const tie = tieBefore(placed, host, derived)
  const evenMm = tie === null ? null : tie + Math.round((nearMm - tie) / spacing) * spacing
  return [
    ...touches.map((stationMm): Stop => ({ kind: 'touches', stationMm, withinMm: toleranceMm })),
    ...curveEnds.map((stationMm): Stop => ({ kind: 'curveEnd', stationMm, withinMm: toleranceMm })),
    ...(evenMm === null ? [] : [{ kind: 'evenTies', stationMm: evenMm, withinMm: Math.min(toleranceMm, tiePullShare * spacing) } as const]),
  ]
}

/**
 * A station of PS from which whole tie spacings lead to others at which the plain ties between this turnout and what comes before it
 * are spaced as its class asks: half a spacing from an open end, or a spacing from the last long tie of the turnout before.
 */
function tieBefore(
  { turnout, result }: NetworkTurnout,
  { track, alignment, lineClass }: NetworkTrack,
  { network }: ToolContext['derived'],
): number | null {
  if (!result.ok || !alignment.ok) return null
  const ends = (
    { facing, stationMm }: Pick<Turnout, 'facing' | 'stationMm'>,
    ties: readonly { readonly stationMm: number }[],
  ): readonly [number, number] => {
    const stations = ties.map((tie) => (facing === 'rising' ? stationMm + tie.stationMm : stationMm - tie.stationMm))
    return [Math.min(...stations), Math.max(...stations)]
  }
  const [firstMm] = ends(turnout, result.geometry.ties)
  const before = (network.turnoutsOn.get(track.id) ?? []).flatMap((one) => {
    if (one.turnout.id === turnout.id || !one.result.ok) return []
    const [, lastMm] = ends(one.turnout, one.result.geometry.ties)
    return lastMm < firstMm ? [lastMm] : []
  })
  if (before.length === 0 && (alignment.isClosed || track.start.kind === 'leg')) return null
  return (before.length === 0 ? -lineClass.tieSpacingMm / 2 : Math.max(...before)) + turnout.stationMm - firstMm
}

function snapAt(path: Path, kind: SnapKind, stationMm: number, fromMm: number): Snap {
  const { x, y } = pathPoseAt(path, stationMm)
  return { kind, point: { x, y }, distanceMm: Math.abs(stationMm - fromMm), guide: null, leg: null }
}
