import type { RuleName } from '../../core/checks/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { useDerived } from '../context.ts'

/** Why a rule is left be at a corner of a track; null: it is not. */
export function useLeftBe(rule: RuleName, track: Id, corner: Id): string | null {
  return useDerived(
    ({ silenced }) =>
      silenced.find(({ finding }) => finding.rule === rule && finding.record === track && finding.corner === corner)?.silence.reason ??
      null,
  )
}
