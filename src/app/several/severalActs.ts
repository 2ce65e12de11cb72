import type { PlanCommand } from '../../core/edit/types.ts'
import { lockOf } from '../../core/edit/index.ts'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import {
  stretchConnected,
  stretchCopy,
  stretchMove,
  motionShift,
  stretchPoints,
  type Member,
  type Motion,
} from '../../core/stretch/index.ts'
import { frameMiddle, severalFrame, withReadings } from '../../tools/index.ts'
import { selectionMembers, selectionOfMembers } from '../../store/selection.ts'
import type { StageName } from '../../store/types.ts'
import { membersName } from '../../words/names.ts'
import { stretchProblemText } from '../../words/stretchText.ts'
import { poseFinder } from '../commands/selectionRemove.ts'
import type { Stores } from '../context.ts'
import { planEdit } from '../planEdit.ts'

/** Does a rigid motion to what is selected, as one step. What is wrong stands in the notice line. */
export function selectedMove(stores: Stores, motion: Motion, verb: 'Move' | 'Turn' | 'Mirror'): string | null {
  const { plan } = stores.plan.getState()
  const { derived } = stores.derived.getState()
  const members = withReadings(selectionMembers(stores.session.getState().selection), { plan, derived })
  const result = stretchMove(plan, members, motion)
  if (!result.ok) return told(stores, stretchProblemText(result.problem, plan))
  return planEdit(stores, { kind: 'group', label: `${verb} ${membersName(plan, members)}`, commands: result.commands }).problem
}

/** Lays a second one of what is selected; it becomes the selection. */
export function selectedCopy(stores: Stores, motion: Motion): string | null {
  const { plan } = stores.plan.getState()
  const members = selectionMembers(stores.session.getState().selection)
  const result = stretchCopy(plan, members, motion, poseFinder(stores))
  if (!result.ok) return told(stores, stretchProblemText(result.problem, plan))
  const { problem } = planEdit(stores, {
    kind: 'group',
    label: `Lay a second one of ${membersName(plan, members)}`,
    commands: result.commands,
  })
  if (problem === null) stores.session.getState().select(selectionOfMembers(result.members))
  return problem
}

/** Lays a second one a hand's breadth beside the first. */
export function selectedCopyBeside(stores: Stores): void {
  selectedCopy(stores, motionShift({ x: 100, y: -100 }))
}

function told(stores: Stores, words: string): string {
  stores.session.getState().setNotice(words)
  return words
}

/** What turns and mirrors go about: the middle of all that is selected. */
export function selectedMiddle(stores: Stores): Point | null {
  const { plan } = stores.plan.getState()
  const members = selectionMembers(stores.session.getState().selection)
  const { derived } = stores.derived.getState()
  const frame = severalFrame({ plan, derived, selection: { kind: 'several', members } }) ?? boxOfPoints(stretchPoints(plan, members))
  return frame === null ? null : frameMiddle(frame)
}

const ofStage = (stage: StageName): readonly ('benchworks' | 'walls' | 'obstacles' | 'hatches' | 'joists' | 'tracks')[] =>
  stage === 'room' ? ['benchworks', 'walls', 'obstacles', 'hatches', 'joists'] : ['tracks']

/** Selects all that the stage at hand is about: things of the room, or tracks. */
export function stageSelect(stores: Stores): void {
  const { plan } = stores.plan.getState()
  const session = stores.session.getState()
  session.setTool('select')
  session.select(selectionOfMembers(ofStage(session.stage).flatMap((table) => Object.keys(plan[table]).map((id) => ({ table, id })))))
}

/** The selection with all tracks that are joined to it by turnouts and makers. */
export function connectedSelect(stores: Stores): void {
  const { plan } = stores.plan.getState()
  const session = stores.session.getState()
  const members = selectionMembers(session.selection)
  const tracks = members.flatMap(({ table, id }) => (table === 'tracks' ? [id] : table === 'turnouts' ? trackOf(plan, id) : []))
  const others = members.filter(({ table }) => table !== 'tracks' && table !== 'turnouts')
  session.select(selectionOfMembers([...others, ...tracks.flatMap((id) => stretchConnected(plan, id))]))
}

const trackOf = (plan: Plan, turnout: string): readonly string[] => {
  const record = plan.turnouts[turnout]
  return record === undefined ? [] : [record.track]
}

/** Whether all of these are locked. */
export function areLocked(plan: Plan, members: readonly Member[]): boolean {
  return members.length > 0 && members.every(({ table, id }) => lockOf(plan, table, id) !== null)
}

/** Locks what is selected, or unlocks it where all of it is locked. */
export function selectedLock(stores: Stores): void {
  const { plan } = stores.plan.getState()
  const members = selectionMembers(stores.session.getState().selection)
  const isUnlock = areLocked(plan, members)
  const commands = members.flatMap(({ table, id }): readonly PlanCommand[] => {
    const lock = lockOf(plan, table, id)
    if (isUnlock) return lock === null ? [] : [{ kind: 'remove', table: 'locks', id: lock.id }]
    return lock === null ? [{ kind: 'lock.add', record: { table, record: id } }] : []
  })
  const [first] = commands
  if (first !== undefined)
    planEdit(
      stores,
      commands.length === 1 ? first : { kind: 'group', label: `${isUnlock ? 'Unlock' : 'Lock'} ${membersName(plan, members)}`, commands },
    )
}
