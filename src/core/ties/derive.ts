import type { Derived } from '../pipeline/types.ts'
import { tieOf } from '../plan/index.ts'
import type { Id } from '../plan/types.ts'
import { tieJigOf } from './jig.ts'
import { tieListOf } from './list.ts'
import { crossingTieSet, isOwnLength, jointSpacingOf, plainTieSet, tieStretches, turnoutTieSet } from './sets.ts'
import { tapeBatches } from './tape.ts'
import type { JointStations, TapeBatch, TieJig, TieProblem, TieSet, TieWork } from './types.ts'

const noJoints: JointStations = new Map()

/**
 * All ties of a plan: where each lies, the list for the saw, jigs by class and what is taped in them.
 *
 * Ties are those of the trackwork; beside rail joints they are closed up where the class asks for it. Strips are taped before that: ties at joints
 * are slid by hand.
 *
 * Outcome: everything that can be told beside the problems. Never throws.
 */
export function tiesOf(derived: Derived, joints: JointStations = noJoints): TieWork {
  const { plan, network, trackwork } = derived
  const sets: TieSet[] = []
  const batches: TapeBatch[] = []
  const jigs = new Map<Id, TieJig>()
  const problems = new Map<string, TieProblem>()
  const tell = (problem: TieProblem): void => void problems.set(JSON.stringify(problem), problem)
  for (const [id, plain] of trackwork.tracks) {
    const track = network.tracks.get(id)
    if (!track || plain.ties.length === 0) continue
    const { lineClass } = track
    const size = tieOf(lineClass, plan.railway)
    const spacing = jointSpacingOf(track, size)
    const isBad = spacing !== null && typeof spacing === 'object'
    if (isBad) tell(spacing.problem)
    if (lineClass.tieSpacingMm <= size.widthMm) {
      tell({ kind: 'badSpacing', lineClass: lineClass.id, value: lineClass.tieSpacingMm, leastMm: size.widthMm })
    }
    sets.push(plainTieSet(plain, track, size, isBad ? null : spacing, joints))
    const jig = jigs.get(lineClass.id) ?? tieJigOf(lineClass.id, size, lineClass.tieSpacingMm)
    jigs.set(lineClass.id, jig)
    // Ties that give way are cut and laid one by one.
    const whole = tieStretches(plain.ties, lineClass.tieSpacingMm, size.lengthMm).filter(
      ([first]) => first !== undefined && isOwnLength(first, size.lengthMm),
    )
    batches.push(...tapeBatches(track, whole, jig))
  }
  for (const [id, work] of trackwork.turnouts) {
    const turnout = network.turnouts.get(id)
    if (turnout && work.ties.length > 0) sets.push(turnoutTieSet(derived, work, turnout))
  }
  for (const work of trackwork.crossings.values()) if (work.ties.length > 0) sets.push(crossingTieSet(derived, work))
  return { sets, list: tieListOf(sets), batches, jigs: [...jigs.values()], problems: [...problems.values()] }
}
