import type { JoinAlternative, JoinCorner } from '../../core/alignment/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { turnoutAtPlace } from '../../core/network/index.ts'
import type { JoinLine, JoinTo, PosedEnd } from '../../core/pipeline/index.ts'
import { makerOf, planNextId } from '../../core/plan/index.ts'
import type { Corner, Id, LegEnd, LineClass, Plan, Track, TrackEnd } from '../../core/plan/types.ts'
import { nextName } from '../../tools/index.ts'

/** The join as one step, and the track that it is of. A free end of a track runs on; from a leg, or in another class, the line is a track of its own. */
export function joinCommand(
  plan: Plan,
  from: PosedEnd,
  to: JoinTo,
  { line, place }: Pick<JoinLine, 'line' | 'place'>,
  lineClass: LineClass,
): { readonly command: PlanCommand; readonly track: Id } {
  const turnout = planNextId(plan, 'turnouts')
  const placed: readonly PlanCommand[] =
    to.kind !== 'onTrack' || place === null
      ? []
      : [
          {
            kind: 'turnout.add',
            record: turnoutAtPlace(place, line.stationMm ?? place.fromMm, {
              id: turnout,
              name: nextName('Turnout', Object.values(plan.turnouts)),
            }),
          },
        ]
  const legOf: LegEnd = { kind: 'leg', turnout, leg: 'diverging' }
  const arrives: Exclude<TrackEnd, { kind: 'closed' }> =
    to.kind === 'leg' ? to : to.kind === 'onTrack' ? legOf : { kind: 'free', x: line.end.x, y: line.end.y }
  const runsOn = trackRunningOn(plan, from, lineClass)
  const commands = lineCommands(plan, from, runsOn, to, line, lineClass, arrives)
  return { command: { kind: 'group', label: 'Join', commands: [...placed, ...commands] }, track: runsOn?.id ?? planNextId(plan, 'tracks') }
}

/** The track whose free end it is, if the line is of the same class and may become a part of it. */
function trackRunningOn(plan: Plan, { end }: PosedEnd, lineClass: LineClass): Track | null {
  const track = end.kind === 'trackEnd' ? plan.tracks[end.track] : undefined
  return track !== undefined && track.lineClass === lineClass.id && makerOf(plan, 'tracks', track.id) === null ? track : null
}

function lineCommands(
  plan: Plan,
  { end, pose }: PosedEnd,
  track: Track | null,
  to: JoinTo,
  line: JoinAlternative,
  lineClass: LineClass,
  arrives: Exclude<TrackEnd, { kind: 'closed' }>,
): readonly PlanCommand[] {
  if (track === null || end.kind === 'leg') {
    const start = end.kind === 'leg' ? end : ({ kind: 'free', x: pose.x, y: pose.y } as const)
    const name = nextName('Track', Object.values(plan.tracks))
    const record = {
      id: planNextId(plan, 'tracks'),
      name,
      lineClass: lineClass.id,
      start,
      corners: line.corners.map((corner) => ({ id: corner.id, ...cornerOf(corner) })),
      end: arrives,
    }
    return [{ kind: 'track.add', record }]
  }
  const id = track.id
  const closes = to.kind === 'trackEnd' && to.track === id
  if (end.end === 'end') {
    return [
      ...line.corners.map(
        (corner, i): PlanCommand => ({ kind: 'corner.insert', track: id, index: track.corners.length + i, corner: cornerOf(corner) }),
      ),
      { kind: 'track.setEnd', id, end: closes ? { kind: 'closed' } : arrives },
    ]
  }
  // Before the start the line is met the other way round, and all stations rise by its length; a loop keeps its station zero.
  const before = line.corners.map((corner): PlanCommand => {
    const { easementIn, easementOut, ...rest } = cornerOf(corner)
    return {
      kind: 'corner.insert',
      track: id,
      index: closes ? track.corners.length : 0,
      corner: { ...rest, easementIn: easementOut, easementOut: easementIn },
    }
  })
  const turnouts = Object.values(plan.turnouts).filter((turnout) => turnout.track === id)
  return [
    ...before,
    closes ? { kind: 'track.setEnd', id, end: { kind: 'closed' } } : { kind: 'track.setStart', id, start: arrives },
    ...turnouts.map(
      (turnout): PlanCommand => ({
        kind: 'turnout.set',
        id: turnout.id,
        change: { stationMm: turnout.stationMm + (closes ? 0 : line.lengthMm) },
      }),
    ),
  ]
}

function cornerOf({ x, y, radiusMm, easementInMm, easementOutMm }: JoinCorner): Omit<Corner, 'id'> {
  return { x, y, radius: radiusMm, easementIn: easementInMm, easementOut: easementOutMm }
}
