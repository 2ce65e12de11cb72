import { fairRounds, traverseSolve } from '../core/alignment/index.ts'
import type {
  CorridorNear,
  CorridorParting,
  FairBind,
  FairBound,
  FairCorner,
  FairMeasure,
  FairProblem,
  FairProgress,
  FairSolution,
  FairWish,
  LinearSolve,
} from '../core/alignment/index.ts'
import type { PlanCommand } from '../core/edit/types.ts'
import { pathNearest } from '../core/geom/index.ts'
import type { Derived, FairOptions, FairPlanProblem } from '../core/pipeline/index.ts'
import { fairRequest } from '../core/pipeline/index.ts'
import type { Corner, Id } from '../core/plan/types.ts'

export type TrackFairAnswer =
  | {
      readonly ok: true
      readonly track: Id
      /** All that changes in the plan, as one step of the person; its commands are none when the line was as good as it gets. */
      readonly command: PlanCommand & { readonly kind: 'group' }
      readonly before: FairMeasure
      readonly after: FairMeasure
      readonly binds: readonly FairBind[]
      readonly bound: FairBound | null
      /** Where the line was nearer to something than asked; it has come no nearer. */
      readonly near: readonly CorridorNear[]
      /** Where no line between the two ends can keep the margin; null: nowhere. */
      readonly parting: CorridorParting | null
      readonly rounds: number
      readonly ended: FairSolution['ended']
    }
  | { readonly ok: false; readonly problem: FairPlanProblem | FairProblem }

/** Easing a track of a plan, round by round; see fairRequest and fairRounds. */
export function* trackFairRounds(
  derived: Derived,
  track: Id,
  options: FairOptions,
  solve: LinearSolve,
): Generator<FairProgress, TrackFairAnswer, FairWish> {
  const asked = fairRequest(derived, track, options)
  if (!asked.ok) return asked
  const answer = yield* fairRounds(asked.request, solve)
  if (!answer.ok) return answer
  const { before, after, binds, bound, rounds, ended } = answer.fair
  return {
    ok: true,
    track,
    command: fairCommand(derived, track, answer.fair),
    before,
    after,
    binds,
    bound,
    near: asked.near,
    parting: asked.parting,
    rounds,
    ended,
  }
}

/** The commands that make a track's record what easing found; turnouts on it get the stations of their places on the new line. */
function fairCommand({ plan, network }: Derived, id: Id, fair: FairSolution): PlanCommand & { readonly kind: 'group' } {
  const commands: PlanCommand[] = []
  const track = plan.tracks[id]
  const usualMm = network.tracks.get(id)?.lineClass.usualRadiusMm ?? Number.NaN
  const kept = new Set(fair.corners.map((corner) => corner.id))
  for (const corner of track?.corners ?? [])
    if (!kept.has(corner.id)) commands.push({ kind: 'corner.remove', track: id, corner: corner.id })
  for (const [index, eased] of fair.corners.entries()) {
    const { id: corner, x, y, easementIn, easementOut } = eased
    const change: Omit<Corner, 'id'> = { x, y, radius: eased.radiusMm ?? 'easement-only', easementIn, easementOut }
    const before = track?.corners.find((one) => one.id === corner)
    if (corner === null) commands.push({ kind: 'corner.insert', track: id, index, corner: change })
    else if (!isSame(before, eased, usualMm)) commands.push({ kind: 'corner.set', track: id, corner, change })
  }
  const alignment = traverseSolve(fair.traverse)
  for (const { turnout, result } of commands.length > 0 ? (network.turnoutsOn.get(id) ?? []) : []) {
    if (!result.ok || !alignment.ok) continue
    const { stationMm } = pathNearest(alignment.path, result.pose)
    commands.push({ kind: 'turnout.set', id: turnout.id, change: { stationMm } })
  }
  return { kind: 'group', label: `Ease ${track?.name === '' ? id : (track?.name ?? id)}`, commands }
}

/** What easing left where it was keeps its record, and a radius by class stays by class. */
function isSame(corner: Corner | undefined, eased: FairCorner, usualRadiusMm: number): boolean {
  if (corner === undefined || typeof corner.radius === 'object') return false
  const isStill = Math.hypot(corner.x - eased.x, corner.y - eased.y) < SAME_MM
  if (corner.radius === 'easement-only' || eased.radiusMm === null) return isStill && corner.easementIn === eased.easementIn
  return isStill && Math.abs((corner.radius === 'class' ? usualRadiusMm : corner.radius) - eased.radiusMm) < SAME_MM
}

/** Rounding of a PI or a radius written down anew, mm. */
const SAME_MM = 1e-6
