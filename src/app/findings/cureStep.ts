import { cureChange } from '../../core/checks/cornerCure.ts'
import type { Cure } from '../../core/checks/types.ts'
import { editApply, patchApply } from '../../core/edit/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { pathLine, pathMove } from '../../core/geom/index.ts'
import type { Path } from '../../core/geom/types.ts'
import { makerExpand } from '../../core/makers/index.ts'
import { networkCreateDeriver } from '../../core/network/index.ts'
import type { Network, NetworkTurnout } from '../../core/network/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { makersFollowing } from '../../store/index.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { makerProblemText } from '../../words/makerText.ts'
import { editProblemText } from '../../words/problemText.ts'

/** The step that a cure stands for, and what the plan would be after it; or what hinders it, in words. */
export type CureStep =
  | { readonly ok: true; readonly command: PlanCommand; readonly after: Plan; readonly paths: readonly Path[] }
  | { readonly ok: false; readonly problem: string }

/** Works out a cure on the plan as it is, with all that follows of itself. paths: the lines that would be others. */
export function cureStep(plan: Plan, network: Network, cure: Cure, prefs: MeasurePrefs): CureStep {
  const asked = cureCommand(plan, network, cure, prefs)
  if (typeof asked === 'string') return { ok: false, problem: asked }
  const result = editApply(plan, asked)
  if (!result.ok) return { ok: false, problem: editProblemText(result.problem, plan) }
  const after = patchApply(plan, makersFollowing()(plan, result.patch))
  return { ok: true, command: asked, after, paths: pathsChanged(plan, after) }
}

/** The command of a cure; a string says why there is none. */
function cureCommand(plan: Plan, network: Network, cure: Cure, prefs: MeasurePrefs): PlanCommand | string {
  switch (cure.kind) {
    case 'setRadius':
    case 'scaleEasements':
    case 'easementsMeet':
      return { kind: 'corner.set', track: cure.track, corner: cure.corner, change: cureChange(cure) }
    case 'setFrog':
      return { kind: 'turnout.set', id: cure.turnout, change: { frog: cure.frog } }
    case 'moveTurnout':
      return { kind: 'turnout.set', id: cure.turnout, change: { stationMm: cure.stationMm } }
    case 'hangDoor':
      return { kind: 'opening.set', id: cure.opening, change: { leaf: cure.leaf } }
    case 'growHatch':
      return { kind: 'hatch.set', id: cure.hatch, change: { outline: cure.outline } }
    case 'setNumbers': {
      const maker = recordFind(plan, 'makers', cure.maker)
      if (maker === null) return 'What it was made by is no longer there.'
      // Other numbers of a maker write all that it makes.
      const result = makerExpand(plan, network, { ...maker, numbers: cure.numbers })
      return result.ok ? result.command : makerProblemText(result.problem, plan, prefs)
    }
  }
}

function pathsChanged(before: Plan, after: Plan): readonly Path[] {
  const networkOf = networkCreateDeriver()
  const [was, is] = [networkOf(before), networkOf(after)]
  const tracks = [...is.tracks].flatMap(([id, track]) => (track !== was.tracks.get(id) && track.alignment.ok ? [track.alignment.path] : []))
  const turnouts = [...is.turnouts].flatMap(([id, turnout]) => (turnout === was.turnouts.get(id) ? [] : routePaths(turnout)))
  return [...tracks, ...turnouts, ...hatchEdges(before, after)]
}

function hatchEdges(before: Plan, after: Plan): readonly Path[] {
  const changed = Object.values(after.hatches).filter((hatch) => hatch !== recordFind(before, 'hatches', hatch.id))
  return changed.flatMap(({ outline }) =>
    outline.flatMap((to, i) => {
      const from = outline.at(i - 1)
      return from === undefined ? [] : [pathLine(from, to)]
    }),
  )
}

/** The routes of a turnout that leave its track, in the plan. */
function routePaths({ result }: NetworkTurnout): readonly Path[] {
  if (!result.ok) return []
  const { geometry, pose } = result
  return geometry.routes.filter(({ name }) => name !== 'straight').map(({ centre }) => pathMove(centre, pose))
}
